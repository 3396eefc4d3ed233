/** What a new sheet or a changed one is filled from: open chords, and how presets are ordered. */

export interface ChordShape {
  readonly name: string;
  /** Fret of string 1 to 6; null for a string that is not played. */
  readonly frets: readonly (number | null)[];
}

/** Open chords in standard tuning, as every chord book prints them (there from string 6 to string 1). */
export const CHORDS: readonly ChordShape[] = [
  { name: 'E', frets: [0, 0, 1, 2, 2, 0] },
  { name: 'A', frets: [0, 2, 2, 2, 0, null] },
  { name: 'D', frets: [2, 3, 2, 0, null, null] },
  { name: 'G', frets: [3, 0, 0, 0, 2, 3] },
  { name: 'C', frets: [0, 1, 0, 2, 3, null] },
  { name: 'Em', frets: [0, 0, 0, 2, 2, 0] },
  { name: 'Am', frets: [0, 1, 2, 2, 0, null] },
  { name: 'Dm', frets: [1, 3, 2, 0, null, null] },
];

/** The name of an open chord; 'own chord' when it is none of these. */
export function nameChord(frets: readonly (number | null)[]): string {
  return CHORDS.find((chord) => chord.frets.every((fret, i) => fret === frets[i]))?.name ?? 'own chord';
}
