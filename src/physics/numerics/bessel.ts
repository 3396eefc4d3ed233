/** Bessel functions that the eddy currents (complex J) and the wire's demagnetising factor (I, K) need. */

/** A complex number that a function fills in, so that loops allocate nothing. */
export interface ComplexSlot {
  re: number;
  im: number;
}

/** Terms of the downward recurrences: enough that the starting error is below the last digit at |z|. */
function startOrder(modulus: number): number {
  return 2 * Math.ceil(0.5 * (modulus + 20 + 6 * Math.cbrt(modulus) + Math.sqrt(40 * modulus)));
}

/**
 * J₀(z) and J₁(z) for complex z, |z| below about 600 (e^{|Im z|} must not overflow).
 *
 * Source: Miller's downward recurrence, DLMF 3.6(iii) with 10.6.1, normalised by the generating function
 * e^{∓iz} = J₀ + 2 Σ (∓i)ᵏ Jₖ, DLMF 10.12.1 [DLMF]; the sign is the one for which the sum does not cancel.
 * Digits: relative 1e-13 away from the real zeros.
 */
export function besselJ01(re: number, im: number, j0: ComplexSlot, j1: ComplexSlot): void {
  const modulus2 = re * re + im * im;
  if (modulus2 === 0) {
    j0.re = 1;
    j0.im = 0;
    j1.re = 0;
    j1.im = 0;
    return;
  }
  const start = startOrder(Math.sqrt(modulus2));
  // 1/z
  const ire = re / modulus2;
  const iim = -im / modulus2;
  const sign = im >= 0 ? -1 : 1;
  let upRe = 0;
  let upIm = 0;
  let nowRe = 1e-290; // Any tiny start; the normalisation takes it out. Grows by less than 1e308 in range.
  let nowIm = 0;
  let sumRe = 0;
  let sumIm = 0;
  for (let k = start; k >= 1; k--) {
    // Add 2 (±i)^k J_k.
    const turn = (((sign * k) % 4) + 4) % 4;
    if (turn === 0) {
      sumRe += 2 * nowRe;
      sumIm += 2 * nowIm;
    } else if (turn === 1) {
      sumRe -= 2 * nowIm;
      sumIm += 2 * nowRe;
    } else if (turn === 2) {
      sumRe -= 2 * nowRe;
      sumIm -= 2 * nowIm;
    } else {
      sumRe += 2 * nowIm;
      sumIm -= 2 * nowRe;
    }
    const factorRe = 2 * k * ire;
    const factorIm = 2 * k * iim;
    const downRe = factorRe * nowRe - factorIm * nowIm - upRe;
    const downIm = factorRe * nowIm + factorIm * nowRe - upIm;
    upRe = nowRe;
    upIm = nowIm;
    nowRe = downRe;
    nowIm = downIm;
    const size = Math.abs(nowRe) + Math.abs(nowIm);
    if (size > 1e150) {
      const scale = 1 / size;
      upRe *= scale;
      upIm *= scale;
      nowRe *= scale;
      nowIm *= scale;
      sumRe *= scale;
      sumIm *= scale;
    }
  }
  sumRe += nowRe;
  sumIm += nowIm;
  // Bring the three to order one first: the square of a sum near 1e-290 would underflow.
  const unit = 1 / (Math.abs(sumRe) + Math.abs(sumIm));
  sumRe *= unit;
  sumIm *= unit;
  nowRe *= unit;
  nowIm *= unit;
  upRe *= unit;
  upIm *= unit;
  // exp(sign · i z)
  const grow = Math.exp(-sign * im);
  const eRe = grow * Math.cos(sign * re);
  const eIm = grow * Math.sin(sign * re);
  const norm = sumRe * sumRe + sumIm * sumIm;
  const sRe = (eRe * sumRe + eIm * sumIm) / norm;
  const sIm = (eIm * sumRe - eRe * sumIm) / norm;
  j0.re = sRe * nowRe - sIm * nowIm;
  j0.im = sRe * nowIm + sIm * nowRe;
  j1.re = sRe * upRe - sIm * upIm;
  j1.im = sRe * upIm + sIm * upRe;
}

/**
 * J₁(z)/J₀(z) for complex z of any size off the real axis; it cannot overflow where J itself does.
 *
 * Source: continued fraction DLMF 10.10.1 [DLMF], evaluated from the far end. Digits: 1e-14.
 */
export function besselJ1OverJ0(re: number, im: number, out: ComplexSlot): void {
  const modulus2 = re * re + im * im;
  if (modulus2 === 0) {
    out.re = 0;
    out.im = 0;
    return;
  }
  const ire = re / modulus2;
  const iim = -im / modulus2;
  let ratioRe = 0;
  let ratioIm = 0;
  for (let k = startOrder(Math.sqrt(modulus2)); k >= 1; k--) {
    const dRe = 2 * k * ire - ratioRe;
    const dIm = 2 * k * iim - ratioIm;
    const norm = dRe * dRe + dIm * dIm;
    ratioRe = dRe / norm;
    ratioIm = -dIm / norm;
  }
  out.re = ratioRe;
  out.im = ratioIm;
}

/** e^{−x} I₀(x) and e^{−x} I₁(x), x ≥ 0, both at once. */
function scaledI01(x: number): readonly [number, number] {
  if (x === 0) return [1, 0];
  let up = 0;
  let now = 1e-290;
  let sum = 0;
  for (let k = startOrder(x); k >= 1; k--) {
    sum += 2 * now;
    const down = ((2 * k) / x) * now + up;
    up = now;
    now = down;
    if (now > 1e150) {
      up /= now;
      sum /= now;
      now = 1;
    }
  }
  sum += now;
  return [now / sum, up / sum];
}

/** e^{x} K_ν(x), x > 0, for order 0 or 1. */
function scaledK(order: 0 | 1, x: number): number {
  // The error of the trapezoidal rule is about e^{−π²/step}, and e^{−2π²/(x step²)} once the integrand has shrunk
  // to a bell of width 1/√x: both below 1e-17.
  const step = Math.min(0.1, 0.7 / Math.sqrt(x));
  let sum = 0.5;
  for (let n = 1; ; n++) {
    const t = n * step;
    // cosh t − 1 without cancellation.
    const half = Math.sinh(0.5 * t);
    const decay = Math.exp(-2 * x * half * half);
    const term = order === 0 ? decay : decay * Math.cosh(t);
    sum += term;
    // Terms fall doubly exponentially once x cosh t exceeds 1: the rest is below the last digit.
    if (term < 1e-18 * sum) break;
  }
  return step * sum;
}

/** Modified Bessel function I₀(x), x real. Source: Miller's recurrence normalised by DLMF 10.35.5 [DLMF]. */
export function besselI0(x: number): number {
  return Math.exp(Math.abs(x)) * scaledI01(Math.abs(x))[0];
}

/** Modified Bessel function I₁(x), x real. Source as for I₀. */
export function besselI1(x: number): number {
  return Math.sign(x) * Math.exp(Math.abs(x)) * scaledI01(Math.abs(x))[1];
}

/** Modified Bessel function K₀(x), x > 0. Source: DLMF 10.32.9 by the trapezoidal rule [TrefethenWeideman2014]. */
export function besselK0(x: number): number {
  return Math.exp(-x) * scaledK(0, x);
}

/** Modified Bessel function K₁(x), x > 0. Source as for K₀. */
export function besselK1(x: number): number {
  return Math.exp(-x) * scaledK(1, x);
}

/** x I₁(x) K₀(x), the demagnetising factor of a long wire at x = ka ≥ 0; it never over- or underflows. */
export function wireDemagnetising(x: number): number {
  return x === 0 ? 0 : x * scaledI01(x)[1] * scaledK(0, x);
}

/** 2 I₁(x)/x, the mean over a wire's section of a field that varies as I₀. 1 at x = 0. */
export function sectionMean(x: number): number {
  return x < 1e-8 ? 1 : (2 * besselI1(x)) / x;
}
