/** What a change came to, and which of its causes takes most of each away when it alone is undone. Pure. */
import type { JobValue } from '../jobs/protocol.ts';

/** See jobs/why.ts. */
export type WhyAnswer = JobValue['why'];
/** See physics/why.ts. */
export type WhyFigures = WhyAnswer['before'];

/** What is heard of a change. */
export type EffectName = 'level' | 'resonance' | 'height' | 'pull' | 'reach';

/** One of them. */
export interface Effect {
  readonly name: EffectName;
  /** As WhyFigures has them. */
  readonly from: number;
  readonly to: number;
  /** Which cause takes most of it away; null where none by itself takes any. */
  readonly cause: number | null;
  /** How much of it that takes away, 0–1; 1 too where without it there would be the opposite. */
  readonly share: number;
}

/**
 * How the size of a change is counted. `unit`: changes of so much are worth the same to a maker (common practice; a
 * twentieth of an octave is a resonance of 4.0 kHz against 4.14); `least`: less is not said, because the digits would not
 * show it.
 */
const SCALES: Readonly<
  Record<EffectName, { readonly unit: number; readonly least: number; readonly log?: true }>
> = {
  level: { unit: 1, least: 0.05 },
  resonance: { unit: 0.05, least: 0.005, log: true },
  height: { unit: 1, least: 0.05 },
  pull: { unit: 1, least: 0.05 },
  reach: { unit: 1e-3, least: 5e-5 },
};
/** In this order where they are of one size. */
export const EFFECTS = Object.keys(SCALES) as EffectName[];

/** dB, octaves, cents or m from one to the other; null where one of the two has no such figure. */
export function changeOf(
  name: EffectName,
  { [name]: from }: WhyFigures,
  { [name]: to }: WhyFigures,
): number | null {
  if (from === null || to === null) return null;
  return SCALES[name].log ? Math.log2(to / from) : to - from;
}

/** All that is worth saying, the largest first. */
export function effectsOf({ before, after, causes }: WhyAnswer): Effect[] {
  const sized = EFFECTS.flatMap((name) => {
    const change = changeOf(name, before, after);
    const { unit, least } = SCALES[name];
    if (change === null || Math.abs(change) < least) return [];
    const taken = causes.map(({ without }) => takenAway(name, before, without, change));
    const most = taken.reduce((best, share, i) => (share > taken[best]! ? i : best), 0);
    const share = Math.min(1, taken[most] ?? 0);
    const effect: Effect = {
      name,
      from: before[name]!,
      to: after[name]!,
      cause: share > 0 ? most : null,
      share: Math.max(0, share),
    };
    return [{ effect, size: Math.abs(change) / unit }];
  });
  return sized.sort((a, b) => b.size - a.size).map(({ effect }) => effect);
}

/**
 * By how much a change is smaller without a cause, as a share of it: above 1 where it would then be the other way, below 0
 * where it would be larger, nothing where that can't be computed.
 */
function takenAway(name: EffectName, before: WhyFigures, without: WhyFigures | null, change: number): number {
  const left = without && changeOf(name, before, without);
  return left === null ? 0 : 1 - left / change;
}
