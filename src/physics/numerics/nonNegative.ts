/** Linear least squares by figures of which none may be below 0. */
import { denseLu, denseSolve } from './denseLu.ts';

/** Gradients below this share of the largest at the start count as none; columns are scaled to one length before. */
const FLAT = 1e-10;
/** Added to the diagonal, so that columns that are alike share what they have in common. */
const RIDGE = 1e-12;

/**
 * x ≥ 0 with the least |A x − b|² (any unit).
 *
 * @param columns of A, each as long as b, none of only zeros
 * Source: the active set method of Lawson and Hanson, [LawsonHanson] ch. 23, algorithm NNLS. Digits: 1e-8 of the largest x, on normal
 * equations: for columns that are not nearly alike.
 */
export function nonNegativeLeast(columns: readonly Float64Array[], b: Float64Array): Float64Array {
  const n = columns.length;
  const inner = (a: Float64Array, c: Float64Array): number =>
    a.reduce((sum, value, i) => sum + value * c[i]!, 0);
  const size = columns.map((column) => Math.sqrt(inner(column, column)));
  const gram = columns.map((a, i) =>
    columns.map((c, j) => inner(a, c) / (size[i]! * size[j]!) + (i === j ? RIDGE : 0)),
  );
  const right = columns.map((a, i) => inner(a, b) / size[i]!);
  const free: number[] = [];
  let x: Float64Array = new Float64Array(n);
  const gradient = (i: number): number => right[i]! - gram[i]!.reduce((sum, g, j) => sum + g * x[j]!, 0);
  const flat = FLAT * Math.max(...right.map(Math.abs));
  // Each enters at most a few times; more than that is rounding.
  for (let round = 0; round < 3 * n; round++) {
    let enters = -1;
    let steepest = flat;
    for (let i = 0; i < n; i++) {
      const slope = free.includes(i) ? 0 : gradient(i);
      if (slope > steepest) [enters, steepest] = [i, slope];
    }
    if (enters < 0) break;
    free.push(enters);
    for (;;) {
      const wanted = solved(gram, right, free);
      const outside = free.filter((i) => wanted[i]! <= 0);
      if (outside.length === 0) {
        x = wanted;
        break;
      }
      const step = Math.min(...outside.map((i) => x[i]! / (x[i]! - wanted[i]!)));
      for (const i of free) x[i] = x[i]! + step * (wanted[i]! - x[i]!);
      for (const i of outside) {
        if (x[i]! > 1e-14) continue;
        x[i] = 0;
        free.splice(free.indexOf(i), 1);
      }
    }
  }
  return x.map((value, i) => value / size[i]!);
}

/** The unbounded solution over the free ones, 0 elsewhere. */
function solved(
  gram: readonly (readonly number[])[],
  right: readonly number[],
  free: readonly number[],
): Float64Array {
  const m = free.length;
  const a = Float64Array.from({ length: m * m }, (_, k) => gram[free[Math.floor(k / m)]!]![free[k % m]!]!);
  const found = Float64Array.from(free, (i) => right[i]!);
  denseSolve(denseLu(a, m), found);
  const x = new Float64Array(gram.length);
  free.forEach((i, k) => (x[i] = found[k]!));
  return x;
}
