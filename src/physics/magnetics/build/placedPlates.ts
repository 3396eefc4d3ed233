/** A cover and a base plate as thin plates: where a build puts them. */
import { coverHoles, coverInside, coverRim, basePlateHoles, basePlateTop } from '../../../shape/cover.ts';
import { polePlaces } from '../../../shape/poleRow.ts';
import type { BuiltPickup, BuiltRow } from './build.ts';
import type { PlateHole, PlateShape } from '../plates/plateMesh.ts';

/** A plate in its place, with the resistance of a square of it, Ω. */
export interface PlacedPlate extends PlateShape {
  readonly square: number;
}

/** A round hole as a square one of the same area. */
const SQUARE = Math.sqrt(Math.PI) / 2;

/** The cover, the base plate, or both, in that order; a plate lies in the middle of its metal. */
export function placedPlates(build: BuiltPickup): readonly PlacedPlate[] {
  const { cover, basePlate } = build;
  if (!cover && !basePlate) return [];
  const inside = coverInside(build);
  const wall = 0.5 * (cover?.thickness ?? 0);
  const [halfX, halfY] = [inside.x + wall, inside.y + wall];
  const plates: PlacedPlate[] = [];
  if (cover) {
    plates.push({
      halfX,
      halfY,
      top: cover.clearance + 0.5 * cover.thickness,
      bottom: coverRim(build),
      holes: holesIn(build, coverHoles(build)),
      square: cover.resistivity / cover.thickness,
    });
  }
  if (basePlate) {
    const middle = basePlateTop(build) - 0.5 * basePlate.thickness;
    plates.push({
      halfX,
      halfY,
      top: middle,
      bottom: middle,
      holes: holesIn(build, basePlateHoles(build)),
      square: basePlate.resistivity / basePlate.thickness,
    });
  }
  return plates;
}

/** Edge of the square hole that stands for a round one of this diameter, m. */
export const holeWidth = (diameter: number): number => SQUARE * diameter;

/** @param diameters of every row's holes, m; null for none */
const holesIn = ({ rows }: BuiltPickup, diameters: readonly (number | null)[]): readonly PlateHole[] =>
  rows.flatMap((row, r) => holesOf(row, diameters[r] ?? null));

function holesOf(row: BuiltRow, diameter: number | null): readonly PlateHole[] {
  if (diameter === null) return [];
  return polePlaces(row)
    .filter((y) => y > -1e-9)
    .map((y) => ({ x: row.offset, y: Math.max(0, y), width: holeWidth(diameter) }));
}
