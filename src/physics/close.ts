/** How close a pickup may sit to the strings before a note goes sour. */
import type { Sheet } from '../sheet/sheet.ts';
import { chargedBy } from './charged.ts';
import type { FieldAnswer } from './heard/fieldAnswer.ts';
import { fieldQuestion } from './fieldQuestion.ts';
import { type StringAbove } from './magnetics/overPickup/stringLine.ts';
import { raiseUntil } from './magnetics/overPickup/stringPull.ts';
import { stopString } from './string/note.ts';

/** How close a pickup may sit before a string goes sour. */
export interface Closeness {
  /** From the poles' plane to the outer strings when the pickup sits as close as it may, m. */
  readonly gapBass: number;
  readonly gapTreble: number;
  /** How far it may be raised from where it is, m; below 0 it must be lowered. */
  readonly raise: number;
  /** The string that shifts most there, and by how much, cents (below 0: flat). */
  readonly string: number;
  readonly shift: number;
  /** Whether a pole or a cover comes to a string's underside before any string shifts so far. */
  readonly touches: boolean;
}

/**
 * The gap at which the worst open string's first partial shifts by so many cents, the worse of its two polarisations;
 * both sides of the pickup move alike.
 *
 * @param cents above 0
 * @param field of that pickup; null has its charges solved here, as where a string touches a pole: then there is no field
 * @returns null when 10 mm lower is still too close
 * @throws RangeError without a build, BuildError when it can't be computed
 */
export function close(
  sheet: Sheet,
  pickup: number,
  cents: number,
  field: FieldAnswer | null = null,
): Closeness | null {
  const question = fieldQuestion(sheet, pickup);
  const place = sheet.pickups[pickup]?.place;
  if (!question || place === undefined)
    throw new RangeError('The pickup must have a build to say how close it may sit; it has none.');
  const strings = question.strings.map((crossing, i): StringAbove => {
    const { length, tension, frequency } = stopString(sheet.instrument, i + 1, 0);
    return { ...crossing, length, tension, frequency, place };
  });
  // The charges know of no strings, so that a pickup that already touches is told how far to go down.
  const solved = chargedBy(question.build, field);
  const raised = raiseUntil(solved, strings, cents, question.slant);
  if (raised === null) return null;
  const { raise, touches, shifts } = raised;
  const worst = shifts.reduce((most, shift, i) => (Math.abs(shift) > Math.abs(shifts[most]!) ? i : most), 0);
  return {
    gapBass: question.build.gapBass - raise,
    gapTreble: question.build.gapTreble - raise,
    raise,
    string: worst + 1,
    shift: shifts[worst]!,
    touches,
  };
}
