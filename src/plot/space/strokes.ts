/** Lines in space as a draughtsman has them: what there is of them within a ball, arrowheads, chain lines. Lengths in m. */
import { dot, type SpaceView, type Triple } from './view.ts';

/** With what a line is drawn: each pen has its colour and its width. */
export type Pen = 'flux' | 'outline' | 'string' | 'thin' | 'chain';

/** Corners x, y, z in turn. */
export interface Stroke {
  readonly pen: Pen;
  readonly points: ArrayLike<number>;
  /** Where a line is as thick as what it stands for. */
  readonly thick?: number;
}

export interface Ball {
  readonly centre: Triple;
  readonly radius: number;
}

const pointAt = (points: ArrayLike<number>, k: number): Triple => [
  points[3 * k]!,
  points[3 * k + 1]!,
  points[3 * k + 2]!,
];

const along = (a: Triple, b: Triple, t: number): Triple => [
  a[0] + t * (b[0] - a[0]),
  a[1] + t * (b[1] - a[1]),
  a[2] + t * (b[2] - a[2]),
];

/** What of a straight piece lies in the ball, as shares of its way; null for nothing. */
function withinBall(a: Triple, b: Triple, { centre, radius }: Ball): readonly [number, number] | null {
  const d: Triple = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const o: Triple = [a[0] - centre[0], a[1] - centre[1], a[2] - centre[2]];
  const [A, B, C] = [dot(d, d), dot(o, d), dot(o, o) - radius * radius];
  if (A === 0) return C <= 0 ? [0, 1] : null;
  const root2 = B * B - A * C;
  if (root2 <= 0) return null;
  const root = Math.sqrt(root2);
  const from = Math.max(0, (-B - root) / A);
  const to = Math.min(1, (-B + root) / A);
  return from < to ? [from, to] : null;
}

/** The parts of a line that lie in the ball, cut where they meet it. */
export function clipped(stroke: Stroke, ball: Ball): readonly Stroke[] {
  const { points } = stroke;
  const parts: number[][] = [];
  let part: number[] | null = null;
  for (let k = 1; 3 * k < points.length; k++) {
    const a = pointAt(points, k - 1);
    const b = pointAt(points, k);
    const span = withinBall(a, b, ball);
    if (!span) {
      part = null;
      continue;
    }
    if (!part || span[0] > 0) {
      part = [...along(a, b, span[0])];
      parts.push(part);
    }
    part.push(...along(a, b, span[1]));
    if (span[1] < 1) part = null;
  }
  return parts.map((corners) => ({ ...stroke, points: corners }));
}

/** What a line may be off by once corners are left out that it hardly needs, m: a quarter of a pixel in a small drawing. */
const WITHIN = 5e-5;

/** With fewer corners, none of those left out farther than `within` (m) from where the line now runs. */
export function thinned(points: ArrayLike<number>, within: number): number[] {
  const n = points.length / 3;
  const kept = new Uint8Array(n);
  const open: (readonly [number, number])[] = [[0, n - 1]];
  for (let span = open.pop(); span; span = open.pop()) {
    const [from, to] = span;
    kept[from] = 1;
    kept[to] = 1;
    const a = pointAt(points, from);
    const b = pointAt(points, to);
    let [farthest, most] = [-1, within];
    for (let k = from + 1; k < to; k++) {
      const away = fromPiece(pointAt(points, k), a, b);
      if (away > most) [farthest, most] = [k, away];
    }
    if (farthest >= 0) open.push([from, farthest], [farthest, to]);
  }
  return Array.from({ length: n }, (_, k) => (kept[k] ? pointAt(points, k) : [])).flat();
}

/** From a point to the piece of line from a to b. */
function fromPiece(p: Triple, a: Triple, b: Triple): number {
  const d: Triple = [b[0] - a[0], b[1] - a[1], b[2] - a[2]];
  const size2 = dot(d, d);
  const t = size2 > 0 ? ((p[0] - a[0]) * d[0] + (p[1] - a[1]) * d[1] + (p[2] - a[2]) * d[2]) / size2 : 0;
  const foot = along(a, b, Math.min(1, Math.max(0, t)));
  return Math.hypot(p[0] - foot[0], p[1] - foot[1], p[2] - foot[2]);
}

/** The lines of a field, as `points` with where each ends, within a ball; of corners no more than are seen. */
export function fieldStrokes(
  points: ArrayLike<number>,
  ends: ArrayLike<number>,
  ball: Ball,
): readonly Stroke[] {
  const strokes: Stroke[] = [];
  let from = 0;
  for (let k = 0; k < ends.length; k++) {
    const line = Array.from({ length: 3 * (ends[k]! - from) }, (_, i) => points[3 * from + i]!);
    strokes.push(...clipped({ pen: 'flux', points: thinned(line, WITHIN) }, ball));
    from = ends[k]!;
  }
  return strokes;
}

/** Long dash, gap, short dash, gap: ISO 128 chain line. */
const CHAIN = [6e-3, 1e-3, 1e-3, 1e-3];

/** A straight line from a to b as the dashes of a chain line. */
export function chain(a: Triple, b: Triple): readonly Stroke[] {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]);
  const strokes: Stroke[] = [];
  for (let at = 0, k = 0; at < length; k++) {
    const to = Math.min(length, at + CHAIN[k % CHAIN.length]!);
    if (k % 2 === 0)
      strokes.push({ pen: 'chain', points: [...along(a, b, at / length), ...along(a, b, to / length)] });
    at = to;
  }
  return strokes;
}

/** px: length of an arrowhead, half of its width, and the shortest line that has one. */
const HEAD = 7;
const HALF_HEAD = 2.6;
const LEAST = 26;

/** Where a line's arrowhead has its point, and which way it goes there; null for a line that is too short for one. */
export interface ArrowPlace {
  readonly at: Triple;
  readonly way: Triple;
}

/** In the middle of a line, by its length; for a drawing of so many px per metre. */
export function arrowPlace({ points }: Stroke, scale: number): ArrowPlace | null {
  const n = points.length / 3;
  const lengths = Array.from({ length: n - 1 }, (_, k) => {
    const a = pointAt(points, k);
    const b = pointAt(points, k + 1);
    return Math.hypot(b[0] - a[0], b[1] - a[1], b[2] - a[2]);
  });
  const all = lengths.reduce((sum, length) => sum + length, 0);
  if (all * scale < LEAST) return null;
  let passed = 0;
  const k = lengths.findIndex((length) => (passed += length) >= 0.5 * all && length > 0);
  const a = pointAt(points, k);
  const b = pointAt(points, k + 1);
  const t = 1 - (passed - 0.5 * all) / lengths[k]!;
  const size = lengths[k]!;
  return {
    at: along(a, b, t),
    way: [(b[0] - a[0]) / size, (b[1] - a[1]) / size, (b[2] - a[2]) / size],
  };
}

/** Two strokes back from its point, spread as seen; nothing where the line runs straight at who looks. */
export function arrowhead({ at, way }: ArrowPlace, { right, up, scale }: SpaceView): readonly Stroke[] {
  const [x, y] = [dot(way, right), dot(way, up)];
  const seen = Math.hypot(x, y);
  if (seen < 0.3) return [];
  // Across the line on the screen.
  const side = (i: 0 | 1 | 2): number => (x * up[i] - y * right[i]) / seen;
  return [1, -1].map((s) => {
    const end = (i: 0 | 1 | 2): number =>
      at[i] - (HEAD / scale) * way[i] + ((s * HALF_HEAD) / scale) * side(i);
    return { pen: 'flux', points: [...at, end(0), end(1), end(2)] };
  });
}
