/** A cover and a base plate as they are cut along a string through the middles of their holes, px. */
import type { Point } from '../../plot/drawing.ts';
import type { PickupBuild } from '../../sheet/build.ts';
import { hasHoles, HOLE_ROOM, sheetPlace, widthAtTop } from '../../sheet/coverPlace.ts';
import type { SectionView } from './view.ts';

/** Thinner than this a sheet would be no more than its outline, px. */
const LEAST = 2.5;

/** From here to there, px. */
type Span = readonly [from: number, to: number];

export function sheetCuts(build: PickupBuild, view: SectionView): readonly (readonly Point[])[] {
  const { scale, middle } = view;
  if (!build.cover && !build.basePlate) return [];
  const offsets = view.centres.map((centre) => (middle - centre) / scale);
  const place = sheetPlace(build, offsets);
  const whole: Span = [middle - place.halfX * scale, middle + place.halfX * scale];
  return [...coverCuts(build, view, whole, place.rim), ...plateCuts(build, view, whole, place.plate)];
}

/** What is left of a sheet between holes of these widths, m, over some of the rows. */
function between(view: SectionView, [from, to]: Span, widths: readonly (number | null)[]): Span[] {
  const holes = widths
    .flatMap((width, r) => {
      const half = width === null ? null : ((width + HOLE_ROOM) / 2) * view.scale;
      const centre = view.centres[r] ?? view.middle;
      return half === null ? [] : [centre - half, centre + half];
    })
    .sort((a, b) => a - b);
  const edges = [from, ...holes, to];
  return edges.flatMap((edge, i): Span[] => (i % 2 === 0 ? [[edge, edges[i + 1]!]] : []));
}

function coverCuts({ cover, rows }: PickupBuild, view: SectionView, whole: Span, rim: number): Point[][] {
  if (!cover) return [];
  const thick = Math.max(cover.thickness * view.scale, LEAST);
  const under = view.z.to(cover.clearance);
  const foot = view.z.to(rim);
  const open = rows.map((row, r) => (hasHoles(cover, r) ? widthAtTop(row.pole) : null));
  return between(view, whole, open).map(([from, to]) => {
    /** Down the wall's outside and up its inside, or straight through at a hole. */
    const end = (x: number, inwards: 1 | -1): Point[] => {
      if (x !== whole[0] && x !== whole[1]) return [{ x, y: under }];
      const inner = x + inwards * thick;
      return [
        { x, y: foot },
        { x: inner, y: foot },
        { x: inner, y: under },
      ];
    };
    const top = under - thick;
    return [{ x: from, y: top }, { x: to, y: top }, ...end(to, -1), ...end(from, 1).toReversed()];
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
  const bottom = top + Math.max(basePlate.thickness * view.scale, LEAST);
  const through = rows.map(({ pole }) =>
    Math.min(...pole.heights) - pole.length < upper ? pole.diameter : null,
  );
  return between(view, whole, through).map(([from, to]) => [
    { x: from, y: top },
    { x: to, y: top },
    { x: to, y: bottom },
    { x: from, y: bottom },
  ]);
}
