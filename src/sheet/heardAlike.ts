/** Whether two versions of a sheet differ in what is heard, and hearing them alike. Pure. */
import { sameData } from './edit.ts';
import type { Sheet } from './sheet.ts';

/** What is heard of a sheet, whatever is played and written on it. */
const heardOf = ({ instrument, pickups, magnets, harness }: Sheet): unknown => [
  instrument,
  magnets,
  pickups.map((pickup) => ({ ...pickup, name: '' })),
  harness,
];

/** Whether `causesBetween` them finds none. */
export const heardAlike = (a: Sheet, b: Sheet): boolean => sameData(heardOf(a), heardOf(b));

/** A sheet as it is played with another, where both have as many strings: what is played is no difference then. */
export const listenedAs = (sheet: Sheet, other: Sheet): Sheet =>
  sheet.instrument.strings.length === other.instrument.strings.length && sheet.listen !== other.listen
    ? { ...sheet, listen: other.listen }
    : sheet;
