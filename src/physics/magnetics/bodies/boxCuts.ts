/** Where a bar's faces are cut: crowding at its edges, and at the poles that stand close to a face. */
import type { Vector } from '../../numerics/vector.ts';
import { END_STEP, evened, LEAST_STEP, stepped } from './steps.ts';

/** A cylinder beside, over or under a bar; m, from the bar's centre. */
export interface Neighbour {
  readonly x: number;
  readonly y: number;
  readonly bottom: number;
  readonly top: number;
  readonly radius: number;
}

/**
 * Divisions along an edge of a bar that nothing is close to. Its charge crowds at the edges of the broad faces and
 * follows poles at some distance along the narrow ones. Found against finite elements (two rows beside a bar).
 */
function divisions(
  edge: number,
  thickness: number,
  narrowFace: boolean,
  length: number,
  fineness: number,
): number {
  if (edge === thickness) return Math.max(2, Math.round(2 * fineness));
  const density = edge < length ? 3 : narrowFace ? 3.2 : 2.3;
  return Math.max(2, Math.round(density * fineness * Math.sqrt(edge / thickness)));
}

/** As in ringMesh; a little more, since a bar's broad face is long compared with what its edge reaches. */
const CROWDING = 1.8;

/** Edges from −½ to ½, crowding at both ends. */
function crowded(count: number): Float64Array {
  const at = new Float64Array(count + 1);
  for (let i = 0; i <= count; i++) {
    const t = i / count;
    at[i] = t < 0.5 ? 0.5 * (2 * t) ** CROWDING - 0.5 : 0.5 - 0.5 * (2 - 2 * t) ** CROWDING;
  }
  return at;
}

/** Longest step in radii of the nearest pole, farthest from all of them; the least is LEAST_STEP. */
const MOST_STEP = 1.25;
/** The steps grow by so much of what lies behind them. */
const GROWTH = 0.5;
/**
 * Faces nearer to each other than this, m, are cut alike, for the poles of either side: their charges are nearly opposite and
 * equal, and what is left of both is nothing but the error of the mesh where it differs.
 */
const ALIKE = 3e-3;
/** A face is close to a pole from this many radii on. */
const CLOSE = 1;
/** Stretches in which the steps are counted. */
const STRETCHES = 512;

/** A pole as one edge of a face sees it: where, from the face's middle, and half as wide as it acts; m. */
interface Mark {
  readonly at: number;
  readonly radius: number;
  readonly half: number;
}

/** Edges from −½ to ½ of an edge `length` m long whose steps are fine at the marks. */
function marked(length: number, thickness: number, marks: readonly Mark[], fineness: number): Float64Array {
  const step = (at: number): number => {
    let least = END_STEP * thickness + GROWTH * (0.5 * length - Math.abs(at));
    for (const mark of marks) {
      const away = Math.max(0, Math.abs(at - mark.at) - mark.half);
      least = Math.min(least, Math.max(LEAST_STEP * mark.radius, away), MOST_STEP * mark.radius);
    }
    return least / fineness;
  };
  const inner = stepped(-0.5 * length, 0.5 * length, step, STRETCHES);
  // Rounding must not spoil a symmetry that the poles have.
  return evened(Float64Array.of(-0.5, ...inner.map((share) => share - 0.5), 0.5), 1e-9);
}

/** A face of a bar, axes counting 0, 1, 2 for x, y, z, and its cuts along the two that follow the normal's; −½ to ½. */
export interface CutFace {
  readonly normal: number;
  readonly side: 1 | -1;
  readonly u: Float64Array;
  readonly v: Float64Array;
  /** Of a sheet within the box: where it lies along the normal, −½ to ½. Its side is 1, its normal z; sheets come last, the lowest first. */
  readonly at?: number;
  /** Which cuts along u and v the density does not run on across: where another body's face begins or ends. */
  readonly breaksU?: ReadonlySet<number>;
  readonly breaksV?: ReadonlySet<number>;
}

/**
 * Rectangles of a mesh of fineness 1, and of one for a bar thinner than so many m: that would take thousands, for nothing that
 * a string could tell.
 */
const MOST = 480;
const THIN = 1e-3;
const MOST_OF_THIN = 260;
/** Share of the fineness that is left when there are too many. */
const COARSER = 0.9;

/**
 * @param size full edges, m, all above 0
 * @param fineness multiplies the divisions along each edge
 * @param neighbours that may be close to it; others do no harm
 */
export function cutFaces(
  size: Readonly<Vector>,
  fineness: number,
  neighbours: readonly Neighbour[],
): readonly CutFace[] {
  const most = Math.min(size.x, size.y, size.z) < THIN ? MOST_OF_THIN : MOST;
  let fine = fineness;
  for (;;) {
    const faces = facesOf(size, fine, neighbours);
    const count = faces.reduce((sum, { u, v }) => sum + (u.length - 1) * (v.length - 1), 0);
    // Two divisions an edge are the least: below a thirtieth nothing gets coarser.
    if (count <= most * fineness ** 2 || fine < 0.03 * fineness) return faces;
    fine *= COARSER;
  }
}

function facesOf(
  size: Readonly<Vector>,
  fineness: number,
  neighbours: readonly Neighbour[],
): readonly CutFace[] {
  const full = [size.x, size.y, size.z] as const;
  const thickness = Math.min(...full);
  const longest = Math.max(...full);
  const cuts = (normal: number, side: 1 | -1, axis: number): Float64Array => {
    const sides = full[normal]! < ALIKE ? ([-1, 1] as const) : [side];
    const marks = neighbours.flatMap((pole) => sides.flatMap((at) => markOn(full, pole, normal, at, axis)));
    const edge = full[axis]!;
    if (marks.length > 0) return marked(edge, thickness, marks, fineness);
    const narrow = full.some((other, k) => k !== normal && other === thickness);
    return crowded(divisions(edge, thickness, narrow, longest, fineness));
  };
  return [0, 1, 2].flatMap((normal) =>
    ([-1, 1] as const).map((side) => ({
      normal,
      side,
      u: cuts(normal, side, (normal + 1) % 3),
      v: cuts(normal, side, (normal + 2) % 3),
    })),
  );
}

function markOn(
  full: readonly [number, number, number],
  pole: Neighbour,
  normal: number,
  side: number,
  axis: number,
): readonly Mark[] {
  const [halfX, halfY, halfZ] = full.map((edge) => 0.5 * edge) as [number, number, number];
  const { x, y, bottom, top, radius } = pole;
  const at = axis === 0 ? x : y;
  if (normal === 2) {
    const gap = side > 0 ? bottom - halfZ : -halfZ - top;
    const over = Math.abs(x) < halfX + radius && Math.abs(y) < halfY + radius;
    return over && isClose(gap, radius) ? [{ at, radius, half: radius }] : [];
  }
  if (axis === 2 || bottom >= halfZ || top <= -halfZ) return [];
  const gap = side * (normal === 0 ? x : y) - (normal === 0 ? halfX : halfY) - radius;
  const beside = Math.abs(at) < (axis === 0 ? halfX : halfY) + radius;
  return beside && isClose(gap, radius) ? [{ at, radius, half: 0 }] : [];
}

/** A pole that touches may lie in the bar by a rounding. */
const isClose = (gap: number, radius: number): boolean => gap > -1e-3 * radius && gap < CLOSE * radius;
