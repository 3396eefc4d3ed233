/** What is computed of the coils and what meters will read, as tables. */
import type { BenchCoil, BenchFigures, Peak } from '../physics/benchFigures.ts';
import type { FigureKey } from '../sheet/figures.ts';
import { formatFigure } from '../sheet/format.ts';
import type { PickupBuild, RowBuild, Wire } from '../sheet/build.ts';
import { decibels, hertz, threeDigits } from '../sheet/shown.ts';
import type { CoilFigures, Pickup, Sheet } from '../sheet/sheet.ts';
import { noteName } from '../shape/noteNames.ts';
import { BARE_SPREAD, LEADS_SPREAD } from '../shape/selfCapacitance.ts';
import { isFitted, upAt } from '../shape/singlePole.ts';
import { stringUnderside } from '../shape/stringCourse.ts';
import { gaugeOf } from '../sheet/wireGauge.ts';
import { leadsOf } from './leads.ts';
import { READ, type Block } from './page.ts';
import { SPREAD, type PoleReadings } from './sayFollows.ts';
import { computed, mm, NONE } from './shown.ts';

type Table = Extract<Block, { kind: 'table' }>;

interface OneCoil {
  readonly pickup: Pickup;
  readonly r: number;
  readonly coil: BenchCoil;
}

const grams = (kg: number): string => threeDigits(kg * 1e3);

function wireWords(wire: Wire | undefined): string | undefined {
  if (!wire) return undefined;
  const gauge = gaugeOf(wire.conductor);
  return `${gauge === null ? `${mm(wire.conductor)} mm` : `AWG ${gauge}`}, ${wire.enamel}`;
}

/** As the circuit has it, marked where it was typed in. */
const figure =
  (of: 'resistance' | 'inductance' | 'capacitance', key: FigureKey) =>
  ({ pickup, r, coil }: OneCoil): string =>
    isTyped(pickup, r, of) ? `${formatFigure(coil.outcome[of], key)}*` : computed(coil.outcome[of], key);

const isTyped = ({ build, rows }: Pickup, r: number, of: keyof CoilFigures): boolean =>
  build !== null && rows[r]!.coil[of] !== null;

const winding = ({ pickup, r }: OneCoil): RowBuild | undefined => pickup.build?.rows[r];
const orNone = (words: string | undefined): string => words ?? NONE;

const COLUMNS: readonly (readonly [head: string, cell: (of: OneCoil) => string])[] = [
  ['turns', (of) => orNone(winding(of)?.turns.toString())],
  ['wire, enamel', (of) => orNone(wireWords(winding(of)?.wire))],
  ['length, m', ({ coil: { wire } }) => (wire ? threeDigits(wire.length) : NONE)],
  [
    'copper, + enamel, g',
    ({ coil: { wire } }) => (wire ? `${grams(wire.copper)}, ${grams(wire.copper + wire.enamel)}` : NONE),
  ],
  [
    'a turn, mm',
    ({ coil: { outcome } }) => (outcome.computed ? (1e3 * outcome.computed.meanTurn).toFixed(1) : NONE),
  ],
  ['window filled', ({ coil: { wire } }) => (wire ? `${(100 * wire.fill).toFixed(0)} %` : NONE)],
  ['wound, from above', (of) => orNone(winding(of)?.wound)],
  ['pole up', ({ coil }) => coil.up ?? NONE],
  ['start to, finish to', ({ pickup, r }) => Object.values(leadsOf(pickup, r)).join(', ')],
  ['R at 20\u00a0°C', figure('resistance', 'coilResistance')],
  ['L', figure('inductance', 'coilInductance')],
  ['C', figure('capacitance', 'coilCapacitance')],
];

/** Letters of a pickup's name that have room beside its coil's figures. */
const NAME = 18;
const short = (name: string): string => (name.length > NAME ? `${name.slice(0, NAME - 1).trim()}…` : name);

/** A line a coil, those of all pickups, or of one alone. */
export function coilTable({ pickups }: Sheet, { coils, wish }: BenchFigures, alone = false): Table {
  const all = pickups.flatMap((pickup, p) =>
    alone && p !== wish.pickup ? [] : coils[p]!.map((coil, r): OneCoil => ({ pickup, r, coil })),
  );
  const typed = all.some(({ pickup, r }) =>
    (['resistance', 'inductance', 'capacitance'] as const).some((of) => isTyped(pickup, r, of)),
  );
  return {
    kind: 'table',
    title: 'Coils',
    head: ['coil', ...COLUMNS.map(([head]) => head)],
    rows: all.map((of) => [
      of.pickup.rows.length > 1 ? `${short(of.pickup.name)} ${of.r + 1}` : short(of.pickup.name),
      ...COLUMNS.map(([, cell]) => cell(of)),
    ]),
    note: `L at low frequency, with what another coil adds; C of the bare winding.${typed ? ' * typed in, in place of what is computed.' : ''}`,
  };
}

const percent = (share: number): string => `± ${100 * share} %`;
const span = (of: readonly [number, number] | null): string =>
  of ? `${hertz(of[0]).replace(' kHz', '')} to ${hertz(of[1])}` : '';
/** «3.62 to 4.41 H». */
const bySteel = ([from, to]: readonly [number, number]): string => {
  const [low, high] = [computed(from, 'coilInductance'), computed(to, 'coilInductance')];
  const unit = / \S+$/.exec(high)?.[0] ?? '';
  return `${low.endsWith(unit) ? low.slice(0, -unit.length) : low} to ${high}`;
};
const shown = (value: number | null, key: FigureKey): string =>
  value === null ? '' : formatFigure(value, key);

/** Of the pickup at its leads: what is expected, how far that is known, and what was read or room to write it. */
export function readingTable(pickup: Pickup, figures: BenchFigures, { up }: PoleReadings): Table {
  const { wish, resistance, inductance, capacitance, steelSpan, unloaded, probed, inGuitar, coils } = figures;
  const { probe, bridge, celsius, read } = wish;
  if (resistance === null || inductance === null || capacitance === null) return compassTable(figures, up);
  const load = [
    ...(probe.resistance === null ? [] : [formatFigure(probe.resistance, 'inputResistance')]),
    formatFigure(probe.capacitance, 'inputCapacitance'),
  ].join(' ∥ ');
  const poles = (coils[wish.pickup] ?? []).map((coil) => coil.up ?? NONE).join(', ');
  const peak = (found: Peak | null): string => (found ? hertz(found.frequency) : 'no peak');
  const guitar = inGuitar
    ? `${hertz(inGuitar.frequency)}, ${decibels(inGuitar.heightDb)}, Q ${inGuitar.q.toFixed(1)}`
    : 'no peak';
  return {
    kind: 'table',
    title: 'At its leads',
    head: ['meter', 'expected', 'spread', READ],
    rows: [
      [
        `R at ${celsius}\u00a0°C`,
        computed(resistance, 'coilResistance'),
        percent(SPREAD.resistance),
        shown(read.resistance, 'coilResistance'),
      ],
      [
        `L at ${hertz(bridge)}`,
        computed(inductance, 'coilInductance'),
        steelSpan ? bySteel(steelSpan) : percent(SPREAD.inductance),
        shown(read.inductance, 'coilInductance'),
      ],
      [
        'C, no leads',
        computed(capacitance, 'coilCapacitance'),
        pickup.build ? BARE_SPREAD : '',
        shown(read.capacitance, 'coilCapacitance'),
      ],
      ['peak, bare', peak(unloaded), span(figures.unloadedSpan), ''],
      [`peak, ${load}`, peak(probed), span(figures.probedSpan), read.peak === null ? '' : hertz(read.peak)],
      ...(pickup.build ? [['compass, up', `${poles}${turnedPoles(pickup.build)}`, '', poleRead(up)]] : []),
    ],
    note: `In the guitar: ${guitar}. L in series${steelSpan ? ', its spread by the steel’s µ' : ''}. Leads and grounded metal, ${LEADS_SPREAD}, are in the peaks’ spread.`,
  };
}

/** Of two by their letters: the column is narrow. */
const poleRead = (up: PoleReadings['up']): string =>
  up.length > 1 ? up.flatMap((pole) => (pole ? [pole[0]!.toUpperCase()] : [])).join(', ') : (up[0] ?? '');

/** Of magnets and steel without a coil: which pole the strings find over each row. */
function compassTable({ strings }: BenchFigures, up: PoleReadings['up']): Table {
  const sums = (strings?.[0]?.tops ?? []).map((_, r) =>
    strings!.reduce((sum, { tops }) => sum + tops[r]!, 0),
  );
  return {
    kind: 'table',
    title: 'Compass',
    head: ['meter', 'expected', 'spread', READ],
    rows: [['compass, up', sums.map((sum) => (sum < 0 ? 'south' : 'north')).join(', '), '', poleRead(up)]],
    note: 'No coil: nothing to hear, and nothing to measure at its leads.',
  };
}

/** «; S under 3»: rods that stand the other way than their row. */
function turnedPoles({ rows }: PickupBuild): string {
  const words = rows.flatMap((row) => {
    const turned = row.pole.heights.flatMap((_, k) =>
      !isFitted(row.pole, k) || upAt(row, k) === row.up ? [] : [k + 1],
    );
    return row.pole.kind === 'rod' && turned.length > 0
      ? [`; ${row.up === 'north' ? 'S' : 'N'} under ${turned.toReversed().join(', ')}`]
      : [];
  });
  return words.join('');
}

/** Of the pickup, string by string, the lowest last as on the screen. */
export function fieldTable(
  sheet: Sheet,
  pickup: Pickup,
  { strings, wish }: BenchFigures,
  { tops }: PoleReadings,
): Table {
  const { build } = pickup;
  const rows = pickup.rows.map((_, r) => (pickup.rows.length > 1 ? `pole ${r + 1}` : 'pole'));
  return {
    kind: 'table',
    title: 'Gaps and field',
    head: ['string', 'gap', ...rows.flatMap((row) => [row, READ]), 'at string'],
    rows: sheet.instrument.strings.map(({ midi }, i) => {
      const found = strings?.[i];
      const name = `${i + 1} ${noteName(midi)}`;
      if (!build || !found) return [name, ...rows.flatMap(() => [NONE, '']), NONE, NONE];
      const under = stringUnderside(sheet.instrument, pickup, build, i + 1);
      const faces = build.rows.map(({ pole }) => pole.heights[i] ?? 0);
      return [
        name,
        faces
          .map((face) => (1e3 * (under - face)).toFixed(2))
          .filter((gap, r, all) => r === 0 || gap !== all[0])
          .join(', '),
        ...found.tops.flatMap((b, r) => [
          isFitted(build.rows[r]!.pole, i) ? `${b < 0 ? 'S' : 'N'} ${threeDigits(Math.abs(b) * 1e3)}` : NONE,
          typeof tops[r]?.[i] === 'number' ? threeDigits(tops[r][i] * 1e3) : '',
        ]),
        threeDigits(found.atString * 1e3),
      ];
    }),
    note: `mm, mT. Pole: gauss meter on it, element ${mm(wish.depth)} inside; ${percent(SPREAD.field)}.`,
  };
}
