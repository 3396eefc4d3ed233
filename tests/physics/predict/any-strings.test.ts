/**
 * Four to eight strings: a figure of a string is the same whatever stands beside it, where the physics says so.
 *
 *   [exact]   a string's note, level by hand, curve: the same among any number of others
 *   [exact]   over the same poles: field, reach and level do not depend on how many strings are asked for
 *   [exact]   a phrase is heard on as many strings as there are (live: sound/live/agreement.test.ts)
 */
import { describe, expect, it } from 'vitest';
import { fieldQuestion } from '../../../src/physics/fieldQuestion.ts';
import { predict } from '../../../src/physics/predict.ts';
import { render } from '../../../src/physics/rendered.ts';
import { phraseLevel } from '../../../src/physics/soundingLive.ts';
import { stopString } from '../../../src/physics/string/note.ts';
import { startingBuilds, withBuild } from '../../../src/sheet/builds.ts';
import { withStrings } from '../../../src/sheet/restring.ts';
import type { Play, Sheet } from '../../../src/sheet/sheet.ts';
import { STRING_SETS } from '../../../src/sheet/strings.ts';
import { exampleSheet } from '../../fixtures/sheet.ts';
import { solved as solver } from '../../fixtures/solved.ts';

const SETS = [
  'bass, four strings, 0.045 to 0.105',
  'bass, five strings, 0.045 to 0.130',
  'baritone, 0.013 to 0.062',
  'seven strings, 0.010 to 0.059',
  'eight strings, 0.010 to 0.074',
];
const PLAYS: readonly Play[] = ['string', 'chord', 'arpeggio', 'scale', 'progression', 'line'];

function sheetWith(name: string, start: number): Sheet {
  const { strings } = STRING_SETS.find((set) => set.name === name)!;
  return withBuild(withStrings(exampleSheet(), strings), 0, startingBuilds(strings.length)[start]!);
}

describe.each(SETS)('%s', (name) => {
  it.each([0, 3, 5])('over starting build %i: every figure is finite, a string of each', (start) => {
    const sheet = sheetWith(name, start);
    const count = sheet.instrument.strings.length;
    const prediction = predict(sheet, solver.fields(sheet));
    expect(prediction.openStrings).toHaveLength(count);
    for (const { strings } of prediction.pickups) expect(strings).toHaveLength(count);
    const { strings } = prediction.pickups[0]!;
    for (const { level, widths, field } of strings) {
      const figures: readonly unknown[] = [level, ...widths, ...Object.values(field!).flat()];
      for (const figure of figures) expect(figure).toBeTypeOf('number');
      for (const figure of figures) expect(Number.isFinite(figure)).toBe(true);
      expect(level).toBeGreaterThan(0);
    }
    expect(prediction.warnings).toEqual([]);
  });

  it('is heard in every phrase', () => {
    const built = sheetWith(name, 0);
    const fields = solver.fields(built);
    const { strings } = built.instrument;
    const line = strings.map((_, i) => ({ beat: i / 2, string: i + 1, fret: 2 }));
    for (const play of PLAYS) {
      const listen = { ...built.listen, play, line, tempo: 300, seconds: 0.2 };
      const sheet = { ...built, listen: { ...listen, string: strings.length } };
      const sound = render(sheet, fields);
      const loudest = sound.samples.reduce((most, sample) => Math.max(most, Math.abs(sample)), 0);
      expect(loudest).toBeGreaterThan(1e-4);
      expect(loudest).toBeLessThanOrEqual(10 ** (-1 / 20) + 1e-6);
      expect(Number.isFinite(phraseLevel(sheet, fields).gain)).toBe(true);
      const { notes } = predict(sheet, fields).phrase;
      const played = new Set(notes.map(({ string }) => string));
      if (play === 'line') expect(played.size).toBe(strings.length);
      expect(Math.max(...played)).toBeLessThanOrEqual(strings.length);
    }
  });
});

describe('[exact] what does not depend on the strings beside it', () => {
  const seven = STRING_SETS.find((set) => set.name === 'seven strings, 0.010 to 0.059')!.strings;
  const example = exampleSheet();
  const six = { ...example, instrument: { ...example.instrument, strings: seven.slice(0, 6) } };
  const more = withStrings(six, seven);

  it('note, tension, stiffness, and with a reach by hand the level', () => {
    const [a, b] = [six, more].map((sheet) => predict(sheet));
    for (let string = 1; string <= 6; string++) {
      expect(stopString(more.instrument, string, 3)).toStrictEqual(stopString(six.instrument, string, 3));
      expect(b!.openStrings[string - 1]).toStrictEqual(a!.openStrings[string - 1]);
      // By hand it is the same bell on every string; the slanted bridge pickup crosses them elsewhere.
      for (const p of [0, 1]) {
        const [over, under] = [a, b].map((one) => one!.pickups[p]!.strings[string - 1]!);
        expect(under!.level).toBeCloseTo(over!.level, 12);
      }
    }
  });

  it('over the same poles, field and reach', () => {
    const sheet = withBuild(more, 0, startingBuilds(7)[0]!);
    const question = fieldQuestion(sheet, 0)!;
    // The same poles under fewer strings: the outer two, which set the gaps, and the middle one.
    const [all, few] = [question, { ...question, strings: [0, 3, 6].map((k) => question.strings[k]!) }].map(
      (one) => solver.answer(one),
    );
    [0, 3, 6].forEach((k, at) => expect(few!.strings[at]).toStrictEqual(all!.strings[k]));
    // Symmetric about the middle string: equal poles, equal gaps, equal strings.
    const even = {
      ...sheet,
      instrument: { ...sheet.instrument, strings: sheet.instrument.strings.map(() => seven[3]!) },
      pickups: sheet.pickups.map((p) => ({
        ...p,
        build: p.build && { ...p.build, gapBass: 0.0022, gapTreble: 0.0022 },
      })),
    };
    const levels = predict(even, solver.fields(even)).pickups[0]!.strings.map(({ level }) => level);
    levels.forEach((level, i) => expect(level / levels[6 - i]! - 1).toBeCloseTo(0, 6));
  });
});
