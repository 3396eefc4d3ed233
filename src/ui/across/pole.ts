/** The outline of a pole seen from the side. */
import { polygonPath } from '../../plot/drawing.ts';
import type { Point } from '../../plot/hatch.ts';
import type { Pole } from '../../sheet/sheet.ts';

/** A cone is filed to a flat this wide over its base. */
const CONE_FLAT = 0.1;
/** Chords for half of a dome: the eye takes it for round at any scale of the drawing. */
const DOME_CHORDS = 8;

/** From the middle of the tip down the treble side: distance from the axis and depth below the top, m. */
function halfOutline({ kind, diameter, length, tip, head }: Pole): readonly Point[] {
  const screw = kind === 'screw';
  const top = 0.5 * (screw ? head.diameter : diameter);
  const side: Point[] = screw
    ? [
        { x: top, y: head.height },
        { x: 0.5 * diameter, y: head.height },
        { x: 0.5 * diameter, y: length },
      ]
    : [{ x: top, y: length }];
  const { shape, size } = tip;
  if (shape === 'flat' || size === 0) return [{ x: top, y: 0 }, ...side];
  if (shape === 'chamfered') return [{ x: top - size, y: 0 }, { x: top, y: size }, ...side];
  if (shape === 'coned') return [{ x: CONE_FLAT * top, y: 0 }, { x: top, y: size }, ...side];
  const sphere = (top ** 2 + size ** 2) / (2 * size);
  const dome = Array.from({ length: DOME_CHORDS + 1 }, (_, i) => {
    const x = (i / DOME_CHORDS) * top;
    return { x, y: sphere - Math.sqrt(Math.max(0, sphere ** 2 - x ** 2)) };
  });
  return [...dome, ...side];
}

/** Path text, px: the axis at x = 0, the top at y = 0. @param scale px per m @param deepest m below the top, cut there */
export function polePath(pole: Pole, scale: number, deepest: number): string {
  const half = halfOutline(pole).map(({ x, y }) => ({ x: x * scale, y: Math.min(y, deepest) * scale }));
  const other = half.toReversed().map(({ x, y }) => ({ x: -x, y }));
  return polygonPath([...half, ...other]);
}
