import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { monotoneCurve } from '../../src/plot/monotone.ts';

const rising = fc
  .array(fc.double({ min: 1e-3, max: 10, noNaN: true }), { minLength: 1, maxLength: 12 })
  .map((steps) => steps.map((_, i) => steps.slice(0, i + 1).reduce((a, b) => a + b, 0)));

describe('[exact] a monotone curve', () => {
  it('goes through its points and rises or falls between them as they do', () => {
    fc.assert(
      fc.property(rising, rising, fc.boolean(), (xs, all, falls) => {
        const n = Math.min(xs.length, all.length);
        const ys = all.slice(0, n).map((y) => (falls ? -y : y));
        const x = xs.slice(0, n);
        const curve = monotoneCurve(x, ys);
        x.forEach((at, i) => expect(curve(at)).toBeCloseTo(ys[i]!, 9));
        let before = curve(x[0]! - 1);
        for (let k = 0; k <= 60; k++) {
          const y = curve(x[0]! + ((x.at(-1)! - x[0]!) * k) / 60);
          expect((falls ? -1 : 1) * (y - before)).toBeGreaterThanOrEqual(-1e-9);
          before = y;
        }
      }),
      { seed: 4 },
    );
  });

  it('is a straight line where its points are, and beyond its ends stays', () => {
    const line = monotoneCurve([0, 1, 3, 4], [1, 3, 7, 9]);
    expect(line(2.2)).toBeCloseTo(5.4, 12);
    expect([line(-1), line(9)]).toEqual([1, 9]);
    expect(monotoneCurve([2], [5])(7)).toBe(5);
    expect(monotoneCurve([2, 4], [5, 6])(3)).toBeCloseTo(5.5, 12);
  });

  // The slope at 1 is the harmonic mean 1.5 of 1 and 3 instead of 2; Hermite's cubic carries half of t²(1 − t) ≤ 4/27 of it.
  it('follows x² within what its cubic pieces can', () => {
    const xs = [0, 1, 2, 3, 4, 5];
    const curve = monotoneCurve(
      xs,
      xs.map((x) => x * x),
    );
    for (let x = 0; x <= 5; x += 0.1) expect(Math.abs(curve(x) - x * x)).toBeLessThan(0.5 * (4 / 27) + 1e-9);
  });
});
