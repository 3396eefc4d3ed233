import { describe, expect, it } from 'vitest';
import { transmissionDb } from '../../../src/physics/hearing/ear.ts';
import { heardDifference, type NoteTones } from '../../../src/physics/hearing/heardDifference.ts';

/** Tones 20 Hz apart, as good as noise to every filter. */
const frequencies = Float64Array.from({ length: 750 }, (_, i) => 20 * (i + 1));

/** Through a second-order low-pass. @param by dB */
function note(resonance: number, q: number, by = 0): NoteTones {
  const powers = frequencies.map((f) => {
    const x = f / resonance;
    return 10 ** (by / 10) / ((1 - x * x) ** 2 + (x / q) ** 2);
  });
  return { string: 2, fret: 3, frequencies, powers: { attack: powers, body: powers } };
}

const most = (a: NoteTones, b: NoteTones, louder = 0): number =>
  Math.abs(heardDifference([a], [b], louder).most);

/** What is just heard of a resonance: 0.079 F/√Q, for F from 300 to 2000 Hz. */
const justHeard = (f: number, q: number): number => (0.079 * f) / Math.sqrt(q);

const PLANTED = [300, 500, 1000, 2000].flatMap((f) => [1, 2, 4, 8].map((q) => [f, q] as const));

describe('what is heard of a resonance', () => {
  it.each(PLANTED)(
    '[paper: GagneZurek1988, abstract] %i Hz, Q %i: what is just heard moves the pattern by 1.1 to 1.6 dB, half of it by less than 1, twice by more than 2',
    (f, q) => {
      const by = (times: number): number => most(note(f, q), note(f + times * justHeard(f, q), q));
      expect(by(0.5)).toBeLessThan(1);
      expect(by(1)).toBeGreaterThan(1.1);
      expect(by(1)).toBeLessThan(1.6);
      expect(by(2)).toBeGreaterThan(2);
      expect(by(4)).toBeGreaterThan(3);
    },
  );

  it('[exact] the further it moves the more; a Q that is 20 % higher is more than one that is 10 %', () => {
    for (const [f, q] of PLANTED) {
      const steps = [0, 0.5, 1, 2, 4].map((times) => most(note(f, q), note(f + times * justHeard(f, q), q)));
      expect(steps).toEqual(steps.toSorted((a, b) => a - b));
      expect(steps[0]).toBe(0);
      expect(most(note(f, q), note(f, 1.1 * q))).toBeLessThan(1);
      expect(most(note(f, q), note(f, 1.2 * q))).toBeGreaterThan(most(note(f, q), note(f, 1.1 * q)));
    }
  });
});

describe('what is heard of two sounds', () => {
  it('[exact] of one and itself nothing', () => {
    const found = heardDifference([note(1000, 2)], [note(1000, 2)], 0);
    expect(found).toMatchObject({ most: 0, string: 0 });
    expect([...found.curve].every((by) => by === 0)).toBe(true);
  });

  it('[exact] what is as much louder as is taken off is the same', () => {
    for (const by of [-3, -1, -0.3, 0.3, 1, 3])
      expect(most(note(1000, 2), note(1000, 2, by), by)).toBeLessThan(1e-9);
    // Not taken off, it is heard as more than its level: a filter's lower side is flatter the louder it is.
    for (const by of [0.3, 1, 3]) expect(most(note(1000, 2), note(1000, 2, by))).toBeGreaterThan(by - 1e-9);
  });

  it('[exact] it says of which note and part, with its sign', () => {
    const [soft, loud] = [note(1000, 2), { ...note(1000, 2), string: 5, fret: 7 }];
    const cut = { ...loud, powers: { ...loud.powers, body: loud.powers.body.map((p) => p / 4) } };
    const found = heardDifference([soft, loud], [soft, cut], 0);
    expect(found).toMatchObject({ string: 5, fret: 7, part: 'body' });
    expect(found.most).toBeLessThan(-6);
  });

  it('[exact] what is too soft to be heard counts for nothing', () => {
    // Of a loud tone at 200 Hz and one at 8 kHz a hundred decibels below it, the higher is left out.
    const tones = (high: number): NoteTones => {
      const powers = Float64Array.of(1, high);
      return {
        string: 1,
        fret: 0,
        frequencies: Float64Array.of(200, 8000),
        powers: { attack: powers, body: powers },
      };
    };
    expect(most(tones(1e-10), tones(0))).toBe(0);
    expect(most(tones(1e-3), tones(0))).toBeGreaterThan(10);
  });

  it('[paper: ANSIS34, tables 1 and 3, from memory] the ear lets 1 kHz through as it is, 3 kHz by 8 dB more, 100 Hz by 12 dB less', () => {
    expect(transmissionDb(1000)).toBeCloseTo(0, 9);
    expect(transmissionDb(3000)).toBeCloseTo(8, 9);
    expect(transmissionDb(100)).toBeCloseTo(-12.4, 9);
    expect(transmissionDb(10)).toBe(transmissionDb(20));
  });
});
