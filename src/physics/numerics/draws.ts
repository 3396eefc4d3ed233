/** What chance gives: seeded, the same again for the same seed, and evenly spread even when there are few. */

/** Pieces lie within so many standard deviations; what lies beyond (3 in 1000) is no piece that anyone sells. */
export const FARTHEST = 3;
/** Of the table below, in standard deviations. */
const STEP = 0.005;

/** Share of a normal distribution cut at ± FARTHEST that lies below −FARTHEST + i · STEP. */
const BELOW = below();

/** By the trapezoid rule: 1e-6 at most. */
function below(): Float64Array {
  const density = (z: number): number => Math.exp(-0.5 * z * z);
  const sums = new Float64Array(Math.round((2 * FARTHEST) / STEP) + 1);
  for (let i = 1; i < sums.length; i++)
    sums[i] = sums[i - 1]! + 0.5 * (density(-FARTHEST + (i - 1) * STEP) + density(-FARTHEST + i * STEP));
  return sums.map((sum) => sum / sums.at(-1)!);
}

/** Standard deviations below which a share (0–1) of the cut distribution lies. */
export function deviationAt(share: number): number {
  let [low, high] = [0, BELOW.length - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (BELOW[middle]! <= share) low = middle;
    else high = middle;
  }
  const within = (share - BELOW[low]!) / (BELOW[high]! - BELOW[low]!);
  return -FARTHEST + (low + Math.min(1, Math.max(0, within))) * STEP;
}

/** Even numbers from 0 to 1 out of a seed: a counter whose bits are mixed by multiplying and shifting. Source: [Steele2014]. */
export function chance(seed: number): () => number {
  let counter = seed | 0;
  return () => {
    counter = (counter + 0x9e3779b9) | 0;
    let bits = counter;
    bits = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
    bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
    return ((bits ^ (bits >>> 16)) >>> 0) / 2 ** 32;
  };
}

/**
 * Draws of several things that vary by themselves, in standard deviations of a normal distribution cut at ± FARTHEST: of each
 * thing, `count` of them, one in each of as many equally likely strips, in an order of its own. Source: [McKay1979].
 */
export function evenDraws(seed: number, things: number, count: number): readonly Float64Array[] {
  return Array.from({ length: things }, (_, thing) => {
    const next = chance(Math.imul(seed, 0x2c1b3c6d) ^ Math.imul(thing + 1, 0x297a2d39));
    const strips = Float64Array.from({ length: count }, (_strip, i) => i);
    for (let i = count - 1; i > 0; i--) {
      const j = Math.floor(next() * (i + 1));
      [strips[i], strips[j]] = [strips[j]!, strips[i]!];
    }
    return strips.map((strip) => deviationAt((strip + next()) / count));
  });
}
