/** A round coil and the rod in it, as the tests of coils share them. */
import type { WindingWindow } from '../../../../src/physics/magnetics/coil/winding.ts';

/** Profile of a rod Ø 4.85 × 17, mm. */
export const ROD = [
  [0, -17],
  [2.425, -17],
  [2.425, 0],
  [0, 0],
] as const;

/** Radii and heights in m. */
export const ring = (inner: number, outer: number, bottom: number, top: number): WindingWindow => ({
  ...{ x: 0, y: 0, straight: 0 },
  ...{ inner, outer, bottom, top },
});
