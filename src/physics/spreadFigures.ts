/** What many makes of two trials come to: bands, what two of one's own differ by, and whether the trials differ by more. */
import type { SideMakes, SpreadPart } from './spreadOf.ts';

/** The same chance every time, so that a change is the change's; and how many makes of each trial there are. */
export const USUAL_SEED = 1;
export const USUAL_MAKES = 200;

/** Levels over frequency, dB: between `low` and `high` lie nine makes in ten. */
export interface Band {
  readonly low: Float64Array;
  readonly high: Float64Array;
  /** Of the trial as it is said to be. */
  readonly nominal: Float64Array;
}

export interface SideSpread {
  readonly band: Band;
  /** dB, ascending: how loud each is beside the trial as it is said to be. */
  readonly louder: Float64Array;
}

export interface SpreadFigures {
  /** Hz. */
  readonly frequencies: Float64Array;
  readonly sheet: SideSpread;
  /** null where the sheet is alone, as are those below. */
  readonly other: SideSpread | null;
  /** What is heard of two of one's own, dB without sign, ascending: of both trials. */
  readonly own: Float64Array;
  /** The same of the sheet beside the other, of every pair; and of both as they are said to be. */
  readonly between: Float64Array | null;
  readonly nominal: number | null;
}

/** Nine in ten lie between these shares. */
const LOW = 0.05;
const HIGH = 0.95;

/** The value below which a share of them lies. @param values ascending */
export function quantile(values: Float64Array, share: number): number {
  const at = share * (values.length - 1);
  const i = Math.floor(at);
  const [from, to] = [values[i]!, values[Math.min(i + 1, values.length - 1)]!];
  return from + (at - i) * (to - from);
}

/** Between which nine in ten of them lie, and the middle one, any unit. @param values ascending */
export const nineInTen = (values: Float64Array): readonly [low: number, middle: number, high: number] => [
  quantile(values, LOW),
  quantile(values, 0.5),
  quantile(values, HIGH),
];

/** All parts of one question together; at least one. */
export function gathered(parts: readonly SpreadPart[]): SpreadFigures {
  const first = parts[0]!;
  const sides = [parts.map(({ sheet }) => sheet), parts.flatMap(({ other }) => other ?? [])];
  const own = sides.flat().flatMap((side) => [...side.own]);
  const between = parts.flatMap((part) => (part.between ? [...part.between] : []));
  return {
    frequencies: first.frequencies,
    sheet: sideOf(sides[0]!),
    other: sides[1]!.length > 0 ? sideOf(sides[1]!) : null,
    own: sizes(own),
    between: first.between ? sizes(between) : null,
    nominal: first.nominal === null ? null : Math.abs(first.nominal),
  };
}

const sizes = (values: readonly number[]): Float64Array => Float64Array.from(values, Math.abs).toSorted();

function sideOf(parts: readonly SideMakes[]): SideSpread {
  const curves = parts.flatMap((part) => part.curves);
  const { nominal } = parts[0]!;
  const at = nominal.map((_, i) => i);
  const sorted = Array.from(at, (i) => Float64Array.from(curves, (curve) => curve[i]!).toSorted());
  const of = (share: number): Float64Array => Float64Array.from(sorted, (values) => quantile(values, share));
  return {
    band: { low: of(LOW), high: of(HIGH), nominal },
    louder: Float64Array.from(parts.flatMap(({ louder }) => [...louder])).toSorted(),
  };
}

/** Whether the two trials, as they are said to be, differ by less than half of all pairs of one's own do; null where there is one. */
export const lessThanOwn = ({ own, nominal }: SpreadFigures): boolean | null =>
  nominal === null ? null : nominal < quantile(own, 0.5);
