/** How high the strings lie over a pickup, and what stands highest under them: light enough for the page. */
import { blocksOf } from '../../../shape/parts.ts';
import { topsOf } from '../../../shape/poleRow.ts';
import { stringArc } from '../../../shape/stringCourse.ts';
import type { BuiltPickup } from '../build/build.ts';

/** Height of every string's axis above z = 0, m. */
export function stringHeights(
  build: BuiltPickup,
  strings: readonly { readonly y: number; readonly outerDiameter: number }[],
): readonly number[] {
  const places = strings.map((string) => string.y);
  const underside = stringArc(build, build.fretboardRadius, places);
  return strings.map(({ y, outerDiameter }) => underside(y) + 0.5 * outerDiameter);
}

/** Top of the highest pole, bar or steel above z = 0, m. */
export const highestPart = (build: BuiltPickup): number =>
  Math.max(
    ...build.rows.flatMap((row) => topsOf(row.heights)),
    ...blocksOf(build).map(({ size, centre }) => centre.z + 0.5 * size.z),
  );
