/** A build brought under another number of strings, or strings farther apart. Pure. */
import { stringAcross } from '../shape/stringCourse.ts';
import type { Block, PickupBuild, RowBuild } from './build.ts';
import { snapFigure } from './figures.ts';
import { withOwn } from './singlePoles.ts';
import type { Instrument, Pickup } from './sheet.ts';

/** Between neighbouring strings at a place (m from the saddle), m. */
export const spacingAt = (instrument: Instrument, place: number): number =>
  stringAcross(instrument, 1, place) - stringAcross(instrument, 2, place);

/**
 * As many of a list that goes by string as there are strings now; what is new takes after its neighbour.
 * @param shift where string 1 of before stands now, from 0
 */
export const realigned = <T>(list: readonly T[], count: number, shift: number): readonly T[] =>
  Array.from({ length: count }, (_, i) => list[Math.min(list.length - 1, Math.max(0, i - shift))]!);

/** Poles a little off their strings are common; a greater difference than this share of their spacing is not. */
const NEAR = 0.1;

/** What runs along the whole row grows with it; what lies beside its middle moves out with its end. */
function longerBy<B extends Block>(block: B, longer: number, figure: 'barLength' | 'steelLength'): B {
  const { across, length } = block;
  if (Math.abs(across) < length / 2) return { ...block, length: snapFigure(length + longer, figure) };
  const moved = snapFigure(across + (Math.sign(across) * longer) / 2, 'steelAcross');
  return { ...block, across: moved };
}

/**
 * The build with `count` poles a row, their pitch as it was to the strings, and coils, bars and steel as much longer or
 * shorter as the rows are.
 * @param ratio of the strings' spacing over it to what it was
 */
export function fitBuild(build: PickupBuild, count: number, shift: number, ratio: number): PickupBuild {
  const poles = build.rows[0]?.pole.heights.length ?? count;
  const pitch = Math.abs(ratio - 1) < NEAR ? build.pitch : snapFigure(build.pitch * ratio, 'polePitch');
  const longer = pitch * (count - 1) - build.pitch * (poles - 1);
  const row = (of: RowBuild): RowBuild => ({
    ...of,
    // Single poles stay under their strings; those that are new are as the row.
    pole: withOwn(
      { ...of.pole, heights: realigned(of.pole.heights, count, shift) },
      Array.from({ length: count }, (_, i) => of.pole.own?.[i - shift] ?? null),
    ),
    window: { ...of.window, straight: snapFigure(of.window.straight + longer, 'windowStraight') },
  });
  if (poles === count && longer === 0) return build;
  return {
    ...build,
    pitch,
    bars: build.bars.map((bar) => longerBy(bar, longer, 'barLength')),
    steel: build.steel.map((piece) => longerBy(piece, longer, 'steelLength')),
    rows: build.rows.map(row),
  };
}

/** A pickup whose build has as many poles as `instrument` has strings; the very same one where it has. */
export function fitPickup(pickup: Pickup, before: Instrument, after: Instrument, shift = 0): Pickup {
  const { build } = pickup;
  const count = after.strings.length;
  if (!build || build.rows.every(({ pole }) => pole.heights.length === count)) return pickup;
  const ratio = spacingAt(after, pickup.place) / spacingAt(before, pickup.place);
  return { ...pickup, build: fitBuild(build, count, shift, ratio) };
}
