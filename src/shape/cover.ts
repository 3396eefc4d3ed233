/** Where a cover and a base plate lie about a pickup's parts; both are centred about it. Frame as in parts.ts, m. */
import { FLANGE, HOLE_ROOM, SIDE_ROOM } from './bobbin.ts';
import { blocksOf, type PickupParts, type RowPart } from './parts.ts';
import { topDiameter, type PoleForm } from './pole.ts';
import { polesIn, poleUnder } from './singlePole.ts';

/** z of a row's lowest pole's foot; Infinity of a row without poles. */
export const lowestFoot = (row: Pick<RowPart, 'heights' | 'pole' | 'own'>): number =>
  Math.min(...row.heights.map((top, k) => (top === null ? Infinity : top - poleUnder(row, k).length)));

/** Of a row's poles, the widest by `wide`, m: its holes are all alike. */
export const widestPole = (
  row: Pick<RowPart, 'heights' | 'pole' | 'own'>,
  wide: (pole: PoleForm) => number,
): number => Math.max(wide(row.pole), ...polesIn(row, row.heights.length).map(wide));

/** z of the upper face of a cover's top; −Infinity without a cover. */
export const coverTop = ({ cover }: Pick<PickupParts, 'cover'>): number =>
  cover ? cover.clearance + cover.thickness : -Infinity;

/** z to which a cover's walls reach: the bobbins' lower flange; Infinity without a coil. */
export const coverRim = ({ rows }: Pick<PickupParts, 'rows'>): number =>
  Math.min(...rows.map(({ winding }) => (winding ? winding.bottom - FLANGE : Infinity)));

/** z of a base plate's upper face: just under the bobbins, the bars, the steel and every pole but a screw, which goes through it. */
export function basePlateTop(parts: Pick<PickupParts, 'rows' | 'bars' | 'steel'>): number {
  const { rows } = parts;
  const feet = rows.filter(({ pole }) => !pole.head).map(lowestFoot);
  const under = blocksOf(parts).map(({ centre, size }) => centre.z - 0.5 * size.z);
  return Math.min(coverRim({ rows }), ...feet, ...under);
}

/** Half of a box along x and y. */
export interface Halves {
  readonly x: number;
  readonly y: number;
}

/** Of a row without a coil: half of its widest pole; 0 where none stands. */
const halfPole = (row: RowPart): number =>
  row.heights.length === 0 ? 0 : 0.5 * widestPole(row, topDiameter);

/**
 * From the pickup's centre to the inside of a cover's wall, or without a cover to the edge of a base plate; with one the plate
 * ends where the wall does. A cover that reaches down over a bar or steel goes round it.
 */
export function coverInside(parts: PickupParts): Halves {
  const { rows, cover } = parts;
  const alongX = rows.map((row) => Math.abs(row.offset) + (row.winding?.edge ?? halfPole(row)));
  const alongY = rows.map(({ winding }) => (winding ? 0.5 * winding.straight + winding.edge : 0));
  const rim = cover ? coverRim({ rows }) : -Infinity;
  for (const { centre, size } of blocksOf(parts)) {
    if (centre.z + 0.5 * size.z <= rim) continue;
    alongX.push(Math.abs(centre.x) + 0.5 * size.x);
    alongY.push(Math.abs(centre.y) + 0.5 * size.y);
  }
  return { x: Math.max(...alongX) + SIDE_ROOM, y: Math.max(...alongY) + SIDE_ROOM };
}

/** The same to the outside of the wall. */
export function coverOutside(parts: PickupParts): Halves {
  const { x, y } = coverInside(parts);
  const wall = parts.cover?.thickness ?? 0;
  return { x: x + wall, y: y + wall };
}

/** Of a hole over or under a pole of this diameter. */
export const holeDiameter = (pole: number): number => pole + HOLE_ROOM;

/** Diameter of the holes in a cover over each row; null where there are none. */
export const coverHoles = ({ rows, cover }: PickupParts): readonly (number | null)[] =>
  rows.map((row, r) => (cover?.holed[r] ? holeDiameter(widestPole(row, topDiameter)) : null));

/** The same in a base plate, which has holes where poles go deeper than its upper face. */
export function basePlateHoles(parts: PickupParts): readonly (number | null)[] {
  const top = basePlateTop(parts);
  return parts.rows.map((row) =>
    lowestFoot(row) < top ? holeDiameter(widestPole(row, (pole) => pole.diameter)) : null,
  );
}
