/**
 * Complex numbers as pairs of plain numbers, complex vectors as two Float64Arrays: nothing is allocated a number,
 * so the inner loops of the circuit and the field stay free of garbage.
 */

/** A complex vector; both arrays have the same length. */
export interface ComplexArray {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** A complex vector of zeros. */
export function complexArray(length: number): ComplexArray {
  return { re: new Float64Array(length), im: new Float64Array(length) };
}

/**
 * (aRe + j aIm) / (bRe + j bIm) into out.re[at], out.im[at].
 *
 * Smith's method: dividing by the larger part first, so that |b|² neither overflows nor underflows. A zero divisor
 * gives infinities or NaN, as real division does; callers rule it out. Source: [Smith1962].
 */
export function divideInto(
  out: ComplexArray,
  at: number,
  aRe: number,
  aIm: number,
  bRe: number,
  bIm: number,
): void {
  if (Math.abs(bRe) >= Math.abs(bIm)) {
    const ratio = bIm / bRe;
    const scale = 1 / (bRe + bIm * ratio);
    out.re[at] = (aRe + aIm * ratio) * scale;
    out.im[at] = (aIm - aRe * ratio) * scale;
  } else {
    const ratio = bRe / bIm;
    const scale = 1 / (bRe * ratio + bIm);
    out.re[at] = (aRe * ratio + aIm) * scale;
    out.im[at] = (aIm * ratio - aRe) * scale;
  }
}

/** Level of a complex amplitude, 20 log₁₀|z|, dB; −Infinity for zero. */
export function decibels(re: number, im: number): number {
  return 20 * Math.log10(Math.hypot(re, im));
}
