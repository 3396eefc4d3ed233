/**
 * Steps of everything that a pickup and what it plays through consist of, each a change of the sheet that its maker could make, or
 * could fail to avoid. Pure; whether a sheet can be so is for the check to say.
 */
import { hasCoil } from '../shape/hasCoil.ts';
import { setAt, type SheetPath } from './edit.ts';
import type { FigureKey } from './figures.ts';
import { formatFigure } from './format.ts';
import type { Sheet, Spread } from './sheet.ts';

/** One of them. */
export interface Step {
  /** «turns», «poles of row 2, diameter». */
  readonly name: string;
  /** «+2 %», «+0.3 mm»: of `up`. `down` is as much the other way. */
  readonly by: string;
  readonly up: Sheet;
  readonly down: Sheet;
  /** What it is as a trial: «turns 7500 → 7650», of `up` and of `down`. */
  readonly words: readonly [up: string, down: string];
  /** Whether it may be a trial: how one plays is the same in all of them. */
  readonly trial: boolean;
}

/** m: of what is turned, cut or ground; and of a pickup along the strings. */
const CUT = 1e-4;
const PLACED = 1e-3;

/** A figure, where it stands, and its step. */
interface Moving {
  readonly name: string;
  readonly figure: FigureKey;
  readonly paths: readonly (readonly (string | number)[])[];
  /** A share of it, or an amount in SI. */
  readonly share?: number;
  readonly amount?: number;
  /** Of a figure that is left to the build. */
  readonly computed?: number;
  readonly whole?: boolean;
}

/**
 * @param pickup from 0
 * @param resistances of its coils as they are, Ω, for those that are left to the build
 */
export function stepsOf(
  sheet: Sheet,
  pickup: number,
  spread: Spread,
  resistances: readonly (number | undefined)[],
): readonly Step[] {
  const own = sheet.pickups[pickup];
  if (!own) return [];
  const all = [
    ...coilSteps(sheet, pickup, spread, resistances),
    ...buildSteps(sheet, pickup, spread),
    { name: 'place', figure: 'place', paths: [['pickups', pickup, 'place']], amount: PLACED } as const,
    ...harnessSteps(sheet, pickup, spread),
  ];
  return all.flatMap((one) => stepOf(sheet, one));
}

const ofRow = (count: number, row: number): string => (count > 1 ? ` of row ${row + 1}` : '');

function coilSteps(
  sheet: Sheet,
  pickup: number,
  { turns, wire }: Spread,
  resistances: readonly (number | undefined)[],
): Moving[] {
  const { rows, build } = sheet.pickups[pickup]!;
  if (!hasCoil(build)) return [];
  return rows.flatMap((row, r): Moving[] => {
    const of = ofRow(rows.length, r);
    const resistance: Moving = {
      ...{ name: `wire resistance${of}`, figure: 'coilResistance', share: wire },
      paths: [['pickups', pickup, 'rows', r, 'coil', 'resistance']],
      ...(row.coil.resistance === null && { computed: resistances[r] ?? NaN }),
    };
    if (!build) return [resistance];
    const at = ['pickups', pickup, 'build', 'rows', r] as const;
    return [
      { name: `turns${of}`, figure: 'turns', paths: [[...at, 'turns']], share: turns, whole: true },
      resistance,
      {
        name: `coil${of}, inner radius`,
        figure: 'windowInner',
        paths: [[...at, 'window', 'inner']],
        amount: CUT,
      },
      {
        name: `coil${of}, lower edge`,
        figure: 'windowBottom',
        paths: [[...at, 'window', 'bottom']],
        amount: CUT,
      },
    ];
  });
}

function buildSteps(sheet: Sheet, pickup: number, { magnet, gap }: Spread): Moving[] {
  const { build, rows } = sheet.pickups[pickup]!;
  if (!build) return [];
  const root = ['pickups', pickup, 'build'] as const;
  const rods = build.rows.flatMap(({ pole }, r) =>
    pole.kind === 'rod'
      ? [
          [...root, 'rows', r, 'pole', 'magnet', 'charge'],
          // Single ones that have a charge of their own.
          ...(pole.own ?? []).flatMap((one, k) =>
            one && one.charge !== null ? [[...root, 'rows', r, 'pole', 'own', k, 'charge']] : [],
          ),
        ]
      : [],
  );
  const bars = build.bars.map((_, b) => [...root, 'bars', b, 'magnet', 'charge']);
  const charges = [...rods, ...bars];
  return [
    ...(charges.length > 0
      ? [{ name: 'magnets', figure: 'charge', paths: charges, share: magnet } as const]
      : []),
    {
      name: 'gap',
      figure: 'gap',
      paths: [
        [...root, 'gapBass'],
        [...root, 'gapTreble'],
      ],
      amount: gap,
    },
    ...build.rows.flatMap(({ pole }, r): Moving[] => {
      if (pole.kind === 'none') return [];
      const of = ofRow(rows.length, r);
      const at = [...root, 'rows', r, 'pole'] as const;
      return [
        { name: `poles${of}, diameter`, figure: 'poleDiameter', paths: [[...at, 'diameter']], amount: CUT },
        { name: `poles${of}, length`, figure: 'poleLength', paths: [[...at, 'length']], amount: CUT },
        ...(pole.tip.shape === 'flat'
          ? []
          : [
              { name: `tips${of}`, figure: 'tipSize', paths: [[...at, 'tip', 'size']], amount: CUT } as const,
            ]),
      ];
    }),
    ...build.bars.flatMap((_, b): Moving[] => {
      const at = [...root, 'bars', b] as const;
      const of = build.bars.length > 1 ? `bar ${b + 1}` : 'bar';
      return [
        { name: `${of}, width`, figure: 'barWidth', paths: [[...at, 'width']], amount: CUT },
        { name: `${of}, thickness`, figure: 'barThickness', paths: [[...at, 'thickness']], amount: CUT },
      ];
    }),
  ];
}

function harnessSteps(sheet: Sheet, pickup: number, { pot, capacitor, cable, pluck }: Spread): Moving[] {
  const { wiring, controls } = sheet.harness;
  const set = wiring === 'own' ? pickup : 0;
  const fitted = controls[set];
  const at = ['harness', 'controls', set] as const;
  const part = (name: string, figure: FigureKey, path: readonly string[], share: number): Moving => ({
    ...{ name, figure, share },
    paths: [[...at, ...path]],
  });
  return [
    ...(fitted ? [part('volume pot', 'potResistance', ['volume', 'resistance'], pot)] : []),
    ...(fitted?.tone
      ? [
          part('tone pot', 'potResistance', ['tone', 'resistance'], pot),
          part('tone capacitor', 'toneCapacitance', ['tone', 'capacitance'], capacitor),
        ]
      : []),
    ...(fitted?.bleed
      ? [part('bleed capacitor', 'bleedCapacitance', ['bleed', 'capacitance'], capacitor)]
      : []),
    {
      ...{ name: 'cable', figure: 'cablePerMetre', share: cable },
      paths: [['harness', 'cable', 'capacitancePerMetre']],
    },
    { name: 'pluck place', figure: 'pluckPlace', paths: [['listen', 'pluck', 'place']], amount: pluck },
  ];
}

/** None where there is no step to take. */
function stepOf(sheet: Sheet, moving: Moving): Step[] {
  const { name, figure, paths, share, amount, computed, whole } = moving;
  const by = share ?? amount ?? 0;
  if (by === 0) return [];
  const at = (path: readonly (string | number)[]): number => computed ?? (valueAt(sheet, path) as number);
  const moved = (value: number, way: number): number => {
    const to = share === undefined ? value + way * by : value * (1 + way * by);
    // A digit more than anyone types, so that what becomes a trial reads like what was typed.
    return whole ? Math.round(to) : Number(to.toPrecision(6));
  };
  const all = (way: number): Sheet =>
    paths.reduce((one, path) => setAt(one, path as SheetPath, moved(at(path), way) as never), sheet);
  const first = at(paths[0]!);
  if (!Number.isFinite(first)) return [];
  const words = (way: number): string =>
    `${name} ${formatFigure(first, figure)} → ${formatFigure(moved(first, way), figure)}`;
  const shown =
    share === undefined
      ? `${Number((1000 * by).toPrecision(3))} mm`
      : `${Number((100 * by).toPrecision(3))} %`;
  return [
    {
      name,
      by: shown,
      up: all(1),
      down: all(-1),
      words: [words(1), words(-1)],
      trial: paths[0]![0] !== 'listen',
    },
  ];
}

const valueAt = (sheet: Sheet, path: readonly (string | number)[]): unknown =>
  path.reduce<unknown>((part, key) => (part as Record<string | number, unknown>)[key], sheet);
