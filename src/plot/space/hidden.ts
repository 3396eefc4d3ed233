/** Which parts of lines in space are seen past solid bodies: a drawing without hidden lines, for paper and for pages without WebGL. */
import type { RoundSolid, Solid } from '../../shape/solid.ts';
import { heightsOf } from '../../shape/solid.ts';
import { Pen as PathPen } from '../pen.ts';
import { shrunk } from './solids.ts';
import type { Stroke } from './strokes.ts';
import { project, type SpaceView, type Triple } from './view.ts';

/** Bodies hide by what lies deeper in them than this, so that their own outlines are seen, m. */
const SKIN = 1.5e-4;
/** Pieces that are seen or hidden as a whole are no longer than this, px. */
const PIECE = 3;

/** Whether a body stands between a place and who looks. */
type Hides = (p: Triple) => boolean;

function hidesOf(solid: Solid, { toward: d }: SpaceView): Hides {
  const inner = shrunk(solid, SKIN);
  if (inner.kind === 'round') return (p) => meetsRound(inner, p, d);
  const { x, y, z, size } = inner;
  const centre = [x, y, z];
  const half = [0.5 * size.x, 0.5 * size.y, 0.5 * size.z];
  return (p) => {
    let [from, to] = [0, Infinity];
    for (let i = 0; i < 3; i++) {
      const o = p[i]! - centre[i]!;
      if (Math.abs(d[i]!) < 1e-12) {
        if (Math.abs(o) >= half[i]!) return false;
        continue;
      }
      const a = (-half[i]! - o) / d[i]!;
      const b = (half[i]! - o) / d[i]!;
      from = Math.max(from, Math.min(a, b));
      to = Math.min(to, Math.max(a, b));
    }
    return from < to;
  };
}

/** Whether the line of sight from p along d passes through any frustum or face of the body. */
function meetsRound(solid: RoundSolid, p: Triple, d: Triple): boolean {
  const [low, high] = heightsOf(solid);
  if ((p[2] >= high && d[2] >= 0) || (p[2] <= low && d[2] <= 0)) return false;
  const { profile } = solid;
  const [ox, oy] = [p[0] - solid.x, p[1] - solid.y];
  for (let k = 0; k + 2 < profile.length; k += 2) {
    const [r1, z1, r2, z2] = [profile[k]!, profile[k + 1]!, profile[k + 2]!, profile[k + 3]!];
    if (z2 - z1 < 1e-9) {
      const t = (z1 - p[2]) / d[2];
      const r = Math.hypot(ox + t * d[0], oy + t * d[1]);
      if (t > 0 && Number.isFinite(t) && r > Math.min(r1, r2) && r < Math.max(r1, r2)) return true;
      continue;
    }
    // |o + t d|² = (r1 + g (z − z1))² with the radius' slope g.
    const g = (r2 - r1) / (z2 - z1);
    const at = r1 + g * (p[2] - z1);
    const A = d[0] * d[0] + d[1] * d[1] - g * g * d[2] * d[2];
    const B = ox * d[0] + oy * d[1] - at * g * d[2];
    const C = ox * ox + oy * oy - at * at;
    const roots =
      Math.abs(A) < 1e-12
        ? [-C / (2 * B)]
        : B * B >= A * C
          ? [-1, 1].map((s) => (-B + s * Math.sqrt(B * B - A * C)) / A)
          : [];
    for (const t of roots) {
      const z = p[2] + t * d[2];
      if (t > 0 && z >= z1 && z <= z2 && at + g * t * d[2] >= 0) return true;
    }
  }
  return false;
}

/** Path text, px, of what is seen of these strokes. */
export function seenPath(strokes: readonly Stroke[], solids: readonly Solid[], view: SpaceView): string {
  const hides = solids.map((solid) => hidesOf(solid, view));
  const pen = new PathPen(1);
  for (const { points } of strokes) {
    pen.lift();
    for (let k = 3; k < points.length; k += 3) {
      const a: Triple = [points[k - 3]!, points[k - 2]!, points[k - 1]!];
      const b: Triple = [points[k]!, points[k + 1]!, points[k + 2]!];
      const [p, q] = [project(view, a), project(view, b)];
      const pieces = Math.max(1, Math.ceil(Math.hypot(q.x - p.x, q.y - p.y) / PIECE));
      for (let i = 0; i < pieces; i++) {
        const t = (i + 0.5) / pieces;
        const middle: Triple = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])];
        if (hides.some((hidden) => hidden(middle))) {
          pen.lift();
          continue;
        }
        if (!pen.down) pen.move(p.x + (i / pieces) * (q.x - p.x), p.y + (i / pieces) * (q.y - p.y));
        pen.line(p.x + ((i + 1) / pieces) * (q.x - p.x), p.y + ((i + 1) / pieces) * (q.y - p.y));
      }
    }
  }
  return pen.text;
}
