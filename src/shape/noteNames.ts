/** Names of the twelve notes with their octaves, as scientific pitch notation has them: 60 is C4, 69 is A4. */

const NAMES = ['C', 'C♯', 'D', 'E♭', 'E', 'F', 'F♯', 'G', 'G♯', 'A', 'B♭', 'B'] as const;
const NATURALS: Readonly<Record<string, number>> = { c: 0, d: 2, e: 4, f: 5, g: 7, a: 9, b: 11 };

/** Name of the nearest note of a MIDI note number: 69 → 'A4', 40 → 'E2', 61 → 'C♯4'. */
export function noteName(midi: number): string {
  const nearest = Math.round(midi);
  const octave = Math.floor(nearest / 12) - 1;
  return `${NAMES[nearest - 12 * (octave + 1)]}${octave}`;
}

/** The other way round, with ♯, # or ♭, b, in either case: 'e2' → 40, 'F#1' → 30, 'Bb3' → 58; null for anything else. */
export function noteNumber(name: string): number | null {
  const found = /^([a-g])([♯#♭b]?)([−-]?\d{1,2})$/i.exec(name.trim());
  if (!found) return null;
  const [, letter = '', sign = '', octave = ''] = found;
  const shift = sign === '' ? 0 : /[♯#]/.test(sign) ? 1 : -1;
  return 12 * (Number(octave.replace('−', '-')) + 1) + NATURALS[letter.toLowerCase()]! + shift;
}
