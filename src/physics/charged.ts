/** A pickup's charges, for those that need nothing else of its field: from its answer, or solved for the occasion. */
import type { FieldAnswer } from './heard/fieldAnswer.ts';
import { chargesKey } from './fieldQuestion.ts';
import type { BuiltPickup } from './magnetics/build/build.ts';
import {
  chargedPickup,
  solveCharged,
  type ChargedPickup,
  type Charges,
} from './magnetics/pickup/chargedPickup.ts';
import { Kept } from './numerics/kept.ts';

/** Of the last builds that had no answer. */
const solved = new Kept<Charges>(4);

/**
 * @param field the build's answer, or that of another with the same chargesKey; null where there is none
 * @throws BuildError, or RangeError when a magnet has no working point; with an answer, never
 */
export function chargedBy(build: BuiltPickup, field: Pick<FieldAnswer, 'charges'> | null): ChargedPickup {
  if (field) return chargedPickup(build, field.charges);
  const key = chargesKey(build);
  const known = solved.get(key);
  if (known) return chargedPickup(build, known);
  const charged = solveCharged(build);
  solved.put(key, charged.magnets);
  return charged;
}
