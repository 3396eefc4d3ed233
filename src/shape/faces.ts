/** What faces the strings: the tops of poles, and of bars and steel. Frame as in parts.ts, m. */
import { blocksOf, type PickupParts } from './parts.ts';
import type { Tops } from './poleRow.ts';

type Parts = Pick<PickupParts, 'bars' | 'steel'> & {
  readonly rows: readonly { readonly offset: number; readonly heights: Tops }[];
};

/** z of the highest bar or steel that a string at `y` across runs over; −Infinity where it runs over none. */
export const blockTop = (parts: Parts, y: number): number =>
  Math.max(
    -Infinity,
    ...blocksOf(parts).flatMap(({ size, centre }) =>
      Math.abs(y - centre.y) < 0.5 * size.y ? [centre.z + 0.5 * size.z] : [],
    ),
  );

/** z of the highest pole, bar or steel under string `on` (from 0), `y` across; −Infinity where there is nothing. */
export const highestUnder = (parts: Parts, on: number, y: number): number =>
  Math.max(blockTop(parts, y), ...parts.rows.map(({ heights }) => heights[on] ?? -Infinity));

/** z of what stands in a row under string `on`: its pole, else what lies on the row's centre line there, else the plane z = 0. */
export function faceUnder(parts: Parts, row: number, on: number, y: number): number {
  const { offset, heights } = parts.rows[row]!;
  const top = heights[on];
  if (typeof top === 'number') return top;
  const there = blocksOf(parts).filter(({ size, centre }) => Math.abs(offset - centre.x) < 0.5 * size.x);
  const found = blockTop({ rows: [], bars: there }, y);
  return Number.isFinite(found) ? found : 0;
}
