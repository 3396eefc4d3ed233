/** What is heard of two sheets beside each other. */
import type { Sheet } from '../sheet/sheet.ts';
import { fieldsOf, type Fields } from './field.ts';
import { resolve } from './heard/resolve.ts';
import { heardNotes } from './heardNotes.ts';
import { heardDifference, type HeardDifference } from './hearing/heardDifference.ts';

/** What another sheet is compared by. */
export interface HeardWish {
  /** The one before, or beside; what is played and where is that of the sheet. */
  readonly than: Sheet;
  /** Of its pickups; null has them computed. */
  readonly thanFields: Fields | null;
  /** By how much the sheet's phrase is louder, dB, which is taken off: see phraseLevel. */
  readonly louder: number;
}

/**
 * Of a sheet's phrase as played, against the same phrase on another, at equal loudness.
 *
 * @param fields of the sheet's pickups
 * @throws FieldError where a build can't be computed
 */
export function heardBetween(
  sheet: Sheet,
  { than, thanFields, louder }: HeardWish,
  fields: Fields = fieldsOf(sheet),
): HeardDifference {
  // The same strings are plucked on both; a sheet with another number of them plays its own.
  const alike = than.instrument.strings.length === sheet.instrument.strings.length;
  const other = alike ? { ...than, listen: sheet.listen } : than;
  const [from, to] = [resolve(other, thanFields ?? fieldsOf(than)), resolve(sheet, fields)].map(heardNotes);
  return heardDifference(from!, to!, louder);
}
