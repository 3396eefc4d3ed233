import { describe, expect, it } from 'vitest';
import { chordName, CHORDS, chordShape, PROGRESSION, type Frets } from '../../src/shape/chords.ts';
import { STANDARD_TUNING } from '../../src/sheet/strings.ts';
import { TUNINGS } from '../../src/sheet/tunings.ts';

/** [practice] Open chords in standard tuning, as every chord book prints them (there from string 6 to string 1). */
const PRINTED: Readonly<Record<string, Frets>> = {
  E: [0, 0, 1, 2, 2, 0],
  A: [0, 2, 2, 2, 0, null],
  D: [2, 3, 2, 0, null, null],
  G: [3, 0, 0, 0, 2, 3],
  C: [0, 1, 0, 2, 3, null],
  Em: [0, 0, 0, 2, 2, 0],
  Am: [0, 1, 2, 2, 0, null],
  Dm: [1, 3, 2, 0, null, null],
};

it('[practice] in standard tuning they are those of every chord book', () => {
  expect(CHORDS.map(({ name }) => name)).toStrictEqual(Object.keys(PRINTED));
  for (const chord of CHORDS) expect(chordShape(STANDARD_TUNING, chord)).toStrictEqual(PRINTED[chord.name]);
  expect(PROGRESSION.map(({ name }) => name)).toStrictEqual(['G', 'D', 'Em', 'C']);
});

describe.each(TUNINGS)('on $name', ({ notes }) => {
  it.each(CHORDS)(
    '[exact] $name is its triad with the root lowest, within four frets or the root’s, no string between left out',
    (chord) => {
      const frets = chordShape(notes, chord);
      expect(frets).toHaveLength(notes.length);
      const played = frets.flatMap((fret, i) => (fret === null ? [] : [{ fret, midi: notes[i]! + fret }]));
      const last = frets.findLastIndex((fret) => fret !== null);
      const triad = [chord.root, chord.root + chord.third, chord.root + 7].map((midi) => midi % 12);
      for (const { fret, midi } of played) {
        expect(triad).toContain(midi % 12);
        expect(fret).toBeLessThanOrEqual(Math.max(4, frets[last]!));
      }
      expect(new Set(played.map(({ midi }) => midi % 12)).size).toBe(3);
      expect((notes[last]! + frets[last]!) % 12).toBe(chord.root);
      expect(frets.slice(0, last + 1)).not.toContain(null);
      expect(chordName(notes, frets)).toBe(chord.name);
    },
  );
});

it('another shape has no name', () => {
  expect(chordName(STANDARD_TUNING, [0, 0, 0, 0, 0, 0])).toBeUndefined();
});
