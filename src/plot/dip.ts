/** The dip of a curve between two humps. */

/** A local minimum and how deep it is. */
export interface Dip {
  /** Same unit as x. */
  readonly x: number;
  /** Magnitude there, same unit as the values. */
  readonly value: number;
  /** Share of the lower of the two humps that is missing, 0–1. */
  readonly depth: number;
}

/** Less than this share of the lower hump is no dip that anyone sees. */
const SHALLOWEST = 0.03;

/**
 * The dip of a curve's magnitude about a place: the least between the highest point on either side, within `half` of the place.
 * @param x rising, evenly; @param half how far the humps may lie apart from the place, same unit
 * @returns null where the curve has one hump there
 */
export function dipAbout(
  x: ArrayLike<number>,
  value: ArrayLike<number>,
  place: number,
  half: number,
): Dip | null {
  const size = (i: number): number => Math.abs(value[i]!);
  let left = -1;
  let right = -1;
  for (let i = 0; i < Math.min(x.length, value.length); i++) {
    if (Math.abs(x[i]! - place) > half) continue;
    if (x[i]! <= place && (left < 0 || size(i) > size(left))) left = i;
    if (x[i]! >= place && (right < 0 || size(i) > size(right))) right = i;
  }
  if (left < 0 || right < 0) return null;
  let least = left;
  for (let i = left; i <= right; i++) if (size(i) < size(least)) least = i;
  const hump = Math.min(size(left), size(right));
  const depth = hump > 0 ? 1 - size(least) / hump : 0;
  return depth < SHALLOWEST ? null : { x: x[least]!, value: size(least), depth };
}
