import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { BlindListen, blindWords, type Ears } from '../../src/state/blind.svelte.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import type { Trials } from '../../src/sheet/trials.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const sheet = exampleSheet();
const titled = (title: string): Sheet => ({
  ...sheet,
  title,
  listen: { ...sheet.listen, level: 'as it is' },
});
const trials: Trials = { format: 1, open: 1, trials: ['a', 'b', 'c'].map(titled), blind: [] };

/** Ears that write down what they are told. */
function ears(loudness: (sheet: Sheet) => number | null = () => -23): Ears & {
  heard: (Sheet | null)[];
  said: string[];
} {
  const said: string[] = [];
  return {
    heard: [],
    said,
    playing: false,
    hearInstead(next): void {
      this.heard.push(next);
    },
    loudnessOf: (of) => Promise.resolve({ loudness: loudness(of) }),
    play: () => said.push('play'),
    stop: () => said.push('stop'),
  };
}

/** A toss in which nothing is swapped and X is Q in every other round. */
const alternating = (count: number): boolean[] =>
  Array.from({ length: count }, (_, i) => i > 0 && i % 2 === 0);

beforeEach(() => vi.useFakeTimers({ now: new Date(2026, 2, 1, 12), toFake: ['Date'] }));
afterEach(() => vi.useRealTimers());

describe('a blind listen', () => {
  it('[exact] lets the two and X be heard at equal loudness, whatever the sheet says', async () => {
    const to = ears();
    const blind = new BlindListen(to, alternating);
    blind.rounds = 10;
    await blind.start(trials, 1, 2);
    expect(blind.status).toBe('running');
    expect(to.said).toEqual(['play']);
    for (const name of ['P', 'Q', 'X'] as const) blind.hear(name);
    // X first, which in the first round is P; then P, Q and X.
    expect(to.heard.map((s) => s?.title)).toEqual(['b', 'b', 'c', 'b']);
    expect(to.heard.every((s) => s?.listen.level === 'matched')).toBe(true);
    // The very same sheet, so that nothing else can differ.
    expect(to.heard[3]).toBe(to.heard[1]);
  });

  it('[exact] counts the right ones, tells nothing before the last round, and then everything', async () => {
    const blind = new BlindListen(ears(), alternating);
    blind.rounds = 10;
    await blind.start(trials, 1, 0);
    // Right in the odd rounds of ten: X is P, Q, P, Q …, and the answer is always P.
    for (let i = 0; i < 9; i++) blind.answer('P');
    expect([blind.round, blind.status, blind.revealed]).toEqual([9, 'running', null]);
    blind.answer('Q');
    expect(blind.status).toBe('done');
    expect(blind.revealed?.result).toEqual({ a: 0, b: 1, rounds: 10, right: 6, date: '2026-03-01' });
    expect(blind.revealed?.names).toBe('P was trial B, Q trial A');
    // Σ C(10, j) for j = 6 to 10 is 386, over 1024.
    expect(blind.revealed?.probability).toBeCloseTo(386 / 1024, 12);
    expect(blind.revealed?.verdict).toMatch(/^6 of 10: this doesn’t show/);
  });

  it('[exact] a coin decides which trial is P', async () => {
    const blind = new BlindListen(ears(), (count) => Array.from({ length: count }, () => true));
    blind.rounds = 10;
    await blind.start(trials, 0, 2);
    for (let i = 0; i < 10; i++) blind.answer('Q');
    expect(blind.revealed?.names).toBe('P was trial C, Q trial A');
    expect(blind.revealed?.result.right).toBe(10);
  });

  it('[exact] the coins are fair: of 4000 rounds X is Q in half, within five standard deviations', async () => {
    let q = 0;
    for (let i = 0; i < 200; i++) {
      const to = ears();
      const blind = new BlindListen(to);
      blind.rounds = 20;
      await blind.start(trials, 0, 1);
      for (let n = 0; n < 20; n++) {
        blind.hear('Q');
        const other = to.heard.at(-1);
        blind.hear('X');
        if (to.heard.at(-1) === other) q++;
        blind.answer('P');
      }
    }
    // √(4000 · ½ · ½) ≈ 31.6; a fair coin fails this once in two million runs.
    expect(Math.abs(q - 2000)).toBeLessThan(160);
  });

  it('[exact] stopped, it gives the ears back and counts for nothing', async () => {
    const to = ears();
    const blind = new BlindListen(to, alternating);
    await blind.start(trials, 0, 1);
    blind.answer('P');
    blind.stop();
    expect([blind.status, blind.revealed]).toEqual(['away', null]);
    expect(to.heard.at(-1)).toBe(null);
    expect(to.said).toEqual(['play', 'stop']);
    blind.answer('P');
    blind.hear('Q');
    expect(to.heard.at(-1)).toBe(null);
  });

  it('[exact] what sounded before goes on sounding', async () => {
    const to = { ...ears(), playing: true };
    const blind = new BlindListen(to, alternating);
    await blind.start(trials, 0, 1);
    blind.stop();
    expect(to.said).toEqual([]);
  });

  it('[exact] a silent trial is named, and nothing is asked', async () => {
    const to = ears((of) => (of.title === 'c' ? null : -23));
    const blind = new BlindListen(to, alternating);
    await blind.start(trials, 0, 2);
    expect(blind.status).toBe('away');
    expect(blind.problem).toMatch(/^Trial C is not to be heard/);
    expect(to.heard.at(-1)).toBe(null);
  });

  it('[exact] stopped while the loudness is being found, it does not begin after all', async () => {
    const blind = new BlindListen(ears(), alternating);
    const started = blind.start(trials, 0, 1);
    blind.stop();
    await started;
    expect(blind.status).toBe('away');
  });

  it('[exact] a kept one is a sentence', () => {
    expect(blindWords({ a: 0, b: 2, rounds: 16, right: 12, date: '2026-03-01' })).toMatch(
      /^A against C, 2026-03-01: 12 of 16: you very likely hear it; /,
    );
  });
});
