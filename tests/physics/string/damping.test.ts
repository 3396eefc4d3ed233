import { describe, expect, it } from 'vitest';
import { decayRate, fallTime, intrinsicLoss, SUPPORT_MOBILITY } from '../../../src/physics/string/damping.ts';
import { stopString } from '../../../src/physics/string/note.ts';
import { exampleSheet } from '../../fixtures/sheet.ts';

const { instrument } = exampleSheet();

describe('losses of a steel string', () => {
  // [paper] Loss model of [Valette1993] with the figures of [Pate2014] (from memory), worked apart.
  it('give Q ≈ 1750 for a plain 0.330 mm string at 247 Hz', () => {
    const q = 1 / intrinsicLoss(stopString(instrument, 2, 0), 247);
    expect(Math.round(q / 10) * 10).toBe(1750);
  });

  it('tend to air and remaining losses alone at low frequency, and rise again from bending at high [exact]', () => {
    const string = stopString(instrument, 3, 0);
    const low = intrinsicLoss(string, 100);
    const middle = intrinsicLoss(string, 2000);
    const high = intrinsicLoss(string, 20000);
    expect(middle).toBeLessThan(low);
    expect(high).toBeGreaterThan(middle);
    // 4π²µEIδ f²/T² for Ø 0.432 mm, worked by hand: µ 1.143e-3, I 1.7097e-15, E 2e11, δ 4.5e-3, T 73.75.
    const bending = (4 * Math.PI ** 2 * 1.143e-3 * 2e11 * 1.7097e-15 * 4.5e-3 * 20000 ** 2) / 73.7494 ** 2;
    expect(high - bending).toBeGreaterThan(2.03e-4);
    expect(high - bending).toBeLessThan(middle);
  });
});

describe('decay', () => {
  it('is πf/Q and what the supports take, faster towards the top [exact]', () => {
    const string = stopString(instrument, 4, 0);
    const towards = decayRate(string, 146.8, 'towards');
    const across = decayRate(string, 146.8, 'across');
    expect(towards).toBeGreaterThan(across);
    const impedance = Math.sqrt(string.tension * string.spec.linearDensity);
    expect(towards - across).toBeCloseTo(
      2 * string.frequency * impedance * (SUPPORT_MOBILITY.towards - SUPPORT_MOBILITY.across),
      12,
    );
    expect(Math.exp(-across * fallTime(across))).toBeCloseTo(1e-3, 12);
  });

  it('takes seconds on open strings, shorter on thin ones and for high partials [practice]', () => {
    for (let number = 1; number <= 6; number++) {
      const string = stopString(instrument, number, 0);
      const fundamental = fallTime(decayRate(string, string.frequency, 'towards'));
      expect(fundamental).toBeGreaterThan(5);
      expect(fundamental).toBeLessThan(25);
      expect(fallTime(decayRate(string, 5000, 'towards'))).toBeLessThan(fundamental / 2);
    }
  });
});
