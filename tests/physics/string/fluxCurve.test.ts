import { describe, expect, it } from 'vitest';
import { fadeCurve, fluxSlope, isStraight, STRAIGHT } from '../../../src/physics/string/fluxCurve.ts';
import { fluxTable, readFlux } from '../../../src/physics/sound/fluxTable.ts';

describe('a reach that fades', () => {
  it('falls to 1/e over the fade and rises by e towards the pole [exact]', () => {
    const curve = fadeCurve(4e-3);
    expect(fluxSlope(curve, 0)).toBe(1);
    expect(fluxSlope(curve, -4e-3)).toBeCloseTo(1 / Math.E, 14);
    expect(fluxSlope(curve, 4e-3)).toBeCloseTo(Math.E, 14);
  });

  it('without a fade is straight', () => {
    expect(fadeCurve(null)).toBe(STRAIGHT);
    expect(isStraight(fadeCurve(null))).toBe(true);
    expect(isStraight(fadeCurve(0.03))).toBe(false);
    expect(fluxSlope(STRAIGHT, 3e-3)).toBe(1);
  });

  it('ends at the pole with a continuous slope', () => {
    const curve = fadeCurve(1e-3);
    expect(fluxSlope(curve, 2.4999e-3)).toBeCloseTo(fluxSlope(curve, 2.5001e-3), 1);
    expect(fluxSlope(curve, 4.5e-3)).toBeCloseTo(Math.exp(3.5), 10);
    expect(fluxSlope(curve, 20e-3)).toBeCloseTo(Math.exp(3.5), 10);
    for (let u = -5e-3; u < 6e-3; u += 1e-5)
      expect(fluxSlope(curve, u + 1e-5)).toBeGreaterThanOrEqual(fluxSlope(curve, u));
  });
});

describe('its flux', () => {
  it.each([1e-3, 5e-3, 3e-2])('is the closed form fade·(e^(u/fade) − 1), fade %f m [exact]', (fade) => {
    const highest = Math.min(2.4 * fade, 5e-3);
    const table = fluxTable(fadeCurve(fade), -5e-3, highest);
    // The table's stated error.
    const largest = fade * Math.max(Math.expm1(highest / fade), 1);
    for (let i = 0; i <= 1000; i++) {
      const u = -5e-3 + ((5e-3 + highest) * i) / 1000;
      expect(Math.abs(readFlux(table, u) - fade * Math.expm1(u / fade))).toBeLessThan(2e-10 * largest);
    }
  });

  it('of the live engine, with a quarter of the cells, is so within −140 dB', () => {
    const table = fluxTable(fadeCurve(1e-3), -2.4e-3, 2.4e-3, 128);
    for (let u = -2.4e-3; u <= 2.4e-3; u += 7e-6) {
      expect(Math.abs(readFlux(table, u) - 1e-3 * Math.expm1(u / 1e-3))).toBeLessThan(1e-7 * 1e-2);
    }
  });

  it('goes on straight beyond the table', () => {
    const table = fluxTable(fadeCurve(5e-3), -1e-3, 1e-3);
    const slope = Math.exp(0.2);
    expect(readFlux(table, 3e-3) - readFlux(table, 2e-3)).toBeCloseTo(1e-3 * slope, 12);
    expect(readFlux(table, -3e-3) - readFlux(table, -2e-3)).toBeCloseTo(-1e-3 * Math.exp(-0.2), 12);
  });

  // The harmonics of a sine through an exponential are modified Bessel functions [AbramowitzStegun] 9.6.34.
  it('of a sine has the harmonics I_k(a/fade) [exact]', () => {
    const fade = 5e-3;
    const table = fluxTable(fadeCurve(fade), -2e-3, 2e-3);
    const bessel = (k: number, x: number) => {
      let term = (x / 2) ** k;
      for (let i = 2; i <= k; i++) term /= i;
      let sum = 0;
      for (let j = 0; j < 30; j++) {
        sum += term;
        term *= (x / 2) ** 2 / ((j + 1) * (j + 1 + k));
      }
      return sum;
    };
    const count = 256;
    for (let k = 1; k <= 5; k++) {
      let sum = 0;
      for (let i = 0; i < count; i++) {
        const angle = (2 * Math.PI * i) / count;
        sum += (2 / count) * readFlux(table, 2e-3 * Math.cos(angle)) * Math.cos(k * angle);
      }
      expect(Math.abs(sum - 2 * fade * bessel(k, 0.4))).toBeLessThan(1e-12);
    }
  });
});
