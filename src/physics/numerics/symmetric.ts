/** Symmetric real systems: a sparse positive definite one by its profile, a dense one by its eigenvalues. */

/** Cholesky factor of a matrix that is zero left of each row's first entry. */
export interface ProfileFactor {
  readonly n: number;
  /** First column of each row that may differ from zero. */
  readonly first: Int32Array;
  /** Where row i's entries start; entry (i, j) stands at start[i] + j − first[i]. */
  readonly start: Int32Array;
  readonly values: Float64Array;
}

/**
 * A profile of zeros. @param first column of the first entry of every row, at most the row itself
 */
export function emptyProfile(first: Int32Array): ProfileFactor {
  const n = first.length;
  const start = new Int32Array(n + 1);
  for (let i = 0; i < n; i++) start[i + 1] = start[i]! + i - first[i]! + 1;
  return { n, first, start, values: new Float64Array(start[n]!) };
}

/** Adds to entry (i, j) of the lower half, j ≤ i. */
export function addToProfile(profile: ProfileFactor, i: number, j: number, value: number): void {
  const at = profile.start[i]! + j - profile.first[i]!;
  profile.values[at] = profile.values[at]! + value;
}

/**
 * Turns the matrix into its Cholesky factor, in place.
 * @throws RangeError when it is not positive definite
 * Source: [Golub1996] § 4.2, the inner products kept within the profile.
 */
export function factorProfile({ n, first, start, values }: ProfileFactor): void {
  for (let i = 0; i < n; i++) {
    const row = start[i]! - first[i]!;
    for (let j = first[i]!; j <= i; j++) {
      const other = start[j]! - first[j]!;
      let sum = values[row + j]!;
      for (let k = Math.max(first[i]!, first[j]!); k < j; k++) sum -= values[row + k]! * values[other + k]!;
      if (j < i) values[row + j] = sum / values[other + j]!;
      else {
        if (!(sum > 0)) throw new RangeError(`The matrix must be positive definite; row ${i} is not.`);
        values[row + j] = Math.sqrt(sum);
      }
    }
  }
}

/** Solves with the factor, in place. */
export function solveProfile({ n, first, start, values }: ProfileFactor, x: Float64Array): void {
  for (let i = 0; i < n; i++) {
    const row = start[i]! - first[i]!;
    let sum = x[i]!;
    for (let k = first[i]!; k < i; k++) sum -= values[row + k]! * x[k]!;
    x[i] = sum / values[row + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    const row = start[i]! - first[i]!;
    const value = x[i]! / values[row + i]!;
    x[i] = value;
    for (let k = first[i]!; k < i; k++) x[k] = x[k]! - values[row + k]! * value;
  }
}

/** A part of the whole that is rounding. */
const ROUNDING = 1e-16;
/** Steps for every eigenvalue; two are usual, and only what is not finite takes all of them. */
const MOST_STEPS = 40;

/**
 * Eigenvalues and eigenvectors.
 *
 * @param a n × n, row-major, symmetric; overwritten, its diagonal with the eigenvalues
 * @returns the eigenvectors as columns, n × n, row-major
 * Source: Householder's tridiagonal form and implicit QR steps with Wilkinson's shift, [Golub1996] §§ 8.3.1–8.3.3. Digits: 1e-14 of the largest
 * eigenvalue.
 */
export function symmetricEigen(a: Float64Array, n: number): Float64Array {
  // Eigenvectors as rows until the end: every rotation then runs along two of them.
  const rows = new Float64Array(n * n);
  for (let i = 0; i < n; i++) rows[i * n + i] = 1;
  for (let k = 0; k < n - 2; k++) reflect(a, rows, n, k);
  const d = Float64Array.from({ length: n }, (_, i) => a[i * n + i]!);
  const e = Float64Array.from({ length: n }, (_, i) => (i + 1 < n ? a[(i + 1) * n + i]! : 0));
  let most = 0;
  for (let i = 0; i < n; i++) most = Math.max(most, Math.abs(d[i]!) + Math.abs(e[i]!));
  const small = ROUNDING * most;
  let hi = n - 1;
  for (let step = 0; hi > 0 && step < MOST_STEPS * n; step++) {
    if (Math.abs(e[hi - 1]!) <= small) {
      hi--;
      continue;
    }
    let lo = hi - 1;
    while (lo > 0 && Math.abs(e[lo - 1]!) > small) lo--;
    chase(d, e, rows, n, lo, hi);
  }
  const vectors = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    a[i * n + i] = d[i]!;
    for (let k = 0; k < n; k++) vectors[k * n + i] = rows[i * n + k]!;
  }
  return vectors;
}

/** Column k gets zeros below its second entry, by a reflection of all that lies below row k. */
function reflect(a: Float64Array, rows: Float64Array, n: number, k: number): void {
  const first = k + 1;
  let square = 0;
  for (let i = first; i < n; i++) square += a[i * n + k]! ** 2;
  const head = a[first * n + k]!;
  const size = (head < 0 ? 1 : -1) * Math.sqrt(square);
  const v = new Float64Array(n);
  for (let i = first; i < n; i++) v[i] = a[i * n + k]!;
  v[first] = head - size;
  const length = square - 2 * head * size + size * size;
  if (!(length > 0)) return;
  const beta = 2 / length;
  // What lies below and right of it: A − v wᵀ − w vᵀ.
  const w = new Float64Array(n);
  let along = 0;
  for (let i = first; i < n; i++) {
    let sum = 0;
    for (let j = first; j < n; j++) sum += a[i * n + j]! * v[j]!;
    w[i] = beta * sum;
    along += w[i]! * v[i]!;
  }
  for (let i = first; i < n; i++) w[i] = w[i]! - 0.5 * beta * along * v[i]!;
  for (let i = first; i < n; i++) {
    const [vi, wi] = [v[i]!, w[i]!];
    for (let j = first; j < n; j++) a[i * n + j] = a[i * n + j]! - vi * w[j]! - wi * v[j]!;
  }
  a[first * n + k] = size;
  const t = new Float64Array(n);
  for (let i = first; i < n; i++) {
    const vi = v[i]!;
    for (let j = 0; j < n; j++) t[j] = t[j]! + vi * rows[i * n + j]!;
  }
  for (let i = first; i < n; i++) {
    const part = beta * v[i]!;
    for (let j = 0; j < n; j++) rows[i * n + j] = rows[i * n + j]! - part * t[j]!;
  }
}

/** One step on the stretch from lo to hi of a tridiagonal matrix, diagonal d and e beside it. */
function chase(
  d: Float64Array,
  e: Float64Array,
  rows: Float64Array,
  n: number,
  lo: number,
  hi: number,
): void {
  const beside = e[hi - 1]!;
  const half = 0.5 * (d[hi - 1]! - d[hi]!);
  const shift = d[hi]! - beside ** 2 / (half + (half < 0 ? -1 : 1) * Math.hypot(half, beside));
  let x = d[lo]! - shift;
  let z = e[lo]!;
  for (let k = lo; k < hi; k++) {
    const r = Math.hypot(x, z);
    const c = r === 0 ? 1 : x / r;
    const s = r === 0 ? 0 : z / r;
    if (k > lo) e[k - 1] = r;
    const [here, next, between] = [d[k]!, d[k + 1]!, e[k]!];
    d[k] = c * c * here + 2 * c * s * between + s * s * next;
    d[k + 1] = s * s * here - 2 * c * s * between + c * c * next;
    e[k] = c * s * (next - here) + (c * c - s * s) * between;
    if (k < hi - 1) {
      x = e[k]!;
      z = s * e[k + 1]!;
      e[k + 1] = c * e[k + 1]!;
    }
    const one = k * n;
    const two = one + n;
    for (let j = 0; j < n; j++) {
      const p = rows[one + j]!;
      const q = rows[two + j]!;
      rows[one + j] = c * p + s * q;
      rows[two + j] = c * q - s * p;
    }
  }
}
