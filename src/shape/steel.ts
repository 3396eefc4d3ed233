/** What a piece of steel is to the pickup that it stands in. Frame as in parts.ts, m. */
import type { BlockPart, RowPart } from './parts.ts';

/** A row with its coil. */
type CoilRow = Pick<RowPart, 'offset' | 'winding'>;

/** What a maker calls it. */
export type SteelWord = 'plate' | 'wall' | 'end wall' | 'blade';

/** Two lengths differ by more than a rounding. */
const SAME = 1e-9;

/** Whether a block stands within the hole of a coil, beside at least part of it: what the coil is wound round. */
export function isThreaded({ size, centre }: BlockPart, { offset, winding }: CoilRow): boolean {
  if (!winding) return false;
  const { straight, inner, top, bottom } = winding;
  const [low, high] = [centre.z - 0.5 * size.z, centre.z + 0.5 * size.z];
  if (low > top - SAME || high < bottom + SAME) return false;
  const alongX = Math.abs(centre.x - offset) + 0.5 * size.x;
  // Its corners against the half circle at the end.
  const beyond = Math.max(0, Math.abs(centre.y) + 0.5 * size.y - 0.5 * straight);
  return Math.hypot(alongX, beyond) < inner + SAME;
}

/** By what it is thinnest along, and whether a coil is wound round it. */
export function steelWord(block: BlockPart, rows: readonly CoilRow[]): SteelWord {
  if (rows.some((row) => isThreaded(block, row))) return 'blade';
  const { x, y, z } = block.size;
  if (z <= x && z <= y) return 'plate';
  return x <= y ? 'wall' : 'end wall';
}
