/** The cover as it is cut across the strings through one row of poles, px; broken off where the drawing ends. */
import type { Point } from '../../plot/drawing.ts';
import { coverHoles, coverOutside, coverRim } from '../../shape/cover.ts';
import { pickupParts } from '../../shape/parts.ts';
import { standingPoles } from '../../shape/poleRow.ts';
import type { PickupBuild } from '../../sheet/sheet.ts';
import { coverOutlines, LEAST_METAL, type Span } from '../drawing/coverOutline.ts';
import { poleAt, type AcrossView } from './view.ts';

/** @param row of poles, from 0 */
export function coverCut(build: PickupBuild, row: number, view: AcrossView): readonly (readonly Point[])[] {
  const { cover } = build;
  const of = build.rows[row];
  if (!cover || !of) return [];
  const parts = pickupParts(build, []);
  const { y: half } = coverOutside(parts);
  const wide = coverHoles(parts)[row] ?? null;
  const hole = (k: number): Span => {
    const middle = poleAt(build, k);
    return [view.x(middle - wide! / 2), view.x(middle + wide! / 2)];
  };
  return coverOutlines({
    whole: [view.x(-half), view.x(half)],
    holes: wide === null ? [] : standingPoles(of.pole).map((_, k) => hole(k)),
    under: view.z(cover.clearance),
    foot: view.z(Math.max(coverRim(parts), view.cut)),
    thick: Math.max(cover.thickness * view.scale, LEAST_METAL),
  });
}
