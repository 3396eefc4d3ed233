/** What is read off a measured curve as it comes: how its points lie, and where it peaks. */

/** A peak stands so much above the lowest place on either side of it, dB: noise is below. */
const PROMINENT = 0.5;
/** Points within so many dB of the highest say where the peak is, the more the higher they lie; and those beside it at least a little. */
const CAP = 1;
const LEAST = 1e-3;

/**
 * Weights of measured points, 1: the width in ln f that each stands for, all together 1. So a curve counts alike whether its
 * points lie evenly in Hz or in octaves.
 *
 * @param frequencies Hz, rising
 */
export function widths(frequencies: Float64Array): Float64Array {
  const n = frequencies.length;
  const ln = frequencies.map(Math.log);
  const all = ln.map((_, i) => (ln[Math.min(n - 1, i + 1)]! - ln[Math.max(0, i - 1)]!) / 2);
  const sum = all.reduce((a, b) => a + b, 0);
  return all.map((width) => width / sum);
}

/**
 * Where a curve peaks: the apex of the parabola of least squares (in ln f) through all points within 1 dB of the highest, which
 * several points of a noisy curve share. Weights fall to nothing at the edge, so that the apex moves evenly with the curve.
 *
 * @param frequencies Hz, rising @param decibels dB
 * @returns Hz; null where the highest point is at an end or does not stand out
 */
export function peakOf(frequencies: Float64Array, decibels: Float64Array): number | null {
  let top = 0;
  decibels.forEach((level, i) => {
    if (level > decibels[top]!) top = i;
  });
  const last = decibels.length - 1;
  if (top === 0 || top === last) return null;
  const high = decibels[top]!;
  if (high - Math.min(...decibels.subarray(0, top)) < PROMINENT) return null;
  if (high - Math.min(...decibels.subarray(top + 1)) < PROMINENT) return null;
  let from = top - 1;
  let to = top + 1;
  while (from > 0 && decibels[from - 1]! > high - CAP) from--;
  while (to < last && decibels[to + 1]! > high - CAP) to++;
  const near = Array.from({ length: to - from + 1 }, (_, k) => from + k);
  const apex = parabola(
    near.map((i) => Math.log(frequencies[i]! / frequencies[top]!)),
    near.map((i) => decibels[i]! - high),
    near.map((i) => Math.max(LEAST, 1 + (decibels[i]! - high) / CAP)),
  );
  const [low, up] = [frequencies[from]!, frequencies[to]!];
  return Math.min(up, Math.max(low, frequencies[top]! * Math.exp(apex ?? 0)));
}

/** Apex of the parabola of least squares, unit of x; null where it opens upwards. @param weight of each point, 1 */
function parabola(x: readonly number[], y: readonly number[], weight: readonly number[]): number | null {
  const dot = (a: readonly number[], b: readonly number[]): number =>
    a.reduce((sum, v, i) => sum + weight[i]! * v * b[i]!, 0);
  const ones = x.map(() => 1);
  const all = dot(ones, ones);
  const mean = dot(x, ones) / all;
  // Polynomials of degree 0, 1 and 2 that are orthogonal on the points, so that each coefficient is a quotient.
  const u = x.map((v) => v - mean);
  const uu = dot(u, u);
  const tilt =
    dot(
      u,
      u.map((v) => v * v),
    ) / uu;
  const q = u.map((v) => v * v - uu / all - tilt * v);
  const qq = dot(q, q);
  if (!(qq > 0)) return null;
  const curved = dot(y, q) / qq;
  const slope = dot(y, u) / uu;
  return curved < 0 ? mean + tilt / 2 - slope / (2 * curved) : null;
}
