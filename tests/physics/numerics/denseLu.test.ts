import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { denseLu, denseSolve } from '../../../src/physics/numerics/denseLu.ts';
import { gaussLegendre } from '../../../src/physics/numerics/quadrature.ts';

describe('dense LU', () => {
  it('gives back the vector that made the right-hand side [exact]', () => {
    fc.assert(
      fc.property(
        fc
          .integer({ min: 1, max: 12 })
          .chain((n) =>
            fc.tuple(
              fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: n * n, maxLength: n * n }),
              fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: n, maxLength: n }),
            ),
          ),
        ([entries, wanted]) => {
          const n = wanted.length;
          const a = Float64Array.from(entries);
          // Diagonally dominant, so that the condition number stays moderate.
          for (let i = 0; i < n; i++) a[i * n + i] = a[i * n + i]! + (i % 2 ? -1 : 1) * (n + 1);
          const b = new Float64Array(n);
          for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) b[i] = b[i]! + a[i * n + j]! * wanted[j]!;
          denseSolve(denseLu(a, n), b);
          for (let i = 0; i < n; i++) expect(Math.abs(b[i]! - wanted[i]!)).toBeLessThan(1e-12);
        },
      ),
      { seed: 31, numRuns: 60 },
    );
  });

  it('exchanges rows when the first pivot is zero, and names a singular matrix', () => {
    const b = Float64Array.of(2, 3);
    denseSolve(denseLu(Float64Array.of(0, 1, 1, 0), 2), b);
    expect([...b]).toEqual([3, 2]);
    expect(() => denseLu(Float64Array.of(1, 2, 2, 4), 2)).toThrow('must not be singular');
  });
});

describe('Gauss–Legendre rules', () => {
  it('the five-point rule as printed [paper: AbramowitzStegun, table 25.4]', () => {
    const { x, w } = gaussLegendre(5);
    expect(x[4]).toBeCloseTo(0.906179845938664, 14);
    expect(x[3]).toBeCloseTo(0.538469310105683, 14);
    expect(w[2]).toBeCloseTo(0.568888888888889, 14);
    expect(w[4]).toBeCloseTo(0.236926885056189, 14);
  });

  it('integrates x^(2n−2) exactly [exact]', () => {
    for (const n of [1, 2, 7, 16, 48]) {
      const { x, w } = gaussLegendre(n);
      let sum = 0;
      x.forEach((t, i) => (sum += w[i]! * t ** (2 * n - 2)));
      expect(Math.abs(sum - 2 / (2 * n - 1))).toBeLessThan(1e-14);
    }
  });
});
