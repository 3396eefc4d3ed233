/** The notes of a phrase with their partials. That a chord sounds as the sum of its strings is held in sound/render.test.ts. */
import { describe, expect, it } from 'vitest';
import { predict } from '../../../src/physics/predict.ts';
import type { Listen, ResolvedSheet as Sheet } from '../../../src/sheet/sheet.ts';
import { exampleSheet } from '../../fixtures/sheet.ts';

const playing = (listen: Partial<Listen>, sounding: readonly number[] = [0]): Sheet => {
  const sheet = exampleSheet();
  const pickups = sheet.pickups.map((pickup, i) => ({ ...pickup, sounds: sounding.includes(i) }));
  return { ...sheet, pickups, listen: { ...sheet.listen, ...listen } };
};

describe('the notes of a phrase', () => {
  it.each([
    ['one pickup', [0]],
    ['two pickups', [0, 2]],
  ])('[exact] have the partials that each has when it is played alone, through %s', (_, sounding) => {
    const chord = [3, 0, 0, null, 2, 3];
    const { phrase } = predict(playing({ play: 'chord', chord }, sounding));
    // From the lowest string up, as it is strummed.
    expect(phrase.notes.map(({ string, fret }) => [string, fret])).toEqual(
      [6, 5, 3, 2, 1].map((string) => [string, chord[string - 1]]),
    );
    for (const { string, fret, partials } of phrase.notes) {
      const alone = predict(playing({ play: 'string', string, fret }, sounding));
      const { partials: all } = alone.voices[alone.sounding]!;
      expect(partials).toEqual(all.slice(0, 12));
      expect(alone.phrase.notes).toMatchObject([{ string, fret, partials: all }]);
    }
  });

  it('[exact] stand once each, with every time that they ring', () => {
    const line = [
      { beat: 0, string: 2, fret: 3 },
      { beat: 1, string: 1, fret: 0 },
      { beat: 2, string: 2, fret: 3 },
    ];
    const { phrase } = predict(playing({ play: 'line', line, tempo: 60 }));
    expect(phrase.seconds).toBe(4);
    expect(phrase.notes.map(({ string, fret, rings }) => ({ string, fret, rings }))).toEqual([
      {
        string: 2,
        fret: 3,
        rings: [
          { from: 0, until: 2 },
          { from: 2, until: 4 },
        ],
      },
      { string: 1, fret: 0, rings: [{ from: 1, until: 5 }] },
    ]);
  });
});
