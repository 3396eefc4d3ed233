import { describe, expect, it } from 'vitest';
import { fretPlace, fretPlaces, midiToFrequency } from '../../../src/physics/string/pitch.ts';
import { noteName } from '../../../src/shape/noteNames.ts';

/** MIDI note number (69 = 440 Hz, not rounded) of a frequency in Hz, > 0. */
function frequencyToMidi(frequency: number): number {
  return 69 + 12 * Math.log2(frequency / 440);
}

describe('equal temperament', () => {
  it('is tuned to 440 Hz [paper: ISO16]', () => {
    expect(midiToFrequency(69)).toBe(440);
  });

  it('has twelve equal steps in an octave, within 1e-9 [exact: 2^(1/12) = 1.059463094359295…]', () => {
    for (let midi = 20; midi < 100; midi++) {
      expect(
        Math.abs(midiToFrequency(midi + 1) / midiToFrequency(midi) / 1.059463094359295 - 1),
      ).toBeLessThan(1e-9);
      expect(Math.abs(midiToFrequency(midi + 12) / midiToFrequency(midi) / 2 - 1)).toBeLessThan(1e-9);
      expect(frequencyToMidi(midiToFrequency(midi))).toBeCloseTo(midi, 9);
    }
  });

  // [paper] Tables of equal temperament from 440 Hz, as acoustics handbooks print them (from memory).
  it.each([
    [40, 82.407, 'E2'],
    [45, 110.0, 'A2'],
    [50, 146.832, 'D3'],
    [55, 195.998, 'G3'],
    [59, 246.942, 'B3'],
    [60, 261.626, 'C4'],
    [64, 329.628, 'E4'],
  ])('MIDI %i sounds %d Hz and is called %s', (midi, frequency, name) => {
    expect(midiToFrequency(midi)).toBeCloseTo(frequency, 3);
    expect(noteName(midi)).toBe(name);
  });

  it('names notes by the nearest one, also below zero', () => {
    expect([61, 63, 66, 68, 70].map(noteName)).toEqual(['C♯4', 'E♭4', 'F♯4', 'G♯4', 'B♭4']);
    expect(noteName(68.6)).toBe('A4');
    expect(noteName(0)).toBe('C-1');
    expect(noteName(-1)).toBe('B-2');
  });
});

describe('frets', () => {
  it('halves the string at fret 12 and quarters it at fret 24 [exact]', () => {
    expect(fretPlace(0.648, 12)).toBeCloseTo(0.324, 12);
    expect(fretPlace(0.648, 24)).toBeCloseTo(0.162, 12);
  });

  it("puts each fret 1/17.817 of the rest nearer the saddle [practice: the luthier's divisor, 17.817]", () => {
    const places = fretPlaces(0.648, 22);
    expect(places).toHaveLength(23);
    expect(places[0]).toBe(0.648);
    for (let n = 1; n <= 22; n++) {
      const divisor = places[n - 1]! / (places[n - 1]! - places[n]!);
      expect(divisor).toBeCloseTo(17.817, 3);
    }
  });
});
