/** Iterative solution of a real system given only its action on a vector. */

/**
 * Solves A x = b by GMRES without restart.
 *
 * @param apply writes A v into out
 * @param b right-hand side; kept
 * @param x start, and the solution on return
 * @param tolerance of the residual relative to |b|
 * @param most steps before it gives up
 * @returns the relative residual reached; above `tolerance` when it gave up
 * Source: [Saad1986], with modified Gram–Schmidt and Givens rotations.
 */
export function gmres(
  apply: (v: Float64Array, out: Float64Array) => void,
  b: Float64Array,
  x: Float64Array,
  tolerance: number,
  most: number,
): number {
  const n = b.length;
  const goal = norm(b);
  if (goal === 0) {
    x.fill(0);
    return 0;
  }
  const first = new Float64Array(n);
  apply(x, first);
  for (let i = 0; i < n; i++) first[i] = b[i]! - first[i]!;
  let residual = norm(first);
  if (residual <= tolerance * goal) return residual / goal;
  for (let i = 0; i < n; i++) first[i] = first[i]! / residual;
  const basis = [first];
  const columns: Float64Array[] = [];
  const cos: number[] = [];
  const sin: number[] = [];
  const g = [residual];
  while (columns.length < most && residual > tolerance * goal) {
    const k = columns.length;
    const w = new Float64Array(n);
    apply(basis[k]!, w);
    const column = new Float64Array(k + 2);
    for (let j = 0; j <= k; j++) {
      const v = basis[j]!;
      let dot = 0;
      for (let i = 0; i < n; i++) dot += w[i]! * v[i]!;
      column[j] = dot;
      for (let i = 0; i < n; i++) w[i] = w[i]! - dot * v[i]!;
    }
    const rest = norm(w);
    for (let j = 0; j < k; j++) {
      const above = column[j]!;
      column[j] = cos[j]! * above + sin[j]! * column[j + 1]!;
      column[j + 1] = cos[j]! * column[j + 1]! - sin[j]! * above;
    }
    const length = Math.hypot(column[k]!, rest);
    cos.push(column[k]! / length);
    sin.push(rest / length);
    column[k] = length;
    columns.push(column);
    g.push(-sin[k]! * g[k]!);
    g[k] = cos[k]! * g[k]!;
    residual = Math.abs(g[k + 1]!);
    if (rest === 0) break;
    for (let i = 0; i < n; i++) w[i] = w[i]! / rest;
    basis.push(w);
  }
  for (let j = columns.length - 1; j >= 0; j--) {
    let sum = g[j]!;
    for (let k = j + 1; k < columns.length; k++) sum -= columns[k]![j]! * g[k]!;
    g[j] = sum / columns[j]![j]!;
  }
  for (let j = 0; j < columns.length; j++) {
    const v = basis[j]!;
    const share = g[j]!;
    for (let i = 0; i < n; i++) x[i] = x[i]! + share * v[i]!;
  }
  return residual / goal;
}

function norm(v: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < v.length; i++) sum += v[i]! * v[i]!;
  return Math.sqrt(sum);
}
