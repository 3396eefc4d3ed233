/** Where the figures of contour lines stand: on their lines, clear of each other and of what is drawn besides. */
import type { Point } from './hatch.ts';

export interface LabelInput {
  /** Of every line in turn its points, x and y alternately, px; a figure is given to each that has room for one. */
  readonly lines: readonly ArrayLike<number>[];
  /** Where no figure may stand nearer than `clear` px. */
  readonly obstacles: readonly Point[];
  readonly clear: number;
  /** Least distance of two figures, px. */
  readonly apart: number;
  /** What is seen, px; figures keep `clear` from its edge. */
  readonly width: number;
  readonly height: number;
}

/**
 * One place a line, or null where it has no room. Each takes the point of its line that is farthest from all figures
 * before it, so that they go round a nest of lines instead of hiding it.
 */
export function contourLabels(input: LabelInput): readonly (Point | null)[] {
  const { lines, obstacles, clear, apart, width, height } = input;
  const taken: Point[] = [];
  return lines.map((line) => {
    let best: Point | null = null;
    let room = 0;
    for (let k = 0; k + 1 < line.length; k += 2) {
      const x = line[k]!;
      const y = line[k + 1]!;
      if (x < clear || y < clear || x > width - clear || y > height - clear) continue;
      if (nearest(obstacles, x, y) < clear) continue;
      const free = nearest(taken, x, y);
      if (free < apart || free <= room) continue;
      room = free;
      best = { x, y };
    }
    if (best) taken.push(best);
    return best;
  });
}

function nearest(points: readonly Point[], x: number, y: number): number {
  let least = Infinity;
  for (const p of points) least = Math.min(least, (p.x - x) ** 2 + (p.y - y) ** 2);
  return Math.sqrt(least);
}
