/** What a pickup may be built of: poles and magnets on one side, wire on the other, turns and gap between two. */
import type { ChosenGrade, Pickup, PickupBuild, Pole, RowBuild, Stock } from '../sheet/sheet.ts';
import type { Free } from './numerics/boundedLeast.ts';
import { FEWEST_TURNS, MOST_TURNS, turnsOfFull } from './woundBuild.ts';

/** What the field depends on; null: as it is. */
export interface Poles {
  readonly grade: ChosenGrade | null;
  readonly diameter: number | null;
  readonly length: number | null;
}
/** What a coil is wound of. */
export type Wound = RowBuild['wire'];

const or = <T>(list: readonly T[] | undefined): readonly (T | null)[] => list ?? [null];

/** Every way to put them together. */
export const polesOf = ({ grades, diameters, lengths }: Stock): readonly Poles[] =>
  or(grades).flatMap((grade) =>
    or(diameters).flatMap((diameter) => or(lengths).map((length) => ({ grade, diameter, length }))),
  );

/** The same of wire. */
export const woundsOf = ({ wires, enamels }: Stock, own: Wound): readonly Wound[] =>
  (wires ?? [own.conductor]).flatMap((conductor) =>
    (enamels ?? [own.enamel]).map((enamel) => ({ conductor, enamel })),
  );

/** The build with such poles and magnets: rods' and bars' grade, rods' and slugs' diameter, rods' length. */
export function withPoles(build: PickupBuild, { grade, diameter, length }: Poles): PickupBuild {
  const pole = (one: Pole): Pole => {
    const rod = one.kind === 'rod';
    return {
      ...one,
      magnet: rod && grade !== null ? { ...one.magnet, grade } : one.magnet,
      diameter: diameter !== null && (rod || one.kind === 'slug') ? diameter : one.diameter,
      length: length !== null && rod ? length : one.length,
    };
  };
  return {
    ...build,
    rows: build.rows.map((row) => ({ ...row, pole: pole(row.pole) })),
    bars: build.bars.map((bar) => (grade === null ? bar : { ...bar, magnet: { ...bar.magnet, grade } })),
  };
}

/** Which of turns and gap may move, and by how much. */
export interface Room {
  readonly frees: readonly Free[];
  /** ln of the factor of all turns times TURNS, and mm by which the pickup is lowered, of a place in `frees`. */
  readonly at: (x: readonly number[]) => readonly [turns: number, lower: number];
  /** The other way round. */
  readonly place: (turns: number, lower: number) => readonly number[];
  /** Which of turns and gap each of them is. */
  readonly what: readonly ('turns' | 'gap')[];
}

/** A tenth more turns, and a millimetre, are about as much. */
const TURNS = 10;
/** m. */
const STEP = 1e-5;

/**
 * What there is of room with a wire; a sentence where there is none.
 * @param moves whether the gap may be moved further than it must to be one that is allowed
 */
export function roomOf(build: PickupBuild, wire: Wound, { turns, gap }: Stock, moves = true): Room | string {
  const rows = build.rows.map((row) => ({ ...row, wire }));
  const full = Math.min(...rows.map((row) => Math.min(MOST_TURNS, turnsOfFull(row)) / row.turns));
  const [fewest, most] = turns ?? [NaN, NaN];
  const low = turns ? Math.max(...rows.map((row) => Math.max(FEWEST_TURNS, fewest) / row.turns)) : 1;
  const high = turns ? Math.min(full, ...rows.map((row) => most / row.turns)) : 1;
  if (low > high * (1 + 1e-9) || low > full * (1 + 1e-9))
    return 'The bobbin does not take the fewest turns that are allowed.';
  const [up, down] = gap ? lowering(build, gap) : [0, 0];
  if (up > down)
    return 'The gaps at the bass and the treble side lie further apart than what is allowed of them.';
  const windable = high > low * (1 + 1e-9);
  const movable = moves && down > up;
  const frees: readonly Free[] = [
    ...(windable
      ? [{ least: TURNS * Math.log(low), most: TURNS * Math.log(high), look: 0.3, farthest: 3 }]
      : []),
    ...(movable ? [{ least: up, most: down, look: 0.3, farthest: 1.5 }] : []),
  ];
  const fixed = [TURNS * Math.log(low), Math.min(down, Math.max(up, 0))] as const;
  return {
    frees,
    what: [...(windable ? ['turns' as const] : []), ...(movable ? ['gap' as const] : [])],
    at: (x: readonly number[]): readonly [number, number] => [
      windable ? x[0]! : fixed[0],
      movable ? x[windable ? 1 : 0]! : fixed[1],
    ],
    place: (of: number, lower: number) => [...(windable ? [of] : []), ...(movable ? [lower] : [])],
  };
}

/** By how many mm a pickup may be lowered, mm, from the least (below 0: raised) to the most. @param build gaps in m */
export const lowering = (
  { gapBass, gapTreble }: PickupBuild,
  [least, most]: readonly [number, number],
): readonly [number, number] => [
  1e3 * (least - Math.min(gapBass, gapTreble)),
  1e3 * (most - Math.max(gapBass, gapTreble)),
];

/** The build with a wire and a place in its room (turns as Room has them, mm): whole turns, hundredths of a millimetre. */
export function builtAt(
  build: PickupBuild,
  wire: Wound,
  [turns, lower]: readonly [turns: number, lower: number],
): PickupBuild {
  const by = Math.exp(turns / TURNS);
  const gap = (value: number): number =>
    Number((Math.round((value + 1e-3 * lower) / STEP) * STEP).toFixed(5));
  return {
    ...build,
    gapBass: lower === 0 ? build.gapBass : gap(build.gapBass),
    gapTreble: lower === 0 ? build.gapTreble : gap(build.gapTreble),
    rows: build.rows.map((row) => ({ ...row, wire, turns: Math.round(row.turns * by) })),
  };
}

/** How many things a build changes of another, in any unit: the fewer the better, where two do the same. */
export function changed(from: PickupBuild, to: PickupBuild): number {
  const rows = to.rows.reduce((sum, row, r) => {
    const was = from.rows[r]!;
    const differ = [
      row.wire.conductor !== was.wire.conductor,
      row.wire.enamel !== was.wire.enamel,
      row.pole.magnet.grade !== was.pole.magnet.grade,
      row.pole.diameter !== was.pole.diameter,
      row.pole.length !== was.pole.length,
    ];
    return sum + differ.filter(Boolean).length + Math.abs(Math.log(row.turns / was.turns));
  }, 0);
  const bars = to.bars.filter((bar, b) => bar.magnet.grade !== from.bars[b]!.magnet.grade).length;
  return rows + bars + 1e3 * Math.abs(to.gapBass - from.gapBass);
}

/** @throws RangeError in words for a stock that the pickup has no use for */
export function checkStock({ rows, build }: Pickup, stock: Stock): void {
  const kinds = new Set(build?.rows.map(({ pole }) => pole.kind));
  const must = (fine: boolean, message: string): void => {
    if (!fine) throw new RangeError(message);
  };
  must(
    !stock.lengths || kinds.has('rod'),
    'Lengths are those of rods; this pickup has none. Leave them out.',
  );
  must(
    !stock.diameters || kinds.has('rod') || kinds.has('slug'),
    'Diameters are those of rods and slugs; this pickup has neither. Leave them out.',
  );
  must(
    !stock.grades || kinds.has('rod') || (build?.bars.length ?? 0) > 0,
    'Grades are those of rods and bars; this pickup has neither. Leave them out.',
  );
  must(
    rows.every(
      ({ coil }) => coil.inductance === null && coil.resistance === null && coil.capacitance === null,
    ),
    'The coil must be left to the build for another to be found; a figure of it is typed. Clear it.',
  );
}
