/** A cover and a base plate as they are cut along a string through the middles of their holes, px. */
import type { Point } from '../../plot/drawing.ts';
import { coverHoles, coverOutside, coverRim, basePlateHoles, basePlateTop } from '../../shape/cover.ts';
import { pickupParts } from '../../shape/parts.ts';
import type { BasePlate, Cover, PickupBuild } from '../../sheet/build.ts';
import { between, coverOutlines, LEAST_METAL, type Span } from '../drawing/coverOutline.ts';
import type { SectionView } from './view.ts';

export function metalCuts(build: PickupBuild, view: SectionView): readonly (readonly Point[])[] {
  const { scale, middle } = view;
  const { cover, basePlate } = build;
  if (!cover && !basePlate) return [];
  const parts = pickupParts(
    build,
    view.centres.map((centre) => (middle - centre) / scale),
  );
  const half = coverOutside(parts).x * scale;
  const whole: Span = [middle - half, middle + half];
  return [
    ...(cover ? coverCuts(cover, whole, holesOver(view, coverHoles(parts)), coverRim(parts), view) : []),
    ...(basePlate
      ? plateCuts(basePlate, whole, holesOver(view, basePlateHoles(parts)), basePlateTop(parts), view)
      : []),
  ];
}

/** Holes of these diameters, m, over some of the rows. */
function holesOver(view: SectionView, diameters: readonly (number | null)[]): Span[] {
  return diameters.flatMap((diameter, r): Span[] => {
    if (diameter === null) return [];
    const half = (diameter / 2) * view.scale;
    const centre = view.centres[r] ?? view.middle;
    return [[centre - half, centre + half]];
  });
}

const coverCuts = (
  cover: Cover,
  whole: Span,
  holes: readonly Span[],
  rim: number,
  view: SectionView,
): Point[][] =>
  coverOutlines({
    whole,
    holes,
    under: view.z.to(cover.clearance),
    foot: view.z.to(rim),
    thick: Math.max(cover.thickness * view.scale, LEAST_METAL),
  });

function plateCuts(
  { thickness }: BasePlate,
  whole: Span,
  holes: readonly Span[],
  upper: number,
  view: SectionView,
): Point[][] {
  const top = view.z.to(upper);
  const bottom = top + Math.max(thickness * view.scale, LEAST_METAL);
  return between(whole, holes).map(([from, to]) => [
    { x: from, y: top },
    { x: to, y: top },
    { x: to, y: bottom },
    { x: from, y: bottom },
  ]);
}
