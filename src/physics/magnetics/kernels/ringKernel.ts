/**
 * Circular rings of magnetic charge about the z axis. A ring of mode 0 carries charge 1 (A·m) spread evenly; a ring of
 * mode 1 carries the line density cos φ / (2π a). Both produce, at azimuth φ,
 *
 *     mode 0: H_r = hr,         H_z = hz,         H_φ = 0
 *     mode 1: H_r = hr cos φ,   H_z = hz cos φ,   H_φ = hφ sin φ
 *     mode 2: H_r = hr cos 2φ,  H_z = hz cos 2φ,  H_φ = hφ sin 2φ
 *
 * All follow from integrals over the source's azimuth, with A = r² + a² + ζ², B = 2ra,
 * P_m = ∫ cos mφ (A − B cos φ)^(−1/2) dφ, Q_m = ∫ cosᵐφ (A − B cos φ)^(−3/2) dφ.
 */
import { cel, ellipticPair } from '../../numerics/elliptic.ts';
import type { EllipticPair } from '../../numerics/elliptic.ts';

/** The factors hr, hz and hφ of one mode, A/m for the charge of 1 A·m named above. */
export interface RingField {
  radial: number;
  axial: number;
  /** Mode 0 has none. */
  azimuthal: number;
}

/** The azimuth integrals P0–P2 and Q0–Q3 of the last call, here P2 with cos²φ; module scratch, to keep the inner loop free of allocation. */
const integrals = { p0: 0, p1: 0, p2: 0, q0: 0, q1: 0, q2: 0, q3: 0 };
const pair: EllipticPair = { K: 0, E: 0 };

/** Below this B/A the closed forms lose more than four digits of q2; the power series needs few terms there. */
const SERIES_LIMIT = 0.15;

/** What they leave out is at most SERIES_LIMIT^16 of the whole, 1e-13. */
const TERMS = 8;

/** (from)ₙ = from (from + 1) … (from + n − 1). */
function rising(from: number, n: number): number {
  let product = 1;
  for (let i = 0; i < n; i++) product *= from + i;
  return product;
}

/**
 * ∫ cosᵐφ (1 − t cos φ)^(−power) dφ over 2π, in powers of (t/2)², for odd m after one t/2 is taken out: the binomial series, of which
 * only even powers of the cosine have a mean.
 */
const meanSeries = (power: number, m: number): Float64Array =>
  Float64Array.from({ length: TERMS }, (_, k) => {
    const n = 2 * k + (m & 1);
    let mean = 1;
    for (let even = 2; even <= n + m; even += 2) mean *= (even - 1) / even;
    return (rising(power, n) / rising(1, n)) * 2 ** n * mean;
  });
const P0 = meanSeries(1 / 2, 0);
const P1 = meanSeries(1 / 2, 1);
const P2 = meanSeries(1 / 2, 2);
const Q0 = meanSeries(3 / 2, 0);
const Q1 = meanSeries(3 / 2, 1);
const Q3 = meanSeries(3 / 2, 3);

/** Sources: [DLMF] 19.2 for the closed forms; for small B/A the binomial series, integrated term by term. */
function azimuthIntegrals(r: number, zeta: number, a: number): void {
  const A = r * r + a * a + zeta * zeta;
  const B = 2 * r * a;
  const t = B / A;
  if (t < SERIES_LIMIT) {
    const h = 0.5 * t;
    const h2 = h * h;
    let p0 = 0;
    let p1 = 0;
    let p2 = 0;
    let q0 = 0;
    let q1 = 0;
    let q3 = 0;
    for (let k = TERMS - 1; k >= 0; k--) {
      p0 = p0 * h2 + P0[k]!;
      p1 = p1 * h2 + P1[k]!;
      p2 = p2 * h2 + P2[k]!;
      q0 = q0 * h2 + Q0[k]!;
      q1 = q1 * h2 + Q1[k]!;
      q3 = q3 * h2 + Q3[k]!;
    }
    const root = (2 * Math.PI) / Math.sqrt(A);
    integrals.p0 = root * p0;
    integrals.p1 = root * h * p1;
    integrals.p2 = root * p2;
    integrals.q3 = (root / A) * h * q3;
    integrals.q0 = (root / A) * q0;
    integrals.q1 = (root / A) * h * q1;
    // ∫ cos²φ (…)^(−3/2) from sin²φ by parts: Q0 − Q2 = P1 · 2/B, and P1/B = root/(2A) times the series of p1.
    integrals.q2 = integrals.q0 - (root / A) * p1;
    return;
  }
  const beta2 = A + B;
  const alpha2 = (r - a) * (r - a) + zeta * zeta;
  const beta = Math.sqrt(beta2);
  ellipticPair(alpha2 / beta2, pair);
  const p0 = (4 * pair.K) / beta;
  const q0 = (4 * pair.E) / (beta * alpha2);
  const p1 = (A * p0 - 4 * beta * pair.E) / B;
  const q1 = (A * q0 - p0) / B;
  const q2 = (A * q1 - p1) / B;
  // By parts: ∫ cos φ (A − B cos φ)^½ dφ = −(B/2)(P0 − P2).
  const p2 = (2 * A * p1 + B * p0) / (3 * B);
  integrals.p0 = p0;
  integrals.p1 = p1;
  integrals.p2 = p2;
  integrals.q0 = q0;
  integrals.q1 = q1;
  integrals.q2 = q2;
  integrals.q3 = (A * q2 - p2) / B;
}

const SCALE = 1 / (8 * Math.PI * Math.PI);

/**
 * Field of a ring of radius `a` at a point `zeta` above its plane and `r` from the axis, m, all modes at once, A/m.
 *
 * @param a m, above 0; the point must not lie on the ring
 * Source: [DLMF] 19.2 and Coulomb's law; mode 0 equals [Jackson1999] problem 3.9's derivative. Digits: 1e-12.
 */
export function ringField(
  r: number,
  zeta: number,
  a: number,
  mode0: RingField,
  mode1: RingField,
  mode2?: RingField,
): void {
  azimuthIntegrals(r, zeta, a);
  const { p0, p1, p2, q0, q1, q2, q3 } = integrals;
  mode0.axial = SCALE * zeta * q0;
  const B = 2 * r * a;
  // r Q0 − a Q1, arranged so that nothing cancels near the axis when the series was used.
  mode0.radial = SCALE * (B > 0 ? r * q0 - a * q1 : 0);
  mode0.azimuthal = 0;
  mode1.axial = SCALE * zeta * q1;
  mode1.radial = SCALE * (r * q1 - a * q2);
  mode1.azimuthal = SCALE * (r > 0 ? p1 / r : (a * p0) / (2 * (a * a + zeta * zeta)));
  if (mode2) {
    const double = 2 * q2 - q0;
    mode2.axial = SCALE * zeta * double;
    mode2.radial = SCALE * (r * double - a * (2 * q3 - q1));
    mode2.azimuthal = r > 0 ? (SCALE * 2 * (2 * p2 - p0)) / r : 0;
  }
}

/**
 * Flux in the direction of +z through a disc of radius R about the axis, `zeta` above the plane of a ring of
 * radius `a` with charge 1, lengths in m; a share, between −½ and ½,
 * and discontinuous where the disc passes the ring from within.
 *
 * Case 1, R = 0: none. Case 2, zeta = 0: the mean of both sides, zero. Case 3, a = R: half of the plane term.
 * Source: solid angle of a disc [Paxton1959] eqs. 12–14 over 4π, with Π written as cel. Digits: 1e-13.
 */
export function discFlux(R: number, zeta: number, a: number): number {
  if (R === 0 || zeta === 0) return 0;
  const height = Math.abs(zeta);
  const far2 = height * height + (a + R) * (a + R);
  const far = Math.sqrt(far2);
  const near2 = height * height + (a - R) * (a - R);
  const g = (R - a) / (R + a);
  const kc = Math.sqrt(near2 / far2);
  const shape = g === 0 ? cel(kc, 1, 1, 1) : (1 + g) * cel(kc, g * g, 1, g);
  const plane = g > 0 ? 2 * Math.PI : g === 0 ? Math.PI : 0;
  return (Math.sign(zeta) * (plane - (2 * height * shape) / far)) / (4 * Math.PI);
}
