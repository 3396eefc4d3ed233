/** Which earlier states of a design stay. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MOST_STATE_LETTERS, MOST_STATES, surplus } from '../../src/state/thinning.ts';

const NOW = Date.UTC(2026, 10, 27, 12);
const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
const at = (age: number, letters = 100): { date: string; letters: number } => ({
  date: new Date(NOW - age).toISOString(),
  letters,
});
const staying = (states: { date: string; letters: number }[]): string[] => {
  const gone = new Set(surplus(states, NOW));
  return states.filter((state) => !gone.has(state)).map(({ date }) => date);
};

describe('earlier states', () => {
  it('[exact] the last forty of ten minutes, one a minute of an hour, an hour of a day, a day of thirty, a week of older', () => {
    const every = (step: number, from: number, to: number): { date: string; letters: number }[] =>
      Array.from({ length: (to - from) / step }, (_, i) => at(from + (i + 0.5) * step));
    // Forty of the last 400 s, and one a minute of the 200 s before, which begin and end with a minute begun.
    expect(staying(every(10_000, 0, 10 * MINUTE))).toHaveLength(40 + 4);
    // Ages from 10 to 60 minutes begin and end with the clock's own minutes, hours and days: NOW is noon.
    expect(staying(every(10_000, 10 * MINUTE, HOUR))).toHaveLength(50);
    expect(staying(every(5 * MINUTE, HOUR, DAY))).toHaveLength(23);
    expect(staying(every(HOUR, DAY, 30 * DAY))).toHaveLength(30);
    const weeks = staying(every(DAY, 30 * DAY, 100 * DAY)).length;
    expect(weeks).toBeGreaterThanOrEqual(10);
    expect(weeks).toBeLessThanOrEqual(11);
  });

  it('[exact] what was left stays: the last of every stretch, and so the newest of all', () => {
    fc.assert(
      fc.property(fc.array(fc.nat(400 * DAY), { minLength: 1, maxLength: 120 }), (ages) => {
        const left = staying(ages.map((age) => at(age)));
        expect(left).toContain(at(Math.min(...ages)).date);
        // What goes has one that is younger by less than a week.
        for (const age of ages)
          expect(left.some((date) => Math.abs(Date.parse(date) - (NOW - age)) < 7 * DAY)).toBe(true);
      }),
      { seed: 5, numRuns: 300 },
    );
  });

  it('[exact] what stays once stays as long as nothing grows older, in whatever order it comes', () => {
    const states = Array.from({ length: 90 }, (_, i) => at(i * i * 3 * MINUTE));
    const once = staying(states);
    expect(staying(states.filter(({ date }) => once.includes(date)))).toEqual(once);
    expect(staying(states.toReversed()).toReversed()).toEqual(once);
  });

  it('a busy hour pushes nothing older out', () => {
    const old = [at(3 * HOUR), at(3 * DAY), at(50 * DAY), at(300 * DAY)];
    const busy = Array.from({ length: 2000 }, (_, i) => at(i * 1500));
    const left = staying([...busy, ...old]);
    expect(left).toEqual(expect.arrayContaining(old.map(({ date }) => date)));
    expect(left.length).toBeLessThan(110);
  });

  it('there are so many of them at most, and so many letters: the oldest go', () => {
    const many = Array.from({ length: MOST_STATES + 40 }, (_, i) => at((40 + 7 * i) * DAY));
    expect(staying(many)).toEqual(many.slice(0, MOST_STATES).map(({ date }) => date));
    const large = Array.from({ length: 12 }, (_, i) => at(i * MINUTE, MOST_STATE_LETTERS / 5));
    expect(staying(large)).toHaveLength(5);
  });

  it('one without a date counts as the oldest', () => {
    expect(staying([{ date: 'never', letters: 1 }, at(0)])).toHaveLength(2);
  });
});
