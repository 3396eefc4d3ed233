/** The blind test's probability against exact whole-number arithmetic and a printed table. */
import { describe, expect, it } from 'vitest';
import { guessingProbability, verdict } from '../../../../src/physics/sound/live/binomial.ts';

/** The same by whole numbers of any size: Σ C(n, j) over 2ⁿ, fifteen digits. */
function byIntegers(k: number, n: number): number {
  let choose = 1n;
  let sum = 0n;
  for (let j = 0; j <= n; j++) {
    if (j >= k) sum += choose;
    choose = (choose * BigInt(n - j)) / BigInt(j + 1);
  }
  return Number((sum * 10n ** 18n) / 2n ** BigInt(n)) / 1e18;
}

describe('the probability of guessing', () => {
  it('is that of whole-number arithmetic within 1e-9, for all k of 1 to 100 rounds [exact]', () => {
    for (let n = 1; n <= 100; n++) {
      for (let k = 0; k <= n; k++) {
        const exact = byIntegers(k, n);
        const found = guessingProbability(k, n);
        expect(Math.abs(found - exact)).toBeLessThan(1e-12);
        if (exact > 1e-8) expect(Math.abs(found / exact - 1)).toBeLessThan(1e-9);
      }
    }
  });

  // Tables of the cumulative binomial distribution, p = ½, as statistics textbooks print them (from memory).
  it.each([
    [9, 10, 0.0107],
    [8, 10, 0.0547],
    [10, 12, 0.0193],
    [12, 15, 0.0176],
    [12, 16, 0.0384],
    [14, 20, 0.0577],
    [15, 20, 0.0207],
  ])('of %i of %i is the printed %f [paper]', (k, n, printed) => {
    expect(guessingProbability(k, n)).toBeCloseTo(printed, 4);
  });

  // Smallest k with p at most 0.05 and 0.01, as tables for sensory discrimination tests print them (from memory).
  it.each([
    [10, 9, 10],
    [12, 10, 11],
    [16, 12, 14],
    [20, 15, 16],
    [24, 17, 19],
    [25, 18, 19],
    [30, 20, 22],
  ])('in %i rounds passes 0.05 with %i and 0.01 with %i [paper]', (n, five, one) => {
    expect(guessingProbability(five, n)).toBeLessThanOrEqual(0.05);
    expect(guessingProbability(five - 1, n)).toBeGreaterThan(0.05);
    expect(guessingProbability(one, n)).toBeLessThanOrEqual(0.01);
    expect(guessingProbability(one - 1, n)).toBeGreaterThan(0.01);
  });

  it('of everything and of nothing', () => {
    expect(guessingProbability(0, 16)).toBe(1);
    expect(guessingProbability(16, 16)).toBe(2 ** -16);
    expect(guessingProbability(0, 0)).toBe(1);
    expect(guessingProbability(1000, 1000)).toBe(2 ** -1000);
    expect(guessingProbability(1, 1000)).toBe(1);
  });

  it.each([
    [1.5, 10],
    [11, 10],
    [-1, 10],
    [0, 1001],
    [0, -1],
  ])('refuses %f of %f', (k, n) => expect(() => guessingProbability(k, n)).toThrow(RangeError));
});

describe('the verdict', () => {
  it.each([
    [14, 16, '14 of 16: you very likely hear it; guessing does as well in 2 of 1000 tests.'],
    [15, 16, '15 of 16: you very likely hear it; guessing does as well in 1 of 3,900 tests.'],
    [12, 16, '12 of 16: you very likely hear it; guessing does as well in 38 of 1000 tests.'],
    [14, 20, '14 of 20: you may hear it, more rounds would tell; guessing does as well in 58 of 1000 tests.'],
    [11, 16, '11 of 16: this doesn’t show that you hear it; guessing does as well in 11 of 100 tests.'],
    [9, 16, '9 of 16: this doesn’t show that you hear it; guessing does as well in 40 of 100 tests.'],
    [0, 16, '0 of 16: this doesn’t show that you hear it; guessing does as well in 100 of 100 tests.'],
    [30, 30, '30 of 30: you very likely hear it; guessing does as well in 1 of more than a million tests.'],
    [4, 5, '4 of 5: too few rounds to tell; go on to 10 or more.'],
  ])('on %i of %i', (k, n, sentence) => expect(verdict(k, n)).toBe(sentence));
});
