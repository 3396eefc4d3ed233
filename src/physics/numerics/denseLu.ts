/** Real dense systems in row-major typed arrays. */

export interface DenseLu {
  readonly n: number;
  /** Unit lower and upper factors in one n × n array, row-major. */
  readonly factors: Float64Array;
  /** Row that was exchanged with row k at step k. */
  readonly pivots: Int32Array;
}

/** Columns that are eliminated in one pass over the rest. */
const PANEL = 4;

/**
 * LU factors with partial pivoting. Overwrites `a`.
 *
 * @param a n × n, row-major
 * @throws RangeError when the matrix is singular to working precision
 * Source: outer-product elimination in panels of columns, [Golub1996] §§ 3.2 and 3.4; the inner loop runs along rows for
 * the cache.
 */
export function denseLu(a: Float64Array, n: number): DenseLu {
  if (a.length !== n * n) throw new RangeError(`The matrix must hold ${n * n} numbers; got ${a.length}.`);
  const pivots = new Int32Array(n);
  for (let first = 0; first < n; first += PANEL) {
    const end = Math.min(n, first + PANEL);
    for (let k = first; k < end; k++) eliminate(a, n, k, end, pivots);
    // The panel's own rows of the upper factor, right of it.
    for (let k = first; k < end; k++) {
      for (let i = k + 1; i < end; i++) {
        const factor = a[i * n + k]!;
        for (let j = end; j < n; j++) a[i * n + j] = a[i * n + j]! - factor * a[k * n + j]!;
      }
    }
    if (end - first === PANEL) takeOff(a, n, first);
  }
  return { n, factors: a, pivots };
}

/** Pivots column k and eliminates it from the columns before `end`, the last of its panel. */
function eliminate(a: Float64Array, n: number, k: number, end: number, pivots: Int32Array): void {
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
    for (let j = k + 1; j < end; j++) a[rowI + j] = a[rowI + j]! - factor * a[rowK + j]!;
  }
}

/** Takes four eliminated rows from `first` on off all below and right of them. */
function takeOff(a: Float64Array, n: number, first: number): void {
  const end = first + PANEL;
  const row0 = first * n;
  const row1 = row0 + n;
  const row2 = row1 + n;
  const row3 = row2 + n;
  // Two rows at once, so that what is taken off is read once for both.
  let i = end;
  for (; i + 1 < n; i += 2) {
    const row = i * n;
    const next = row + n;
    const f0 = a[row + first]!;
    const f1 = a[row + first + 1]!;
    const f2 = a[row + first + 2]!;
    const f3 = a[row + first + 3]!;
    const g0 = a[next + first]!;
    const g1 = a[next + first + 1]!;
    const g2 = a[next + first + 2]!;
    const g3 = a[next + first + 3]!;
    for (let j = end; j < n; j++) {
      const u0 = a[row0 + j]!;
      const u1 = a[row1 + j]!;
      const u2 = a[row2 + j]!;
      const u3 = a[row3 + j]!;
      a[row + j] = a[row + j]! - f0 * u0 - f1 * u1 - f2 * u2 - f3 * u3;
      a[next + j] = a[next + j]! - g0 * u0 - g1 * u1 - g2 * u2 - g3 * u3;
    }
  }
  if (i < n) {
    const row = i * n;
    const f0 = a[row + first]!;
    const f1 = a[row + first + 1]!;
    const f2 = a[row + first + 2]!;
    const f3 = a[row + first + 3]!;
    for (let j = end; j < n; j++)
      a[row + j] =
        a[row + j]! - f0 * a[row0 + j]! - f1 * a[row1 + j]! - f2 * a[row2 + j]! - f3 * a[row3 + j]!;
  }
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
  // Two rows at once: the second has the first's unknown besides.
  const sums = new Float64Array(2);
  for (let i = 0; i < n; i += 2) {
    const row = i * n;
    const next = i + 1 < n ? row + n : row;
    twoRowsTimes(factors, row, next, b, offset, 0, i, sums);
    b[offset + i] = b[offset + i]! - sums[0]!;
    if (next > row) b[offset + i + 1] = b[offset + i + 1]! - (sums[1]! + factors[next + i]! * b[offset + i]!);
  }
  for (let i = n - 1; i >= 0; i -= 2) {
    const row = i * n;
    const next = i > 0 ? row - n : row;
    twoRowsTimes(factors, row, next, b, offset, i + 1, n, sums);
    b[offset + i] = (b[offset + i]! - sums[0]!) / factors[row + i]!;
    if (next < row) {
      const rest = b[offset + i - 1]! - (sums[1]! + factors[next + i]! * b[offset + i]!);
      b[offset + i - 1] = rest / factors[next + i - 1]!;
    }
  }
}

/** Sums over columns from `from` up to `to` of two rows, into `out`; four run side by side, since one alone waits for every addition. */
function twoRowsTimes(
  matrix: Float64Array,
  row: number,
  next: number,
  x: Float64Array,
  offset: number,
  from: number,
  to: number,
  out: Float64Array,
): void {
  let a = 0;
  let b = 0;
  let c = 0;
  let d = 0;
  let j = from;
  for (; j + 1 < to; j += 2) {
    const u = x[offset + j]!;
    const v = x[offset + j + 1]!;
    a += matrix[row + j]! * u;
    b += matrix[row + j + 1]! * v;
    c += matrix[next + j]! * u;
    d += matrix[next + j + 1]! * v;
  }
  if (j < to) {
    a += matrix[row + j]! * x[offset + j]!;
    c += matrix[next + j]! * x[offset + j]!;
  }
  out[0] = a + b;
  out[1] = c + d;
}
