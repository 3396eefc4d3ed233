/** Gauss–Legendre rules on [−1, 1]. */

export interface Rule {
  /** Nodes in ascending order. */
  readonly x: Float64Array;
  /** Weights; they sum to 2. */
  readonly w: Float64Array;
}

const rules = new Map<number, Rule>();

/**
 * Nodes and weights of the n-point rule, exact for polynomials up to degree 2n − 1. Rules are computed once and kept.
 *
 * @param n number of points, 1–200
 * @throws RangeError when n is outside that range
 * Source: Newton's iteration on the Legendre recurrence, DLMF 3.5(v) and 18.9.1 [DLMF].
 */
export function gaussLegendre(n: number): Rule {
  const known = rules.get(n);
  if (known) return known;
  if (!(Number.isInteger(n) && n >= 1 && n <= 200)) {
    throw new RangeError(`The number of quadrature points must be an integer from 1 to 200; got ${n}.`);
  }
  const x = new Float64Array(n);
  const w = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    // Tricomi's estimate is close enough for Newton to converge to this root and to no other.
    let t = -Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let step = 0; step < 100; step++) {
      let p0 = 1;
      let p1 = t;
      for (let k = 2; k <= n; k++) {
        const p2 = ((2 * k - 1) * t * p1 - (k - 1) * p0) / k;
        p0 = p1;
        p1 = p2;
      }
      slope = (n * (t * p1 - p0)) / (t * t - 1);
      const change = p1 / slope;
      t -= change;
      // A few units in the last place of a number of order one.
      if (Math.abs(change) < 4e-16) break;
    }
    x[i] = t;
    w[i] = 2 / ((1 - t * t) * slope * slope);
  }
  const rule: Rule = { x, w };
  rules.set(n, rule);
  return rule;
}
