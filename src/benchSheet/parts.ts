/** The parts list: everything to be bought, cut and set, but for the wire. */
import { hasCoil } from '../shape/hasCoil.ts';
import { formatFigure } from '../sheet/format.ts';
import type { BarMagnet, Block, CoilSteel, Magnet, PickupBuild, RowBuild, SteelBox } from '../sheet/build.ts';
import { magnetsWords } from '../sheet/magnets.ts';
import { numbered, steelNames } from '../sheet/steelWords.ts';
import type { Controls, Harness, Pickup, Pot, Sheet } from '../sheet/sheet.ts';
import { FLANGE } from '../shape/bobbin.ts';
import { standingPoles, topsOf } from '../shape/poleRow.ts';
import { differs, leftOut, poleAt, upAt } from '../shape/singlePole.ts';
import { PLATE_WORDS, PLATES } from '../shape/plates.ts';
import { mm } from './shown.ts';

type Row = readonly [part: string, what: string];

const charged = ({ grade, charge }: Magnet): string =>
  charge === 1 ? grade : `${grade}, magnetised to ${formatFigure(charge, 'charge')}`;

const TIP = { flat: '', chamfered: ', 45° × ', coned: ', cone ', domed: ', dome ' } as const;

/** Where no poles stand there is nothing to buy. */
function poleRow(row: RowBuild, name: string): Row[] {
  const { pole } = row;
  const { kind, diameter, length, tip, head } = pole;
  const tops = topsOf(standingPoles(pole));
  if (kind === 'none' || tops.length === 0) return [];
  const s = tops.length === 1 ? '' : 's';
  const steel = pole.steel ? ` of ${pole.steel}` : '';
  const what = {
    rod: `rod${s} of ${charged(pole.magnet)}`,
    slug: `steel slug${s}${steel}`,
    screw: `steel screw${s}${steel}`,
  }[kind];
  const size = `Ø ${mm(diameter)} × ${mm(length)}`;
  const top = tip.shape === 'flat' ? '' : `${TIP[tip.shape]}${mm(tip.size)}`;
  const wide = kind === 'screw' ? `, head Ø ${mm(head.diameter)} × ${mm(head.height)}` : '';
  // The lowest string first, as they stand from left to right.
  const level = tops.every((height) => height === tops[0]);
  const raised = level
    ? tops[0] === 0
      ? ''
      : `, tops at ${mm(tops[0]!)}`
    : `, tops at ${tops
        .map((height) => mm(height))
        .toReversed()
        .join(' / ')} from the bass side`;
  const single = singleWords(row);
  const out = leftOut(pole).toReversed();
  const without =
    out.length === 0 ? '' : `, none under ${out.length === 1 ? 'string' : 'strings'} ${out.join(', ')}`;
  const all = `${tops.length} ${what} ${size}${top}${wide}${raised}${without}`;
  return [[name, single === '' ? all : `${all}; but ${single}`]];
}

/** What single poles are unlike the others in: «under string 3 south up»; the lowest string first. */
function singleWords(row: RowBuild): string {
  const { pole, up } = row;
  return pole.heights
    .flatMap((_, k) => {
      if (!differs(row, k)) return [];
      const here = poleAt(pole, k);
      const other = JSON.stringify(here.magnet) !== JSON.stringify(pole.magnet);
      const sized = here.diameter !== pole.diameter || here.length !== pole.length;
      const words = [
        ...(pole.kind === 'rod' && other ? [charged(here.magnet)] : []),
        ...(sized ? [`Ø ${mm(here.diameter)} × ${mm(here.length)}`] : []),
        ...(pole.kind === 'rod' && upAt(row, k) !== up ? [`${upAt(row, k)} up`] : []),
      ];
      return [`under string ${k + 1} ${words.join(', ')}`];
    })
    .toReversed()
    .join('; ');
}

const bobbinRow = ({ window }: RowBuild, name: string): Row => [
  name,
  `straight ${mm(window.straight)}, radii ${mm(window.inner)} and ${mm(window.outer)}; wound from ${mm(-window.top)} to ${mm(-window.bottom)} below the tops’ plane; flanges ${mm(FLANGE)}`,
];

const barRow = (bar: BarMagnet, name: string): Row => [
  name,
  `${charged(bar.magnet)}, ${mm(bar.length)} × ${mm(bar.width)} × ${mm(bar.thickness)}, magnetised ${bar.direction}, north ${northOf(bar)}; ${placeOf(bar)}`,
];

function northOf({ direction, turned }: BarMagnet): string {
  if (direction === 'across the width') return `towards the ${turned ? 'saddle' : 'nut'}`;
  if (direction === 'along the length') return `towards the ${turned ? 'bass' : 'treble'} side`;
  return turned ? 'down' : 'up';
}

/** «µ 280, relaxing at 5.00 kHz». */
const coilSteelWords = ({ mu, relaxation }: CoilSteel): string =>
  [
    mu === null ? 'µ of its grade' : `µ ${formatFigure(mu, 'coilMu')}`,
    ...(relaxation === null ? [] : [`relaxing at ${formatFigure(relaxation, 'relaxation')}`]),
  ].join(', ');

const steelRow = (piece: SteelBox, name: string): Row => [
  name,
  `${piece.steel}, ${mm(piece.length)} × ${mm(piece.width)} × ${mm(piece.thickness)}; ${placeOf(piece)}`,
];

/** «upper face at −14.7, 12.0 from the middle towards the nut». */
function placeOf({ top, offset, across }: Block): string {
  const aside = (by: number, plus: string, minus: string): string =>
    by === 0 ? '' : `, ${mm(Math.abs(by))} from the middle towards the ${by > 0 ? plus : minus}`;
  return `upper face at ${mm(top)}${aside(offset, 'nut', 'saddle')}${aside(across, 'treble side', 'bass side')}`;
}

function buildRows(pickup: Pickup, build: PickupBuild, blocks: number): Row[] {
  const two = build.rows.length === 2;
  const names = steelNames(
    build,
    pickup.rows.map(({ offset }) => offset),
  );
  return [
    ...build.rows.flatMap((row, r): Row[] => {
      const of = two ? ` ${r + 1}` : '';
      const poles = poleRow(row, `poles${of}`);
      return hasCoil(build) ? [...poles, bobbinRow(row, `bobbin${of}`)] : poles;
    }),
    ...build.bars.slice(0, blocks).map((bar, i) => barRow(bar, numbered('bar magnet', i, build.bars.length))),
    ...build.steel
      .slice(0, blocks)
      .map((piece, i) => steelRow(piece, numbered(`steel ${names[i]}`, i, build.steel.length))),
    ...(build.coilSteel && hasCoil(build) && blocks > 0
      ? [['steel, for the coils', coilSteelWords(build.coilSteel)] as const]
      : []),
    ...PLATES.flatMap((name): Row[] => {
      const plate = build[name];
      return plate ? [[PLATE_WORDS[name], `${plate.metal}, ${mm(plate.thickness)} thick`]] : [];
    }),
    [
      'place',
      `${mm(pickup.place)} from the saddle${pickup.slant === 0 ? '' : `, slant ${formatFigure(pickup.slant, 'slant')}`}; gaps from the tops’ plane: bass ${mm(build.gapBass)}, treble ${mm(build.gapTreble)}`,
    ],
  ];
}

const potWords = (pot: Pot): string => `${formatFigure(pot.resistance, 'potResistance')} ${pot.taper}`;

function controlRows({ volume, tone, bleed }: Controls, mark: string): Row[] {
  const rows: Row[] = [[`V${mark}`, `volume ${potWords(volume)}`]];
  if (tone)
    rows.push([`T${mark}`, `tone ${potWords(tone)}, ${formatFigure(tone.capacitance, 'toneCapacitance')}`]);
  if (bleed) {
    const { capacitance, resistance, arrangement } = bleed;
    const by =
      resistance === null ? '' : `, ${formatFigure(resistance, 'bleedResistance')} in ${arrangement}`;
    rows.push([`B${mark}`, `treble bleed ${formatFigure(capacitance, 'bleedCapacitance')}${by}`]);
  }
  return rows;
}

/** Sets that are alike share their lines. @param brief one line a set */
function harnessRows({ controls, cable, input }: Harness, brief: boolean): Row[] {
  const several = controls.length > 1;
  const alike = several && controls.every((set) => same(set, controls[0]!));
  const sets = alike
    ? controlRows(controls[0]!, ` 1–${controls.length}`)
    : controls.flatMap((set, k) => {
        const rows = controlRows(set, several ? String(k + 1) : '');
        const line: Row = [rows.map(([mark]) => mark).join(', '), rows.map(([, what]) => what).join('; ')];
        return brief ? [line] : rows;
      });
  return [
    ...sets,
    [
      'load',
      `cable ${formatFigure(cable.length, 'cableLength')} of ${formatFigure(cable.capacitancePerMetre, 'cablePerMetre')}, input ${formatFigure(input.resistance, 'inputResistance')}, ${formatFigure(input.capacitance, 'inputCapacitance')}`,
    ],
  ];
}

/** As bought: where a knob stands is no part. */
function same(a: Controls, b: Controls): boolean {
  const bought = (set: Controls): string =>
    JSON.stringify([{ ...set.volume, position: 0 }, set.tone && { ...set.tone, position: 0 }, set.bleed]);
  return bought(a) === bought(b);
}

/** @param brief controls in one line a set */
export function partsRows(sheet: Sheet, pickup: Pickup, brief = false, blocks = Infinity): readonly Row[] {
  const { build } = pickup;
  const shared = build ? magnetsWords(sheet) : '';
  return [
    ...(build
      ? buildRows(pickup, build, blocks)
      : [['build', 'not described: the coil’s figures are typed in'] as const]),
    ...(shared ? [['magnets', shared] as const] : []),
    ...harnessRows(sheet.harness, brief),
  ];
}
