/** What many makes of two trials come to, in bands, counts and words. Pure. */
import type { JobValue } from '../jobs/protocol.ts';
import { heardWord } from './difference.ts';

type SpreadPart = JobValue['spread'];
type SideMakes = SpreadPart['sheet'];

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

/** How many lie in each of the steps from 0 up, and in the last all beyond. @param step dB */
export function counts(values: Float64Array, step: number, steps: number): readonly number[] {
  const all = Array.from({ length: steps }, () => 0);
  for (const value of values) {
    const i = Math.min(steps - 1, Math.floor(value / step));
    all[i] = all[i]! + 1;
  }
  return all;
}

/** Whether the two trials, as they are said to be, differ by less than half of all pairs of one's own do; null where there is one. */
export const lessThanOwn = ({ own, nominal }: SpreadFigures): boolean | null =>
  nominal === null ? null : nominal < quantile(own, 0.5);

/** «Two of your own differ by 3.4 dB … » @param here, there the letters of the sheet and the other */
export function spreadWords(figures: SpreadFigures, here: string, there: string): string {
  const { own, between, nominal } = figures;
  const db = (value: number): string => value.toFixed(1);
  const range = (values: Float64Array): string =>
    `${db(quantile(values, LOW))} to ${db(quantile(values, HIGH))} dB`;
  const middle = quantile(own, 0.5);
  const mine = `Two of your own differ by ${db(middle)} dB, half of them by more (nine pairs in ten by ${range(own)}): ${heardWord(middle)}.`;
  if (nominal === null || !between) return mine;
  const beside = `${here} beside ${there}, as they are drawn, differs by ${db(nominal)} dB, and as you would make them by ${range(between)} in nine pairs of ten`;
  const verdict = lessThanOwn(figures)
    ? 'less than two of your own would differ'
    : 'more than two of your own would differ';
  return `${mine} ${beside}: ${verdict}.`;
}
