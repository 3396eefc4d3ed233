/** Equal temperament and fret places. */

/** Hz; the standard tuning frequency, MIDI note 69. Source: [ISO16]. */
const CONCERT_PITCH = 440;

/** MIDI note number of the standard tuning frequency. */
const CONCERT_MIDI = 69;

/** Frequency (Hz) of a MIDI note number, whole or not, in equal temperament. Source: [ISO16]. */
export function midiToFrequency(midi: number): number {
  return CONCERT_PITCH * 2 ** ((midi - CONCERT_MIDI) / 12);
}

/** Saddle to fret `fret` (0 is the nut), m: the length that sounds `fret` semitones above the open string. */
export function fretPlace(scaleLength: number, fret: number): number {
  return scaleLength * 2 ** (-fret / 12);
}

/** Saddle to the nut and to every fret, m; index 0 is the nut. */
export function fretPlaces(scaleLength: number, frets: number): Float64Array {
  return Float64Array.from({ length: frets + 1 }, (_, fret) => fretPlace(scaleLength, fret));
}
