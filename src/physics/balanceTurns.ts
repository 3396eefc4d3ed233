/** Turns that make one pickup as loud as another: they move all strings alike. */
import type { PickupBuild, Sheet } from '../sheet/sheet.ts';
import { factorsOf, woundBy } from './woundBuild.ts';
import { BalancedSheet, type Measured } from './balancedSheet.ts';

/** dB for every e-fold of turns where the circuit takes none of it: 20/ln 10. */
const WHOLE = 20 / Math.LN10;
/** dB. */
const NEAR = 5e-3;
const MOST_ROUNDS = 6;

/** By one factor for all rows, found by the secant in its logarithm. @returns `wanted` the other pickup's mean level, dB */
export function byTurns(
  one: BalancedSheet,
  before: Measured,
  sheet: Sheet,
): { readonly build: PickupBuild; readonly wanted: number; readonly limits: readonly string[] } {
  const { build, wish } = one;
  const own = sheet.pickups[wish.pickup]!;
  const than = sheet.pickups[wish.than]?.build;
  if (wish.than === wish.pickup || !than)
    throw new RangeError(
      'Turns move all strings of a pickup alike: they make it as loud as another one with a build. Name that one, or balance strings by poles or gaps.',
    );
  if (own.rows.some(({ coil }) => coil.inductance !== null || coil.resistance !== null))
    throw new RangeError(
      'The coil must be left to the build for turns to be found; a figure is typed. Clear it.',
    );
  const other = new BalancedSheet(sheet, { ...wish, pickup: wish.than }, one.solver);
  const wanted = other.measure(than).mean;
  const [least, most] = factorsOf(build).map(Math.log) as [number, number];
  const within = (b: number): number => Math.min(most, Math.max(least, b));
  let [a, fa] = [0, before.mean - wanted];
  let b = within(-fa / WHOLE);
  let limit = '';
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const fb = one.measure(woundBy(build, Math.exp(b))).mean - wanted;
    limit =
      fb < -NEAR && b >= most - 1e-9
        ? 'The bobbin takes no more turns of this wire, and more would be needed. Take thinner wire, or a wider bobbin.'
        : 'Whole turns come no nearer.';
    if (Math.abs(fb) < NEAR || Math.abs(b - a) < 1e-5) break;
    const slope = Math.max(0.25 * WHOLE, (fb - fa) / (b - a));
    [a, fa] = [b, fb];
    const next = within(b - fb / slope);
    if (next === b) break;
    b = next;
  }
  return { build: woundBy(build, Math.exp(b)), wanted, limits: [limit] };
}
