/** How close a pickup may sit before the note goes sour. */
import { BuildError } from '../build/checkBuild.ts';
import type { SolvedPickup } from '../pickup/solvePickup.ts';
import { coverTop } from '../build/coverShape.ts';
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
export function detuningWhenRaised(
  pickup: SolvedPickup,
  strings: readonly StringAbove[],
  raise: number,
  slant = 0,
): readonly number[] {
  const { gapBass, gapTreble } = pickup.build;
  const build = { ...pickup.build, gapBass: gapBass - raise, gapTreble: gapTreble - raise };
  const heights = stringHeights(build, strings);
  const faults = checkHeights(build, strings, heights);
  if (faults.length > 0) throw new BuildError(faults);
  return strings.map((string, i) => {
    const { magnetised } = stringOverPickup(pickup, string, heights[i]!, slant, false);
    const { centsZ, centsY } = detuning(pull(magnetised), STRING_STEP, string, 1);
    return Math.abs(centsZ) >= Math.abs(centsY) ? centsZ : centsY;
  });
}

/** Range of the search: a pickup is never lowered further, and a string never let nearer to a pole or a cover, m. */
const LOWEST = 10e-3;
const NEAREST = 0.3e-3;

export interface Raised {
  /** m; below 0 it must be lowered. */
  readonly raise: number;
  /** Whether it ends because a pole or a cover comes to a string, and not at the asked cents. */
  readonly touches: boolean;
}

/**
 * How far the pickup may be raised until the worst string shifts by so many cents.
 *
 * @returns null when 10 mm lower is still too close
 */
export function raiseUntil(
  pickup: SolvedPickup,
  strings: readonly StringAbove[],
  cents: number,
  slant = 0,
): Raised | null {
  const { build } = pickup;
  const undersides = stringHeights(build, strings).map(
    (height, i) => height - 0.5 * strings[i]!.outerDiameter,
  );
  const room = Math.min(...undersides) - Math.max(coverTop(build), highestPole(build));
  const worst = (gap: number): number =>
    Math.max(...detuningWhenRaised(pickup, strings, room - gap, slant).map(Math.abs));
  const gap = closestGap(worst, cents, NEAREST, room + LOWEST);
  // The search gives its least gap itself only where no string shifts so far even there.
  return gap === null ? null : { raise: room - gap, touches: gap === NEAREST };
}
