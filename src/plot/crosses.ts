/** Small crosses along a line, by which it is known without a colour. */
import { Pen } from './pen.ts';

/**
 * Crosses of `size` px to either side, at least `apart` px from one another along x, inside the two y. Each stands on a point
 * of the line.
 *
 * @param x rising, px @param y px; NaN makes a gap
 */
export function crosses(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  { size, apart, clip }: { size: number; apart: number; clip: readonly [number, number] },
): string {
  const pen = new Pen(1);
  let last = -Infinity;
  for (let i = 0; i < Math.min(x.length, y.length); i++) {
    const [cx, cy] = [x[i]!, y[i]!];
    if (!(cx - last >= apart && cy >= Math.min(...clip) && cy <= Math.max(...clip))) continue;
    last = cx;
    pen.move(cx - size, cy - size);
    pen.line(cx + size, cy + size);
    pen.move(cx - size, cy + size);
    pen.line(cx + size, cy - size);
  }
  return pen.text;
}
