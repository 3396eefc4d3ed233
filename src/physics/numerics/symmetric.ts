/** Symmetric real systems: a sparse positive definite one by its profile, a small dense one by its eigenvalues. */

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

const MOST_SWEEPS = 40;

/**
 * Eigenvalues and eigenvectors by Jacobi's rotations, for orders up to some fifty.
 *
 * @param a n × n, row-major, symmetric; overwritten, its diagonal with the eigenvalues
 * @returns the eigenvectors as columns, n × n, row-major
 * Source: [Golub1996] § 8.4, cyclic by rows. Digits: 1e-14 of the largest eigenvalue.
 */
export function symmetricEigen(a: Float64Array, n: number): Float64Array {
  const v = new Float64Array(n * n);
  for (let i = 0; i < n; i++) v[i * n + i] = 1;
  for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
    let off = 0;
    let all = 0;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        const square = a[i * n + j]! ** 2;
        all += square;
        if (i !== j) off += square;
      }
    }
    if (off <= 1e-30 * all) break;
    for (let p = 0; p < n; p++) for (let q = p + 1; q < n; q++) rotate(a, v, n, p, q);
  }
  return v;
}

function rotate(a: Float64Array, v: Float64Array, n: number, p: number, q: number): void {
  const between = a[p * n + q]!;
  if (between === 0) return;
  const theta = (a[q * n + q]! - a[p * n + p]!) / (2 * between);
  const t = (theta >= 0 ? 1 : -1) / (Math.abs(theta) + Math.sqrt(1 + theta * theta));
  const c = 1 / Math.sqrt(1 + t * t);
  const s = t * c;
  for (let k = 0; k < n; k++) {
    const kp = a[k * n + p]!;
    const kq = a[k * n + q]!;
    a[k * n + p] = c * kp - s * kq;
    a[k * n + q] = s * kp + c * kq;
  }
  for (let k = 0; k < n; k++) {
    const pk = a[p * n + k]!;
    const qk = a[q * n + k]!;
    a[p * n + k] = c * pk - s * qk;
    a[q * n + k] = s * pk + c * qk;
    const vp = v[k * n + p]!;
    const vq = v[k * n + q]!;
    v[k * n + p] = c * vp - s * vq;
    v[k * n + q] = s * vp + c * vq;
  }
}
