/** How close a pickup may sit before the note goes sour. */
import { BuildError } from '../build/checkBuild.ts';
import type { ChargedPickup } from '../pickup/chargedPickup.ts';
import { coverTop } from '../../../shape/cover.ts';
import { checkHeights, highestPole, STRING_STEP, stringHeights, stringOverPickup } from './stringLine.ts';
import type { StringAbove } from './stringLine.ts';
import { closestGap, detuning, pull } from './pull.ts';

/**
 * Cents by which every string's first partial shifts (below 0: flat) with the pickup raised so far, the worse of the
 * two polarisations.
 *
 * @param raise towards the strings, m
 * @throws BuildError when a pole or a cover would touch a string
 */
function detuningWhenRaised(
  pickup: ChargedPickup,
  strings: readonly StringAbove[],
  raise: number,
  slant = 0,
): readonly number[] {
  const shift = shiftWhenRaised(pickup, strings, raise, slant);
  return strings.map((_, i) => shift(i));
}

/** The same of one string at a time, by its index. */
function shiftWhenRaised(
  pickup: ChargedPickup,
  strings: readonly StringAbove[],
  raise: number,
  slant: number,
): (i: number) => number {
  const { gapBass, gapTreble } = pickup.build;
  const build = { ...pickup.build, gapBass: gapBass - raise, gapTreble: gapTreble - raise };
  const heights = stringHeights(build, strings);
  const faults = checkHeights(build, strings, heights);
  if (faults.length > 0) throw new BuildError(faults);
  return (i) => {
    const string = strings[i]!;
    const { magnetised } = stringOverPickup(pickup, string, heights[i]!, slant, false);
    const { centsZ, centsY } = detuning(pull(magnetised), STRING_STEP, string, 1);
    return Math.abs(centsZ) >= Math.abs(centsY) ? centsZ : centsY;
  };
}

/** Range of the search: a pickup is never lowered further, and a string never let nearer to a pole or a cover, m. */
const LOWEST = 10e-3;
const NEAREST = 0.3e-3;

export interface Raised {
  /** m; below 0 it must be lowered. */
  readonly raise: number;
  /** Whether it ends because a pole or a cover comes to a string, and not at the asked cents. */
  readonly touches: boolean;
  /** What every string shifts by there; see detuningWhenRaised. */
  readonly shifts: readonly number[];
}

/**
 * How far the pickup may be raised until the worst string shifts by so many cents.
 *
 * @returns null when 10 mm lower is still too close
 */
export function raiseUntil(
  pickup: ChargedPickup,
  strings: readonly StringAbove[],
  cents: number,
  slant = 0,
): Raised | null {
  const { build } = pickup;
  const undersides = stringHeights(build, strings).map(
    (height, i) => height - 0.5 * strings[i]!.outerDiameter,
  );
  const room = Math.min(...undersides) - Math.max(coverTop(build), highestPole(build));
  const shiftsAt = (gap: number): readonly number[] => detuningWhenRaised(pickup, strings, room - gap, slant);
  const worst = (gap: number): number => Math.max(...shiftsAt(gap).map(Math.abs));
  const quick = closestGap(firstBeyond(pickup, strings, cents, room, slant), cents, NEAREST, room + LOWEST);
  const there = quick === null ? [] : shiftsAt(quick);
  const holds = there.every((shift) => Math.abs(shift) <= cents);
  const gap = holds ? quick : closestGap(worst, cents, NEAREST, room + LOWEST);
  if (gap === null) return null;
  // The search gives its least gap itself only where no string shifts so far even there.
  return { raise: room - gap, touches: gap === NEAREST, shifts: holds ? there : shiftsAt(gap) };
}

/**
 * For a search of the gap: the first string found that shifts by more than the cents, or 0. The string that was it the
 * last time is asked first, and one that was within them nearer by is not asked at all: mostly one string stands for all.
 */
function firstBeyond(
  pickup: ChargedPickup,
  strings: readonly StringAbove[],
  cents: number,
  room: number,
  slant: number,
): (gap: number) => number {
  const within = strings.map(() => Infinity);
  const order = strings.map((_, i) => i);
  return (gap) => {
    const shift = shiftWhenRaised(pickup, strings, room - gap, slant);
    for (const [k, i] of order.entries()) {
      if (gap >= within[i]!) continue;
      const size = Math.abs(shift(i));
      if (size > cents) {
        order.unshift(...order.splice(k, 1));
        return size;
      }
      within[i] = gap;
    }
    return 0;
  };
}
