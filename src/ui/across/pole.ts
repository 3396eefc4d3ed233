/** The outline of a pole seen from the side. */
import { polygonPath } from '../../plot/drawing.ts';
import { poleForm, poleOutline, type GivenPole } from '../../shape/pole.ts';

/** Path text, px: the axis at x = 0, the top at y = 0. @param scale px per m @param deepest m below the top, cut there */
export function polePath(pole: GivenPole, scale: number, deepest: number): string {
  return polygonPath(
    poleOutline(poleForm(pole)).map(({ x, z }) => ({ x: x * scale, y: Math.min(-z, deepest) * scale })),
  );
}
