/** How an edge is cut so that its steps are about as long as wanted. */

/** Steps begin with this share of the thickness at an end of a box. */
export const END_STEP = 0.15;
/** And are this many radii of a pole long where it is nearest. Half of both moves the field of touching poles by 0.1 %. */
export const LEAST_STEP = 0.42;

/**
 * Inner cuts between two places (m), as shares of the way.
 *
 * @param step wanted, m, at a place in m
 * @param counted stretches in which the steps are counted
 * @param least steps
 */
export function stepped(
  from: number,
  to: number,
  step: (at: number) => number,
  counted: number,
  least = 2,
): Float64Array {
  const steps = new Float64Array(counted + 1);
  for (let i = 0; i < counted; i++) {
    const at = from + ((i + 0.5) / counted) * (to - from);
    steps[i + 1] = steps[i]! + (to - from) / counted / step(at);
  }
  const count = Math.max(least, Math.round(steps[counted]!));
  const inner = new Float64Array(count - 1);
  for (let k = 1, i = 0; k < count; k++) {
    const wanted = (k / count) * steps[counted]!;
    while (i < counted - 1 && steps[i + 1]! < wanted) i++;
    inner[k - 1] = (i + (wanted - steps[i]!) / (steps[i + 1]! - steps[i]!)) / counted;
  }
  return inner;
}

/**
 * Cuts from −½ to ½ that are as even as their bodies: what differs from its image by less than `rounding` (a share of the edge) is moved halfway.
 */
export function evened(cuts: Float64Array, rounding: number): Float64Array {
  return cuts.map((cut, k) => {
    const mean = 0.5 * (cut - cuts[cuts.length - 1 - k]!);
    return Math.abs(cut - mean) < rounding ? mean : cut;
  });
}
