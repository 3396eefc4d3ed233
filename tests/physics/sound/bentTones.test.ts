import { describe, expect, it } from 'vitest';
import { BEGINNING, beginningOf, bentTones } from '../../../src/physics/sound/bentTones.ts';
import { fadeCurve, STRAIGHT } from '../../../src/physics/string/fluxCurve.ts';

const AREA = 0.2;
const FADE = 4e-3;
const harmonic = (partials: number, decay = 0) => ({
  frequencies: Float64Array.from({ length: partials }, (_, i) => 100 * (i + 1)),
  decay: { towards: new Float64Array(partials).fill(decay), across: new Float64Array(partials) },
});
/** Flux at the pluck of partials that move the string by so much, m, towards the pickup. */
const flux = (amplitudes: readonly number[]) => ({
  towards: Float64Array.from(amplitudes, (a) => AREA * a),
  across: new Float64Array(amplitudes.length),
});
/** I_n(x) by its power series [AbramowitzStegun] 9.6.10. */
function besselI(n: number, x: number): number {
  let term = 1;
  for (let k = 1; k <= n; k++) term *= x / 2 / k;
  let sum = 0;
  for (let k = 0; k < 30; k++) {
    sum += term;
    term *= (x / 2) ** 2 / ((k + 1) * (k + 1 + n));
  }
  return sum;
}

describe('bent partials', () => {
  it('of a straight reach are the partials themselves, each as its polarisation dies away [exact]', () => {
    const beginning = beginningOf(harmonic(5, 3), 16);
    const { re, im } = bentTones(
      flux([1e-3, 0, 5e-4, 0, 2e-4]),
      { area: AREA, curve: STRAIGHT },
      beginning,
      5,
    );
    beginning.times.forEach((time, j) => {
      const left = AREA * Math.exp(-3 * time);
      [1e-3, 0, 5e-4, 0, 2e-4].forEach((a, i) => {
        expect(Math.abs(re[5 * j + i]! - a * left)).toBeLessThan(1e-12 * AREA);
        expect(Math.abs(im[5 * j + i]!)).toBeLessThan(1e-12 * AREA);
      });
    });
  });

  it('of one partial and an exponential reach are 2 fade I_n(A/fade): e^(z cos θ) = I_0 + 2 Σ I_n cos nθ [exact: AbramowitzStegun 9.6.34]', () => {
    const beginning = beginningOf(harmonic(24), 3);
    const curve = fadeCurve(FADE);
    const amplitudes = [1.5e-3, ...new Array<number>(23).fill(0)];
    const { re } = bentTones(flux(amplitudes), { area: AREA, curve }, beginning, 12);
    for (let n = 1; n <= 12; n++) {
      const wanted = AREA * 2 * FADE * besselI(n, 1.5e-3 / FADE);
      // The table of the curve is good to 4e-8.
      expect(Math.abs(re[n - 1]! - wanted)).toBeLessThan(4e-8 * AREA * FADE);
    }
  });

  it('turn with the stiffness of the string: partial 2 of two alike is the first one’s doubled [exact]', () => {
    const stiff = harmonic(24);
    stiff.frequencies[1] = 203;
    const beginning = beginningOf(stiff, 8);
    const amplitudes = [0, 1e-4, ...new Array<number>(22).fill(0)];
    const { re, im } = bentTones(flux(amplitudes), { area: AREA, curve: fadeCurve(FADE) }, beginning, 4);
    beginning.times.forEach((time, j) => {
      expect(Math.cos(Math.atan2(im[4 * j + 3]!, re[4 * j + 3]!) - 2 * 2 * Math.PI * 3 * time)).toBeCloseTo(
        1,
        9,
      );
    });
  });

  it('are weighed as by Hann’s window over a third of a second, all weights together 1 [exact]', () => {
    for (const instants of [3, 8, 16, 64]) {
      const { times, weights } = beginningOf(harmonic(2), instants);
      expect(weights.reduce((sum, weight) => sum + weight, 0)).toBeCloseTo(1, 12);
      expect(Math.max(...times)).toBeLessThan(BEGINNING);
    }
  });
});
