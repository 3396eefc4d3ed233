/** The racetrack that a winding takes up, seen from above. Frame as in parts.ts, m. */
import type { BlockPart } from './parts.ts';

/** Two straight sides along y and two half circles about a row's centre, from `inner` to `outer` from its middle line. */
export interface CoilRing {
  readonly offset: number;
  readonly straight: number;
  readonly inner: number;
  readonly outer: number;
}

/** Differences of a rounding. */
const SAME = 1e-9;

/** Whether a block, seen from above, covers part of the winding; heights are not asked. */
export function coilMeets(
  { size, centre }: BlockPart,
  { offset, straight, inner, outer }: CoilRing,
): boolean {
  const aside = Math.abs(centre.x - offset);
  const along = Math.abs(centre.y);
  const [halfX, halfY, half] = [0.5 * size.x, 0.5 * size.y, 0.5 * straight];
  // From the middle line to the block's nearest point and to its farthest, a corner.
  const nearest = Math.hypot(Math.max(0, aside - halfX), Math.max(0, along - halfY - half));
  const farthest = Math.hypot(aside + halfX, Math.max(0, along + halfY - half));
  return nearest < outer - SAME && farthest > inner + SAME;
}
