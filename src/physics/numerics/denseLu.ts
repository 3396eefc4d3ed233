/** Real dense systems in row-major typed arrays. */

export interface DenseLu {
  readonly n: number;
  /** Unit lower and upper factors in one n × n array, row-major. */
  readonly factors: Float64Array;
  /** Row that was exchanged with row k at step k. */
  readonly pivots: Int32Array;
}

/**
 * LU factors with partial pivoting. Overwrites `a`.
 *
 * @param a n × n, row-major
 * @throws RangeError when the matrix is singular to working precision
 * Source: outer-product elimination, [Golub1996] § 3.4; the inner loop runs along rows for the cache.
 */
export function denseLu(a: Float64Array, n: number): DenseLu {
  if (a.length !== n * n) throw new RangeError(`The matrix must hold ${n * n} numbers; got ${a.length}.`);
  const pivots = new Int32Array(n);
  for (let k = 0; k < n; k++) {
    let best = k;
    let size = Math.abs(a[k * n + k]!);
    for (let i = k + 1; i < n; i++) {
      const candidate = Math.abs(a[i * n + k]!);
      if (candidate > size) {
        size = candidate;
        best = i;
      }
    }
    if (!(size > 0)) throw new RangeError(`The matrix must not be singular; got a zero pivot at row ${k}.`);
    pivots[k] = best;
    if (best !== k) {
      for (let j = 0; j < n; j++) {
        const keep = a[k * n + j]!;
        a[k * n + j] = a[best * n + j]!;
        a[best * n + j] = keep;
      }
    }
    const rowK = k * n;
    const inverse = 1 / a[rowK + k]!;
    for (let i = k + 1; i < n; i++) {
      const rowI = i * n;
      const factor = a[rowI + k]! * inverse;
      a[rowI + k] = factor;
      if (factor === 0) continue;
      for (let j = k + 1; j < n; j++) a[rowI + j] = a[rowI + j]! - factor * a[rowK + j]!;
    }
  }
  return { n, factors: a, pivots };
}

/**
 * Solves A x = b in place.
 *
 * @param b right-hand side; n numbers from `offset` on are replaced by the solution
 */
export function denseSolve(lu: DenseLu, b: Float64Array, offset = 0): void {
  const { n, factors, pivots } = lu;
  for (let k = 0; k < n; k++) {
    const p = pivots[k]!;
    if (p !== k) {
      const keep = b[offset + k]!;
      b[offset + k] = b[offset + p]!;
      b[offset + p] = keep;
    }
  }
  for (let i = 1; i < n; i++) {
    let sum = b[offset + i]!;
    const row = i * n;
    for (let j = 0; j < i; j++) sum -= factors[row + j]! * b[offset + j]!;
    b[offset + i] = sum;
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = b[offset + i]!;
    const row = i * n;
    for (let j = i + 1; j < n; j++) sum -= factors[row + j]! * b[offset + j]!;
    b[offset + i] = sum / factors[row + i]!;
  }
}
