import { expect, it } from 'vitest';
import { multiply } from '../../../src/physics/numerics/multiply.ts';

it('multiplies any number of vectors by a matrix of any size, as sums taken one by one do [exact]', () => {
  for (let n = 1; n <= 9; n++) {
    const matrix = Float64Array.from({ length: n * n }, (_, k) => Math.sin(1 + 3 * k));
    for (let count = 1; count <= 7; count++) {
      const v = Array.from({ length: count }, (_, s) =>
        Float64Array.from({ length: n }, (_, j) => Math.cos(2 + s + 5 * j)),
      );
      const out = v.map(() => new Float64Array(n).fill(NaN));
      multiply(matrix, v, out);
      for (const [s, x] of v.entries()) {
        for (let i = 0; i < n; i++) {
          const wanted = x.reduce((sum, value, j) => sum + matrix[i * n + j]! * value, 0);
          expect(Math.abs(out[s]![i]! - wanted)).toBeLessThan(1e-14 * n);
        }
      }
    }
  }
});
