/** How bars act on each other and on themselves. */
import { onSurface } from '../bodies/boxMesh.ts';
import type { BoxMesh } from '../bodies/boxMesh.ts';
import { boxImage } from '../bodies/boxImage.ts';
import { addFaceSlopes } from './boxPoint.ts';
import { balanceBox } from './fluxBalance.ts';
import type { BlockMirror } from './fluxBalance.ts';
import { farPair, pairField, sourceClosed, targetClosed } from './rectanglePair.ts';

/** A source point is moved off its face by this share of the thickness, to say on which side it lies. */
const OFF_FACE = 1e-9;

/**
 * target.n × source.n: mean normal field on the target's rectangles; on a box itself the principal value.
 *
 * @param dx dy dz the source's centre from the target's, m
 * @param close whether pairs that are close for their edges get as many points as that takes: rectangles of sheets and blades are
 *   long, narrow, and near to those of the other side
 * @param half whether rows may be left out that are images across y of earlier ones: where both boxes are their own (see completeBlock)
 * @param block where it is written; returned
 */
export function boxBlock(
  target: BoxMesh,
  source: BoxMesh,
  dx: number,
  dy: number,
  dz: number,
  itself: boolean,
  close = false,
  half = false,
  block = new Float64Array(target.n * source.n),
): Float64Array {
  const n = source.n;
  const oddU = new Float64Array(n);
  const oddV = new Float64Array(n);
  // Outside the target in either case, see ringBlock0.
  const off = (itself ? 1 : -1) * OFF_FACE * Math.min(source.size.x, source.size.y, source.size.z);
  const mirrors = sharedMirrors(target, source, [dx, dy, dz]);
  const halving = half ? mirrorBetween(target, source, dy, 1) : null;
  const isThere = (i: number): boolean => !halving || halving.rows[i]! >= i;
  for (let i = 0; i < target.n; i++) {
    if (!isThere(i)) continue;
    const row = block.subarray(i * n, (i + 1) * n);
    const mirror = mirrors.find(({ rows }) => rows[i]! < i && isThere(rows[i]!));
    if (mirror) {
      const from = mirror.rows[i]! * n;
      for (let j = 0; j < n; j++) row[j] = block[from + mirror.columns[j]!]!;
      continue;
    }
    fillRow(row, oddU, oddV, target, i, source, dx, dy, dz, off, close, itself);
    addFaceSlopes(row, oddU, oddV, source);
  }
  balanceBox(block, n, target, itself, halving);
  if (itself) for (let j = 0; j < onSurface(source); j++) block[j * n + j] = block[j * n + j]! + 0.5;
  return block;
}

/** Writes the rows that boxBlock left out of the half of a box's block with itself, 1. */
export function completeBlock(mesh: BoxMesh, block: Float64Array): void {
  const image = boxImage(mesh, mesh, 1);
  if (!image) return;
  const { n } = mesh;
  for (let i = 0; i < n; i++) {
    const from = image[i]! * n;
    if (image[i]! < i) for (let j = 0; j < n; j++) block[i * n + j] = block[from + image[j]!]!;
  }
}

/** Boxes nearer to each other's middle than this, m, along an axis have it in one plane. */
const SAME_PLACE = 1e-12;

/** The mirror across an axis, if both boxes are their own image in it. */
function mirrorBetween(target: BoxMesh, source: BoxMesh, apart: number, axis: 0 | 1 | 2): BlockMirror | null {
  if (Math.abs(apart) > SAME_PLACE) return null;
  const rows = boxImage(target, target, axis);
  const columns = rows && boxImage(source, source, axis);
  return columns && { rows, columns };
}

/** All mirrors and turns that leave both boxes as they are. */
function sharedMirrors(
  target: BoxMesh,
  source: BoxMesh,
  d: readonly [number, number, number],
): readonly BlockMirror[] {
  const all: BlockMirror[] = [];
  for (const axis of [0, 1, 2] as const) {
    const mirror = mirrorBetween(target, source, d[axis], axis);
    if (!mirror) continue;
    const turned = all.map((other) => ({
      rows: mirror.rows.map((to) => other.rows[to]!),
      columns: mirror.columns.map((to) => other.columns[to]!),
    }));
    all.push(mirror, ...turned);
  }
  return all;
}

/** Distances below this share of an edge are none. */
const IN_PLANE = 1e-6;

/** Row i of the block, and what the slopes along u and v bring. */
function fillRow(
  row: Float64Array,
  oddU: Float64Array,
  oddV: Float64Array,
  target: BoxMesh,
  i: number,
  source: BoxMesh,
  dx: number,
  dy: number,
  dz: number,
  off: number,
  close: boolean,
  itself: boolean,
): void {
  const axisT = target.axis[i]!;
  const signT = target.sign[i]!;
  const ta = target.halfU[i]!;
  const tb = target.halfV[i]!;
  const cx = dx - target.centre[3 * i]!;
  const cy = dy - target.centre[3 * i + 1]!;
  const cz = dz - target.centre[3 * i + 2]!;
  for (let j = 0; j < source.n; j++) {
    const axis = source.axis[j]!;
    const normal = axisT < axis ? axisT - axis + 3 : axisT - axis;
    const x = source.centre[3 * j]! + cx;
    const y = source.centre[3 * j + 1]! + cy;
    const z = source.centre[3 * j + 2]! + cz;
    // From here on along the source's own axes.
    const w = (axis === 0 ? x : axis === 1 ? y : z) + off * source.sign[j]!;
    const u = axis === 0 ? y : axis === 1 ? z : x;
    const v = axis === 0 ? z : axis === 1 ? x : y;
    const a = source.halfU[j]!;
    const b = source.halfV[j]!;
    const eu = normal === 0 ? ta : normal === 1 ? 0 : tb;
    const ev = normal === 0 ? tb : normal === 1 ? ta : 0;
    const ew = normal === 0 ? 0 : normal === 1 ? tb : ta;
    const gu = Math.abs(u) - a - eu;
    const gv = Math.abs(v) - b - ev;
    const gw = Math.abs(w) - ew;
    if (itself && i === j) {
      // Half of its charge's flux, from the other side than OFF_FACE put the charge; of a sheet the mean of both sides.
      row[j] = source.zones && j >= source.zones.sheets ? 0 : -0.5;
      oddU[j] = 0;
      oddV[j] = 0;
      continue;
    }
    if (normal === 0 && gw < IN_PLANE * a && (gu > -IN_PLANE * a || gv > -IN_PLANE * b)) {
      // Side by side in one plane they do nothing to each other.
      row[j] = 0;
      oddU[j] = 0;
      oddV[j] = 0;
      continue;
    }
    const gap = Math.sqrt((gu > 0 ? gu * gu : 0) + (gv > 0 ? gv * gv : 0) + (gw > 0 ? gw * gw : 0));
    if (!farPair(u, v, w, a, b, eu, ev, ew, normal, gap))
      nearPair(u, v, w, a, b, eu, ev, ew, normal, gap, close);
    row[j] = signT * pairField[0]!;
    oddU[j] = signT * pairField[1]!;
    oddV[j] = signT * pairField[2]!;
  }
}

/** What a closed form of a density and its slopes takes, over that of a flux. */
const DEARER = 2.5;

/** As farPair, where points alone do not serve. */
function nearPair(
  u: number,
  v: number,
  w: number,
  a: number,
  b: number,
  eu: number,
  ev: number,
  ew: number,
  normal: number,
  gap: number,
  close: boolean,
): void {
  if (!close) {
    const edge = 2 * Math.max(a, b);
    const points = u * u + v * v + w * w > 4 * edge * edge ? 2 : 4;
    targetClosed(u, v, w, a, b, eu, ev, ew, normal, points, points);
    return;
  }
  const na = pointsNear(2 * a, gap);
  const nb = pointsNear(2 * b, gap);
  const nu = eu === 0 ? 1 : pointsNear(2 * eu, gap);
  const nv = ev === 0 ? 1 : pointsNear(2 * ev, gap);
  const nw = ew === 0 ? 1 : pointsNear(2 * ew, gap);
  if (DEARER * nu * nv * nw < na * nb) sourceClosed(u, v, w, a, b, eu, ev, ew, normal, nu, nv, nw);
  else targetClosed(u, v, w, a, b, eu, ev, ew, normal, na, nb);
}

/** Points along an edge that is `gap` away from where they are felt; rectangles with a common edge have no gap at all. */
function pointsNear(edge: number, gap: number): number {
  if (edge < FEW * gap) return 2;
  return Math.min(MOST_POINTS, 3 + Math.ceil(edge / Math.max(gap, 1e-3 * edge)));
}

/** Edge over gap up to which two points serve, as in rectanglePair. */
const FEW = 0.6937;
const MOST_POINTS = 10;
