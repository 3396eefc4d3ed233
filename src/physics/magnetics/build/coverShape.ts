/** A cover and a base plate as thin plates: where a build puts them. */
import { FLANGE, HOLE_ROOM, SIDE_ROOM } from '../../../shape/bobbin.ts';
import { polePlaces } from '../../../shape/poleRow.ts';
import type { BuiltPickup, BuiltRow } from './build.ts';
import type { PlateHole, PlateShape } from '../plates/plateMesh.ts';

/** A plate in its place, with the resistance of a square of it, Ω. */
export interface PlacedPlate extends PlateShape {
  readonly square: number;
}

/** A round hole as a square one of the same area. */
const SQUARE = Math.sqrt(Math.PI) / 2;

/** z of the upper face of a cover's top, m; −Infinity without a cover. */
export const coverTop = ({ cover }: BuiltPickup): number =>
  cover ? cover.clearance + cover.thickness : -Infinity;

/** z of a base plate's upper face, m: just under the bobbins, the bar and every pole but a screw. */
export function basePlateTop({ rows, bars }: BuiltPickup): number {
  const lowest = rows.map(({ winding }) => winding.bottom - FLANGE);
  for (const { pole, heights } of rows) {
    if (!passesPlate(pole)) lowest.push(Math.min(...heights) - pole.length);
  }
  for (const { centre, size } of bars) lowest.push(centre.z - 0.5 * size.z);
  return Math.min(...lowest);
}

/** Screws go through the plate, rods and slugs stand on it. */
const passesPlate = (pole: BuiltRow['pole']): boolean => pole.kind === 'steel' && pole.head !== null;

/** Half of what the plates reach along x and y, the middle of a cover's wall, m. */
function halves({ rows, bars, cover }: BuiltPickup): readonly [number, number] {
  const room = SIDE_ROOM + 0.5 * (cover?.thickness ?? 0);
  const reachX = rows.map(({ offset, winding }) => Math.abs(offset) + winding.edge);
  const reachY = rows.map(({ winding }) => 0.5 * winding.straight + winding.edge);
  // A cover that reaches down over a bar goes round it.
  const bottom = cover ? coverBottom({ rows, bars }) : -Infinity;
  for (const { centre, size } of bars) {
    if (centre.z + 0.5 * size.z <= bottom) continue;
    reachX.push(Math.abs(centre.x) + 0.5 * size.x);
    reachY.push(0.5 * size.y);
  }
  return [Math.max(...reachX) + room, Math.max(...reachY) + room];
}

/** z to which a cover's walls reach: the bobbins' lower flange. */
const coverBottom = ({ rows }: Pick<BuiltPickup, 'rows' | 'bars'>): number =>
  Math.min(...rows.map(({ winding }) => winding.bottom - FLANGE));

/** The cover, the base plate, or both, in that order. */
export function placedPlates(build: BuiltPickup): readonly PlacedPlate[] {
  const { cover, basePlate } = build;
  if (!cover && !basePlate) return [];
  const [halfX, halfY] = halves(build);
  const plates: PlacedPlate[] = [];
  if (cover) {
    plates.push({
      halfX,
      halfY,
      top: cover.clearance + 0.5 * cover.thickness,
      bottom: coverBottom(build),
      holes: build.rows.flatMap((row, r) => (cover.holed[r] ? holesOf(row, topDiameter(row)) : [])),
      square: cover.resistivity / cover.thickness,
    });
  }
  if (basePlate) {
    const top = basePlateTop(build);
    const middle = top - 0.5 * basePlate.thickness;
    plates.push({
      halfX,
      halfY,
      top: middle,
      bottom: middle,
      holes: build.rows.flatMap((row) =>
        Math.min(...row.heights) - row.pole.length < top ? holesOf(row, row.pole.diameter) : [],
      ),
      square: basePlate.resistivity / basePlate.thickness,
    });
  }
  return plates;
}

/** Diameter of what stands in a cover's hole, m. */
export const topDiameter = ({ pole }: BuiltRow): number =>
  pole.kind === 'steel' && pole.head ? pole.head.diameter : pole.diameter;

/** Of the square hole that stands for a round one over a pole of this diameter, m. */
export const holeWidth = (diameter: number): number => SQUARE * (diameter + HOLE_ROOM);

function holesOf(row: BuiltRow, diameter: number): readonly PlateHole[] {
  return polePlaces(row)
    .filter((y) => y > -1e-9)
    .map((y) => ({ x: row.offset, y: Math.max(0, y), width: holeWidth(diameter) }));
}
