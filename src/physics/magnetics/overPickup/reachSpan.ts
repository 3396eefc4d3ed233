/** Where a reach lies, and how much of it there is: light enough for the page. */

/** Share of a Gaussian bell that lies within its full width at half maximum: erf √(ln 2). */
const WITHIN_HALF = 0.7609681085504878;

/**
 * Where a reach lies: the part of it that holds 76 % of ∫|S| dx, as much being left out at either end; for a Gaussian bell
 * its width is the full width at half maximum. Over a pole the reach has two humps, since there the string is magnetised
 * to either side, and one hump may be lower than the other: half a maximum would jump when the lower one comes to it,
 * this does not.
 *
 * @param step between samples, m
 * @returns width and place of its middle, m from the middle of the samples; 0 and 0 for a reach of nothing
 */
export function reachSpan(
  S: Float64Array,
  step: number,
): { readonly width: number; readonly middle: number } {
  let whole = 0;
  for (const value of S) whole += Math.abs(value);
  if (!(whole > 0)) return { width: 0, middle: 0 };
  const outside = 0.5 * (1 - WITHIN_HALF) * whole;
  /** Samples from one end to where so much lies outside; a sample stands for a step of even height about it. */
  const inwards = (at: (i: number) => number): number => {
    let left = outside;
    for (let i = 0; i < S.length; i++) {
      const here = Math.abs(S[at(i)]!);
      if (here > left) return i + left / here;
      left -= here;
    }
    return S.length;
  };
  const first = inwards((i) => i);
  const last = inwards((i) => S.length - 1 - i);
  return { width: (S.length - first - last) * step, middle: 0.5 * (first - last) * step };
}

/** ∫ S dx, Wb/m per turn: V for a string that moves at 1 m/s as a whole. @param step between samples, m */
export function reachArea(S: Float64Array, step: number): number {
  let sum = 0;
  for (const value of S) sum += value;
  return sum * step;
}
