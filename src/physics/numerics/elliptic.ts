/**
 * Complete elliptic integrals by the arithmetic-geometric mean. The argument is the parameter m = k², 0 ≤ m < 1;
 * near m = 1 give the complement m1 = 1 − m instead, which the geometry usually knows without cancellation.
 */

/** Values of K and E, written into a reused object so that inner loops allocate nothing. */
export interface EllipticPair {
  K: number;
  E: number;
}

/**
 * K and E from the complementary parameter m1 = 1 − m.
 *
 * @param m1 0 < m1 ≤ 1 (larger values, i.e. negative m, are valid too)
 * Source: DLMF 19.8.5 and 19.8.6 [DLMF]. Digits: 2 ulp; K grows as −½ ln m1.
 */
export function ellipticPair(m1: number, out: EllipticPair): void {
  let a = 1;
  let g = Math.sqrt(m1);
  let sum = 1 - m1;
  let power = 1;
  // The difference squares at each step: below 1e-8 the next one is below the last digit.
  while (Math.abs(a - g) > 1e-8 * a) {
    const mean = 0.5 * (a + g);
    const c = 0.5 * (a - g);
    g = Math.sqrt(a * g);
    a = mean;
    power *= 2;
    sum += power * c * c;
  }
  out.K = Math.PI / (a + g);
  out.E = out.K * (1 - 0.5 * sum);
}

const scratch: EllipticPair = { K: 0, E: 0 };

/** Complete elliptic integral of the first kind, parameter m = k² < 1. Source: DLMF 19.8.5 [DLMF]. */
export function ellipticK(m: number): number {
  if (!(m < 1)) throw new RangeError(`The parameter of K must be below 1; got ${m}.`);
  ellipticPair(1 - m, scratch);
  return scratch.K;
}

/** Complete elliptic integral of the second kind, parameter m = k² ≤ 1. Source: DLMF 19.8.6 [DLMF]. */
export function ellipticE(m: number): number {
  if (!(m <= 1)) throw new RangeError(`The parameter of E must be at most 1; got ${m}.`);
  if (m === 1) return 1;
  ellipticPair(1 - m, scratch);
  return scratch.E;
}

/**
 * General complete elliptic integral
 * cel(kc, p, a, b) = ∫₀^{π/2} (a cos²φ + b sin²φ) / [(cos²φ + p sin²φ) √(cos²φ + kc² sin²φ)] dφ.
 * K(m) = cel(√(1−m), 1, 1, 1), E(m) = cel(√(1−m), 1, 1, 1−m), Π(n, m) = cel(√(1−m), 1−n, 1, 1).
 *
 * @param kc complementary modulus, not 0
 * @param p above 0 (the principal value for a negative p is not needed here)
 * @returns NaN outside that range
 * Source: Landen's transformation as arranged in [Bulirsch1969]. Digits: about 3 ulp.
 */
export function cel(kc: number, p: number, a: number, b: number): number {
  if (!(kc !== 0 && p > 0)) return NaN;
  let arithmetic = 1;
  let geometric = Math.abs(kc);
  let product = geometric;
  let root = Math.sqrt(p);
  let first = a;
  let second = b / root;
  for (;;) {
    const before = first;
    const ratio = product / root;
    first += second / root;
    second = 2 * (second + before * ratio);
    root += ratio;
    const previous = arithmetic;
    arithmetic += geometric;
    // The difference squares at each step: 1e-8 leaves full double precision.
    if (Math.abs(previous - geometric) <= 1e-8 * previous) break;
    geometric = 2 * Math.sqrt(product);
    product = geometric * arithmetic;
  }
  return (0.5 * Math.PI * (second + first * arithmetic)) / (arithmetic * (arithmetic + root));
}
