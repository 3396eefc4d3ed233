import { expect, it } from 'vitest';
import { symmetricEigen } from '../../../src/physics/numerics/symmetric.ts';

it.each([1, 2, 3, 60, 223])(
  'min(i, j), order %i, has the eigenvalues 1/(2 − 2 cos((2k − 1) π/(2n + 1))) [exact], and vectors that give it back',
  (n) => {
    const entry = (at: number): number => 1 + Math.min(Math.floor(at / n), at % n);
    const a = Float64Array.from({ length: n * n }, (_, at) => entry(at));
    const vectors = symmetricEigen(a, n);
    const values = Array.from({ length: n }, (_, m) => a[m * n + m]!);
    const wanted = Array.from(
      { length: n },
      (_, k) => 1 / (2 - 2 * Math.cos(((2 * k + 1) * Math.PI) / (2 * n + 1))),
    );
    values
      .toSorted((x, y) => y - x)
      .forEach((value, k) => expect(Math.abs(value - wanted[k]!)).toBeLessThan(1e-13 * n * wanted[0]!));
    let worst = 0;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        let sum = 0;
        for (let m = 0; m < n; m++) sum += vectors[i * n + m]! * values[m]! * vectors[j * n + m]!;
        worst = Math.max(worst, Math.abs(sum - entry(i * n + j)));
      }
    }
    expect(worst).toBeLessThan(1e-13 * n * wanted[0]!);
  },
);

it('eigenvalues that are all alike are found as such, and nothing at all has none', () => {
  const a = Float64Array.of(3, 0, 0, 0, 3, 0, 0, 0, 3);
  symmetricEigen(a, 3);
  expect([a[0], a[4], a[8]]).toEqual([3, 3, 3]);
  const none = new Float64Array(16);
  const vectors = symmetricEigen(none, 4);
  expect(vectors.every(Number.isFinite)).toBe(true);
});
