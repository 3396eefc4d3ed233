/** A pickup's bars and steel in a maker's words. */
import { pickupParts } from '../shape/parts.ts';
import { steelWord, type SteelWord } from '../shape/steel.ts';
import type { PickupBuild } from './build.ts';

/** What a maker calls each piece of steel: «plate», «wall», «end wall», «blade». @param offsets of the rows' centres, m */
export function steelNames(build: PickupBuild, offsets: readonly number[]): readonly SteelWord[] {
  const { rows, steel = [] } = pickupParts(build, offsets);
  return steel.map((piece) => steelWord(piece, rows));
}

/** Parts of one name are told apart by their number: «bar», or «bar 1» and «bar 2». */
export const numbered = (name: string, index: number, count: number): string =>
  count > 1 ? `${name} ${index + 1}` : name;
