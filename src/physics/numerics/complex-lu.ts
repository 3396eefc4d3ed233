import { divideInto, type ComplexArray } from './complex.ts';

/**
 * Factorise a complex n × n matrix in place as P A = L U with partial pivoting.
 *
 * @param n order, at least 1.
 * @param a row-major, element (i, j) at i·n + j; overwritten by L below the diagonal (its own diagonal of ones is
 *   not stored) and U on and above it, with the *reciprocal* of U's diagonal in place of the diagonal, so that
 *   solving needs no division.
 * @param rows length n; receives the row order: row i of P A is row rows[i] of A.
 * @returns false when a column has no pivot other than zero: the matrix is singular and `a` is left half done.
 *
 * Source: [Golub1996] § 3.4 (Gaussian elimination with partial pivoting, outer product form). The pivot is the largest |re| + |im|, which is within
 * √2 of the largest modulus and needs no square root. Zeros below the pivot are skipped: nodal matrices are sparse.
 */
export function factorComplex(n: number, a: ComplexArray, rows: Int32Array): boolean {
  const { re, im } = a;
  for (let i = 0; i < n; i++) rows[i] = i;
  for (let k = 0; k < n; k++) {
    let pivot = k;
    let largest = 0;
    for (let i = k; i < n; i++) {
      const size = Math.abs(re[i * n + k]!) + Math.abs(im[i * n + k]!);
      if (size > largest) {
        largest = size;
        pivot = i;
      }
    }
    // Written so that NaN fails as well.
    if (!(largest > 0)) return false;
    if (pivot !== k) swapRows(n, a, rows, k, pivot);
    const diagonal = k * n + k;
    divideInto(a, diagonal, 1, 0, re[diagonal]!, im[diagonal]!);
    const inverseRe = re[diagonal]!;
    const inverseIm = im[diagonal]!;
    for (let i = k + 1; i < n; i++) {
      const below = i * n + k;
      const belowRe = re[below]!;
      const belowIm = im[below]!;
      if (belowRe === 0 && belowIm === 0) continue;
      const factorRe = belowRe * inverseRe - belowIm * inverseIm;
      const factorIm = belowRe * inverseIm + belowIm * inverseRe;
      re[below] = factorRe;
      im[below] = factorIm;
      for (let from = diagonal + 1, to = below + 1, end = k * n + n; from < end; from++, to++) {
        re[to]! -= factorRe * re[from]! - factorIm * im[from]!;
        im[to]! -= factorRe * im[from]! + factorIm * re[from]!;
      }
    }
  }
  return true;
}

function swapRows(n: number, { re, im }: ComplexArray, rows: Int32Array, i: number, k: number): void {
  for (let p = i * n, q = k * n, end = p + n; p < end; p++, q++) {
    const keepRe = re[p]!;
    const keepIm = im[p]!;
    re[p] = re[q]!;
    im[p] = im[q]!;
    re[q] = keepRe;
    im[q] = keepIm;
  }
  const keep = rows[i]!;
  rows[i] = rows[k]!;
  rows[k] = keep;
}

/**
 * Solve A x = b with what `factorComplex` left in `lu` and `rows`.
 *
 * @param b length n; kept.
 * @param x length n, another array than b; receives the solution.
 */
export function solveComplex(
  n: number,
  lu: ComplexArray,
  rows: Int32Array,
  b: ComplexArray,
  x: ComplexArray,
): void {
  const { re, im } = lu;
  for (let i = 0; i < n; i++) {
    let sumRe = b.re[rows[i]!]!;
    let sumIm = b.im[rows[i]!]!;
    for (let j = 0, at = i * n; j < i; j++, at++) {
      sumRe -= re[at]! * x.re[j]! - im[at]! * x.im[j]!;
      sumIm -= re[at]! * x.im[j]! + im[at]! * x.re[j]!;
    }
    x.re[i] = sumRe;
    x.im[i] = sumIm;
  }
  for (let i = n - 1; i >= 0; i--) {
    let sumRe = x.re[i]!;
    let sumIm = x.im[i]!;
    for (let j = i + 1, at = i * n + i + 1; j < n; j++, at++) {
      sumRe -= re[at]! * x.re[j]! - im[at]! * x.im[j]!;
      sumIm -= re[at]! * x.im[j]! + im[at]! * x.re[j]!;
    }
    const diagonal = i * n + i;
    x.re[i] = sumRe * re[diagonal]! - sumIm * im[diagonal]!;
    x.im[i] = sumRe * im[diagonal]! + sumIm * re[diagonal]!;
  }
}
