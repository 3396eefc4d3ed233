import fc from 'fast-check';
import { complex, inv, lusolve, type Complex } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { complexArray, decibels, divideInto } from '../../../src/physics/numerics/complex.ts';
import { factorComplex, solveComplex } from '../../../src/physics/numerics/complex-lu.ts';

/** Thousandths from −1 to 1: as random as one needs, and never so small that a reciprocal overflows. */
const part = fc.integer({ min: -1000, max: 1000 }).map((thousandths) => thousandths / 1000);

/** Largest row sum of moduli. */
function norm(matrix: Complex[][]): number {
  return Math.max(...matrix.map((row) => row.reduce((total, z) => total + Math.hypot(z.re, z.im), 0)));
}

describe('complex LU with partial pivoting', () => {
  it('[tool] solves random systems as mathjs lusolve does, to 1e-10 scaled by the condition', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 12 }).chain((n) =>
          fc.record({
            n: fc.constant(n),
            // A power of ten a row makes pivoting necessary rather than decoration.
            decades: fc.array(fc.integer({ min: -6, max: 6 }), { minLength: n, maxLength: n }),
            entries: fc.array(fc.tuple(part, part), { minLength: n * n, maxLength: n * n }),
            right: fc.array(fc.tuple(part, part), { minLength: n, maxLength: n }),
          }),
        ),
        ({ n, decades, entries, right }) => {
          const rows = Array.from({ length: n }, (_, i) =>
            Array.from({ length: n }, (_, j) => {
              const [re, im] = entries[i * n + j]!;
              return complex(re * 10 ** decades[i]!, im * 10 ** decades[i]!);
            }),
          );
          const b = right.map(([re, im]) => complex(re, im));
          let condition = Infinity;
          try {
            condition = norm(rows) * norm(inv(rows));
          } catch {
            // mathjs calls it singular.
          }
          // Beyond this no digit of either solution means anything.
          fc.pre(condition < 1e14);
          const a = complexArray(n * n);
          rows.flat().forEach((z, k) => {
            a.re[k] = z.re;
            a.im[k] = z.im;
          });
          const drive = complexArray(n);
          b.forEach((z, k) => {
            drive.re[k] = z.re;
            drive.im[k] = z.im;
          });
          const order = new Int32Array(n);
          const x = complexArray(n);
          expect(factorComplex(n, a, order)).toBe(true);
          solveComplex(n, a, order, drive, x);
          const theirs = (lusolve(rows, b) as unknown as Complex[][]).map((row) => row[0]!);
          const size = Math.max(...theirs.map((z) => Math.hypot(z.re, z.im)));
          theirs.forEach((z, k) => {
            const error = Math.hypot(x.re[k]! - z.re, x.im[k]! - z.im);
            // Either side may be wrong by a few units in the last place times the condition.
            expect(error).toBeLessThanOrEqual(Math.max(1e-10, 1e-15 * condition) * size);
          });
        },
      ),
      { seed: 20240611, numRuns: 400 },
    );
  });

  it('[exact] exchanges rows where the diagonal is zero', () => {
    // [0 1; j 0] x = [2; 3] has x = [−3j, 2].
    const a = complexArray(4);
    a.re[1] = 1;
    a.im[2] = 1;
    const b = complexArray(2);
    b.re.set([2, 3]);
    const x = complexArray(2);
    const rows = new Int32Array(2);
    expect(factorComplex(2, a, rows)).toBe(true);
    solveComplex(2, a, rows, b, x);
    expect([...x.re]).toEqual([0, 2]);
    expect([...x.im]).toEqual([-3, 0]);
  });

  it('[exact] tells a singular matrix and one with NaN', () => {
    const a = complexArray(4);
    a.re.set([1, 2, 2, 4]);
    expect(factorComplex(2, a, new Int32Array(2))).toBe(false);
    a.re.set([NaN, NaN, NaN, NaN]);
    expect(factorComplex(2, a, new Int32Array(2))).toBe(false);
  });
});

describe('complex numbers', () => {
  it('[exact] divides without overflow or underflow', () => {
    const out = complexArray(1);
    divideInto(out, 0, 3e200, 4e200, 1e200, 2e200);
    // (3 + 4j)/(1 + 2j) = 2.2 − 0.4j.
    expect(out.re[0]).toBeCloseTo(2.2, 14);
    expect(out.im[0]).toBeCloseTo(-0.4, 14);
    divideInto(out, 0, 3e-200, 4e-200, 2e-200, 1e-200);
    // (3 + 4j)/(2 + j) = 2 + j.
    expect(out.re[0]).toBeCloseTo(2, 14);
    expect(out.im[0]).toBeCloseTo(1, 14);
  });

  it('[exact] level', () => {
    expect(decibels(0, 10)).toBeCloseTo(20, 12);
    expect(decibels(0, 0)).toBe(-Infinity);
  });
});
