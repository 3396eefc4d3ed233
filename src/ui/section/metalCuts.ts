/** A cover and a base plate as they are cut along a string through the middles of their holes, px. */
import type { Point } from '../../plot/drawing.ts';
import type { PickupBuild } from '../../sheet/build.ts';
import { HOLE_ROOM } from '../../shape/bobbin.ts';
import { hasHoles, sheetPlace, widthAtTop } from '../../sheet/coverPlace.ts';
import { between, coverOutlines, LEAST_METAL, type Span } from '../drawing/coverOutline.ts';
import type { SectionView } from './view.ts';

export function metalCuts(build: PickupBuild, view: SectionView): readonly (readonly Point[])[] {
  const { scale, middle } = view;
  if (!build.cover && !build.basePlate) return [];
  const offsets = view.centres.map((centre) => (middle - centre) / scale);
  const place = sheetPlace(build, offsets);
  const whole: Span = [middle - place.halfX * scale, middle + place.halfX * scale];
  return [...coverCuts(build, view, whole, place.rim), ...plateCuts(build, view, whole, place.plate)];
}

/** Holes of these widths, m, over some of the rows. */
function holesOver(view: SectionView, widths: readonly (number | null)[]): Span[] {
  return widths.flatMap((width, r): Span[] => {
    if (width === null) return [];
    const half = ((width + HOLE_ROOM) / 2) * view.scale;
    const centre = view.centres[r] ?? view.middle;
    return [[centre - half, centre + half]];
  });
}

function coverCuts({ cover, rows }: PickupBuild, view: SectionView, whole: Span, rim: number): Point[][] {
  if (!cover) return [];
  const open = rows.map((row, r) => (hasHoles(cover, r) ? widthAtTop(row.pole) : null));
  return coverOutlines({
    whole,
    holes: holesOver(view, open),
    under: view.z.to(cover.clearance),
    foot: view.z.to(rim),
    thick: Math.max(cover.thickness * view.scale, LEAST_METAL),
  });
}

function plateCuts(
  { basePlate, rows }: PickupBuild,
  view: SectionView,
  whole: Span,
  upper: number,
): Point[][] {
  if (!basePlate) return [];
  const top = view.z.to(upper);
  const bottom = top + Math.max(basePlate.thickness * view.scale, LEAST_METAL);
  const through = rows.map(({ pole }) =>
    Math.min(...pole.heights) - pole.length < upper ? pole.diameter : null,
  );
  return between(whole, holesOver(view, through)).map(([from, to]) => [
    { x: from, y: top },
    { x: to, y: top },
    { x: to, y: bottom },
    { x: from, y: bottom },
  ]);
}
