/** Open notes of the strings, as MIDI note numbers, string 1 first: tunings in common use. */

export interface Tuning {
  readonly name: string;
  readonly notes: readonly number[];
}

/** In the order in which they are offered. */
export const TUNINGS: readonly Tuning[] = [
  { name: 'standard, six strings', notes: [64, 59, 55, 50, 45, 40] },
  { name: 'dropped D, six strings', notes: [64, 59, 55, 50, 45, 38] },
  { name: 'a half step down, six strings', notes: [63, 58, 54, 49, 44, 39] },
  { name: 'a whole step down, six strings', notes: [62, 57, 53, 48, 43, 38] },
  { name: 'open G, six strings', notes: [62, 59, 55, 50, 43, 38] },
  { name: 'baritone, B to B', notes: [59, 54, 50, 45, 40, 35] },
  { name: 'bass, six strings', notes: [48, 43, 38, 33, 28, 23] },
  { name: 'standard, seven strings', notes: [64, 59, 55, 50, 45, 40, 35] },
  { name: 'dropped A, seven strings', notes: [64, 59, 55, 50, 45, 40, 33] },
  { name: 'standard, eight strings', notes: [64, 59, 55, 50, 45, 40, 35, 30] },
  { name: 'dropped E, eight strings', notes: [64, 59, 55, 50, 45, 40, 35, 28] },
  { name: 'bass, four strings', notes: [43, 38, 33, 28] },
  { name: 'bass, dropped D, four strings', notes: [43, 38, 33, 26] },
  { name: 'bass, five strings', notes: [43, 38, 33, 28, 23] },
  { name: 'bass, five strings with a high C', notes: [48, 43, 38, 33, 28] },
];

/** @throws RangeError for a name that is not in the table, which is a mistake of ours */
export function tuningNamed(name: string): readonly number[] {
  const found = TUNINGS.find((tuning) => tuning.name === name);
  if (!found) throw new RangeError(`Tuning must be one of those there are; got ${name}.`);
  return found.notes;
}

/** Those for so many strings. */
export const tuningsFor = (count: number): readonly Tuning[] =>
  TUNINGS.filter(({ notes }) => notes.length === count);

/** What the notes are called together; 'own tuning' when it is none of the table's. */
export const nameTuning = (notes: readonly number[]): string =>
  tuningsFor(notes.length).find((tuning) => tuning.notes.every((note, i) => note === notes[i]))?.name ??
  'own tuning';
