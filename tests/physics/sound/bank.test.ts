import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addModes, BLOCK, createBank, type ModeBank } from '../../../src/physics/sound/bank.ts';
import { furthest } from '../../fixtures/furthest.ts';

/**
 * Add a whole note: from the sample `onset` (not necessarily whole) to the end of `out`, in blocks.
 */
function addNote(
  bank: ModeBank,
  gainRe: Float64Array,
  gainIm: Float64Array,
  onset: number,
  out: Float64Array,
): void {
  for (let from = Math.max(0, Math.ceil(onset)); from < out.length; from += BLOCK) {
    addModes(bank, gainRe, gainIm, from - onset, out, from, Math.min(from + BLOCK, out.length));
  }
}

const RATE = 96000;

/** Frequencies (Hz) and decay rates (1/s) as a bank in which nothing ends early. */
function bankOf(frequencies: readonly number[], decays: readonly number[]): ModeBank {
  const bank = createBank(frequencies.length);
  frequencies.forEach((f, i) => {
    bank.turn[i] = (2 * Math.PI * f) / RATE;
    bank.fall[i] = decays[i]! / RATE;
    bank.lasts[i] = Infinity;
  });
  return bank;
}

/** The sum by its definition. */
function closedForm(bank: ModeBank, re: Float64Array, im: Float64Array, time: number): number {
  let sum = 0;
  for (let i = 0; i < bank.count; i++) {
    const phase = bank.turn[i]! * time;
    sum += Math.exp(-bank.fall[i]! * time) * (re[i]! * Math.cos(phase) - im[i]! * Math.sin(phase));
  }
  return sum;
}

describe('the modal bank', () => {
  it('is the closed form to −180 dB, for one to nine modes from 20 Hz to Nyquist [exact]', () => {
    const all = [20, 41, 82.4, 440, 1234.5, 8000, 17000, 31000, 47999];
    for (let count = 1; count <= all.length; count++) {
      const bank = bankOf(all.slice(0, count), [0.3, 1, 2, 0.1, 5, 8, 40, 0.5, 3]);
      const re = Float64Array.from({ length: count }, (_, i) => Math.cos(i));
      const im = Float64Array.from({ length: count }, (_, i) => Math.sin(i));
      const out = new Float64Array(5 * BLOCK + 77);
      addNote(bank, re, im, 33.25, out);
      expect(furthest(0, 34, (j) => out[j]!)).toBe(0);
      const off = furthest(34, out.length, (j) => out[j]! - closedForm(bank, re, im, j - 33.25));
      expect(off).toBeLessThan(count * 1e-9);
    }
  });

  it('does not depend on how time is cut into blocks [exact, seeded]', () => {
    const bank = bankOf([82, 330, 5000, 9000, 12000], [1, 2, 30, 50, 60]);
    const ones = new Float64Array(5).fill(1);
    const whole = new Float64Array(3000);
    addNote(bank, ones, ones, 0, whole);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 400 }), { minLength: 1, maxLength: 20 }), (lengths) => {
        const out = new Float64Array(3000);
        let from = 0;
        for (const length of lengths) {
          const to = Math.min(from + length, out.length);
          addModes(bank, ones, ones, from, out, from, to);
          from = to;
        }
        expect(furthest(0, from, (j) => out[j]! - whole[j]!)).toBeLessThan(1e-9);
      }),
      { seed: 20250, numRuns: 50 },
    );
  });

  it('leaves out modes that have ended, and those only', () => {
    const bank = bankOf([100, 200, 300], [1, 1, 1]);
    bank.lasts.set([1000, 500, 100]);
    const ones = new Float64Array(3).fill(1);
    const zeros = new Float64Array(3);
    const out = new Float64Array(64);
    addModes(bank, ones, zeros, 500, out, 0, 64);
    const first = bankOf([100], [1]);
    expect(furthest(0, 64, (j) => out[j]! - closedForm(first, ones, zeros, 500 + j))).toBeLessThan(1e-9);
  });
});
