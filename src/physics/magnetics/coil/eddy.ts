/** Eddy currents in round poles and flat blades, and the inductance that they make depend on frequency. */
import { besselJ1OverJ0 } from '../../numerics/bessel.ts';
import type { ComplexSlot } from '../../numerics/bessel.ts';
import { MU0 } from '../../numerics/constants.ts';

const ratio: ComplexSlot = { re: 0, im: 0 };
const mu: ComplexSlot = { re: 0, im: 0 };

/** Share of its permeability that a steel keeps far above its relaxation: about 90 of 280, at 100 kHz and at 1 to 10 Hz [Bowler2006]. */
export const KEPT_MU = 90 / 280;

/**
 * Relative permeability at s = sRe + j sIm (rad/s): µ (h + (1 − h)/(1 + s/ωr)), h = KEPT_MU, where the metal relaxes, else µ.
 *
 * @param out its value, 1
 * Source: cold-rolled 1018, 1 Hz to 100 kHz: a relaxation near 5 kHz, from about 280 to about 90 [Bowler2006], who fits a Cole–Cole law;
 * the broadening of that is left out here, so that it is only as good as these three figures. Range: off the negative real axis.
 */
export function permeabilityAt(sRe: number, sIm: number, metal: PoleMetal, out: ComplexSlot): void {
  out.re = metal.mu;
  out.im = 0;
  if (metal.relaxation === undefined) return;
  const rate = 2 * Math.PI * metal.relaxation;
  const re = 1 + sRe / rate;
  const im = sIm / rate;
  const scale = (metal.mu * (1 - KEPT_MU)) / (re * re + im * im);
  out.re = metal.mu * KEPT_MU + scale * re;
  out.im = -scale * im;
}

/**
 * Mean over surface field inside a core in an alternating field along it, 1 at s = 0. Of a solid cylinder
 * F(s) = 2 J₁(ka)/(ka J₀(ka)), k² = −s µ0µrσ; of a blade tan(ka)/(ka), a half its thickness, as if it went on for ever.
 *
 * @param sRe sIm complex frequency, rad/s, off the negative real axis, where the poles of F lie
 * @param out F, 1
 * Source: [LandauLifshitz] § 59. Digits: 1e-13.
 */
export function eddyFactorAt(sRe: number, sIm: number, metal: PoleMetal, out: ComplexSlot): void {
  permeabilityAt(sRe, sIm, metal, mu);
  const scale = -MU0 * metal.conductivity * metal.radius * metal.radius;
  const re2 = scale * (mu.re * sRe - mu.im * sIm);
  const im2 = scale * (mu.re * sIm + mu.im * sRe);
  const size2 = Math.hypot(re2, im2);
  if (size2 < 1e-9) {
    // 1 + (ka)²/8, of a blade /3; the next term is below the last digit.
    const of = metal.flat ? 3 : 8;
    out.re = 1 + re2 / of;
    out.im = im2 / of;
    return;
  }
  if (metal.flat) {
    // w² = −(ka)², in the right half plane.
    const wRe = Math.sqrt(0.5 * Math.max(0, size2 - re2));
    const wIm = wRe > 0 ? -im2 / (2 * wRe) : Math.sqrt(size2);
    tanhOver(wRe, wIm, out);
    return;
  }
  // The root in the lower half plane for jω; F is even in ka, so that the other would do as well.
  const re = Math.sqrt(0.5 * (size2 + Math.abs(re2)));
  const im = im2 / (2 * re);
  const kaRe = re2 >= 0 ? re : Math.abs(im);
  const kaIm = re2 >= 0 ? im : im2 >= 0 ? re : -re;
  besselJ1OverJ0(kaRe, kaIm, ratio);
  const over = 2 / size2;
  out.re = over * (ratio.re * kaRe + ratio.im * kaIm);
  out.im = over * (ratio.im * kaRe - ratio.re * kaIm);
}

/** tanh(w)/w, w = wRe + j wIm, wRe 0 or more (1). */
function tanhOver(wRe: number, wIm: number, out: ComplexSlot): void {
  // tanh w = (sinh 2a + j sin 2b)/(cosh 2a + cos 2b), in terms of e^(−2a), which can't grow too large.
  const e = Math.exp(-2 * wRe);
  const over = 1 + e * e + 2 * e * Math.cos(2 * wIm);
  const re = (1 - e * e) / over;
  const im = (2 * e * Math.sin(2 * wIm)) / over;
  const size2 = wRe * wRe + wIm * wIm;
  out.re = (re * wRe + im * wIm) / size2;
  out.im = (im * wRe - re * wIm) / size2;
}

/** Core inductance as a function of the poles' susceptibility, ΔL(χ) = rest + a χ/(1 + N χ). */
export interface CoreFit {
  /** H per turn² and unit susceptibility. */
  readonly a: number;
  /** Effective demagnetising factor. */
  readonly N: number;
  /** H per turn² that bars bring by themselves; it does not follow the poles. */
  readonly rest: number;
}

/**
 * The two numbers from two solves. One mode of magnetisation dominates: a round coil's third is predicted within 1 %, that of
 * two rows beside a bar within 3 % of the cores' share down to a tenth of χ. Where the cores add hardly more than the mesh's error,
 * that may leave numbers which no magnetisation has: N is then the nearest that one may have, and what is added at χ1 stays.
 *
 * @param chi1 chi2 susceptibilities above 0, the first the larger; @param L1 L2 the inductances that the core adds, H per turn²; L1 above
 * `rest`, what bars add by themselves
 * Source: a mode's demagnetising factor lies between 0 and 1, [Brown1962] ch. 4.
 */
export function fitCore(chi1: number, L1: number, chi2: number, L2: number, rest = 0): CoreFit {
  const full = L1 - rest;
  const weak = L2 - rest;
  // From a = ΔL (1 + N χ)/χ of both.
  const bent = chi1 * chi2 * (full - weak);
  const N = bent > 0 ? Math.min(1, Math.max(0, (chi1 * weak - chi2 * full) / bent)) : 1;
  return { a: (full * (1 + N * chi1)) / chi1, N, rest };
}

/** What the coil's cores are to an alternating field: one kind of pole to a row, or a blade. */
export interface PoleMetal {
  /** Of a blade half its thickness, m. */
  readonly radius: number;
  /** Relative permeability at low frequency. */
  readonly mu: number;
  /** S/m, 0 for an insulator. */
  readonly conductivity: number;
  /** A blade and no round pole. */
  readonly flat?: boolean;
  /** Hz, at which its permeability relaxes; absent: it doesn't. */
  readonly relaxation?: number;
}

/**
 * Complex core inductance at s = sRe + j sIm (rad/s), H per turn²: at jω, out.re adds to the inductance, −ω out.im is the
 * loss in ohms per turn². χ becomes µr(s) F(s) − 1, the fit's two numbers stay.
 */
export function coreInductanceAt(
  fit: CoreFit,
  metal: PoleMetal,
  sRe: number,
  sIm: number,
  out: ComplexSlot,
): void {
  eddyFactorAt(sRe, sIm, metal, out);
  const re = mu.re * out.re - mu.im * out.im - 1;
  const im = mu.re * out.im + mu.im * out.re;
  const dRe = 1 + fit.N * re;
  const dIm = fit.N * im;
  const scale = fit.a / (dRe * dRe + dIm * dIm);
  out.re = fit.rest + scale * (re * dRe + im * dIm);
  out.im = scale * (im * dRe - re * dIm);
}

/** What the cores add at the lowest frequencies, H per turn². */
export function stillInductance(fit: CoreFit, metal: PoleMetal): number {
  return fit.rest + (fit.a * (metal.mu - 1)) / (1 + fit.N * (metal.mu - 1));
}
