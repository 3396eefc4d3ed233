/** The cover as it is cut across the strings through one row of poles, px; broken off where the drawing ends. */
import type { Point } from '../../plot/drawing.ts';
import { HOLE_ROOM } from '../../shape/bobbin.ts';
import { hasHoles, sheetPlace, widthAtTop } from '../../sheet/coverPlace.ts';
import type { PickupBuild } from '../../sheet/sheet.ts';
import { coverOutlines, LEAST_METAL, type Span } from '../drawing/coverOutline.ts';
import { poleAt, type AcrossView } from './view.ts';

/** @param row of poles, from 0 */
export function coverCut(build: PickupBuild, row: number, view: AcrossView): readonly (readonly Point[])[] {
  const { cover } = build;
  const of = build.rows[row];
  if (!cover || !of) return [];
  const { halfY, rim } = sheetPlace(build, []);
  const half = (widthAtTop(of.pole) + HOLE_ROOM) / 2;
  const holes = hasHoles(cover, row)
    ? of.pole.heights.map((_, k): Span => [view.x(poleAt(build, k) - half), view.x(poleAt(build, k) + half)])
    : [];
  return coverOutlines({
    whole: [view.x(-halfY), view.x(halfY)],
    holes,
    under: view.z(cover.clearance),
    foot: view.z(Math.max(rim, view.cut)),
    thick: Math.max(cover.thickness * view.scale, LEAST_METAL),
  });
}
