/** How bars act on each other and on themselves. */
import type { BoxMesh } from '../bodies/boxMesh.ts';
import { addFaceSlopes } from './boxPoint.ts';
import { balanceFlux } from './fluxBalance.ts';
import { ownImages } from '../bodies/mirror.ts';
import { gaussLegendre } from '../../numerics/quadrature.ts';
import { rectangleNormalField } from './rectangle.ts';

/** A source point is moved off its face by this share of the thickness, to say on which side it lies. */
const OFF_FACE = 1e-9;

/** Rectangles farther apart than this many of their longest edges are a charge and a point. */
const FAR = 5;

/** Component of r/r³ along an axis. */
function coulomb(r: Float64Array, axis: number): number {
  const d2 = r[0]! * r[0]! + r[1]! * r[1]! + r[2]! * r[2]!;
  return r[axis]! / (d2 * Math.sqrt(d2));
}

/**
 * target.n × source.n: mean normal field on the target's rectangles; on a box itself the principal value.
 *
 * @param dx dy dz the source's centre from the target's, m
 * @param close whether pairs that are close for their edges get as many points as that takes: rectangles of sheets and blades are
 *   long, narrow, and near to those of the other side
 */
export function boxBlock(
  target: BoxMesh,
  source: BoxMesh,
  dx: number,
  dy: number,
  dz: number,
  itself: boolean,
  close = false,
): Float64Array {
  const block = new Float64Array(target.n * source.n);
  const oddU = new Float64Array(target.n * source.n);
  const oddV = new Float64Array(target.n * source.n);
  const at = new Float64Array(3);
  // Outside the target in either case, see ringBlock0.
  const off = (itself ? 1 : -1) * OFF_FACE * Math.min(source.size.x, source.size.y, source.size.z);
  const d = new Float64Array(3);
  // Of a box that is its own mirror image half of the rows are the others over again.
  const image = itself ? ownImages(target) : null;
  for (let j = 0; j < source.n; j++) {
    const axis = source.axis[j]!;
    const u = (axis + 1) % 3;
    const v = (axis + 2) % 3;
    const a = source.halfU[j]!;
    const b = source.halfV[j]!;
    for (let i = 0; i < target.n; i++) {
      if (image && image[i]! < i) continue;
      const normal = target.axis[i]!;
      const tu = (normal + 1) % 3;
      const tv = (normal + 2) % 3;
      d[0] = source.centre[3 * j]! + dx - target.centre[3 * i]!;
      d[1] = source.centre[3 * j + 1]! + dy - target.centre[3 * i + 1]!;
      d[2] = source.centre[3 * j + 2]! + dz - target.centre[3 * i + 2]!;
      d[axis] = d[axis]! + off * source.sign[j]!;
      const far2 = d[0] ** 2 + d[1] ** 2 + d[2] ** 2;
      const edge = 2 * Math.max(a, b);
      const rule = gaussLegendre(far2 > 4 * edge * edge ? 2 : 4);
      const gap = close ? distance(target, i, source, j, d) : Infinity;
      const ruleU = gap < 2 * a ? gaussLegendre(pointsAlong(2 * a, gap)) : rule;
      const ruleV = gap < 2 * b ? gaussLegendre(pointsAlong(2 * b, gap)) : rule;
      const wide = Math.max(edge, 2 * target.halfU[i]!, 2 * target.halfV[i]!);
      // Far away the field at the target's middle is its mean: 2e-3 of a pair at the limit.
      const far = far2 > FAR * FAR * wide * wide;
      let flux = 0;
      let fluxU = 0;
      let fluxV = 0;
      for (let k = 0; k < ruleU.x.length; k++) {
        for (let l = 0; l < ruleV.x.length; l++) {
          at.set(d);
          at[u] = at[u]! + a * ruleU.x[k]!;
          at[v] = at[v]! + b * ruleV.x[l]!;
          const field = far
            ? (target.area[i]! * coulomb(at, normal)) / (4 * Math.PI)
            : rectangleNormalField(at[tu]!, at[tv]!, at[normal]!, target.halfU[i]!, target.halfV[i]!);
          const through = ruleU.w[k]! * ruleV.w[l]! * field;
          flux -= through;
          fluxU -= through * a * ruleU.x[k]!;
          fluxV -= through * b * ruleV.x[l]!;
        }
      }
      const scale = (0.25 * target.sign[i]! * source.area[j]!) / target.area[i]!;
      block[i * source.n + j] = scale * flux;
      oddU[i * source.n + j] = scale * fluxU;
      oddV[i * source.n + j] = scale * fluxV;
    }
  }
  addFaceSlopes(block, oddU, oddV, source);
  if (image) mirrorRows(block, image);
  for (let j = 0; j < source.n; j++) {
    balanceFlux(block, j, source.n, target.area);
    if (itself) block[j * source.n + j] = block[j * source.n + j]! + 0.5;
  }
  return block;
}

/** Points along an edge that is `gap` away from where they are felt; rectangles with a common edge have no gap at all. */
function pointsAlong(edge: number, gap: number): number {
  return Math.min(MOST_POINTS, 3 + Math.ceil((POINTS * edge) / Math.max(gap, 1e-3 * edge)));
}

const POINTS = 1;
const MOST_POINTS = 10;

/** Between two rectangles whose middles are d apart, m; those in one plane do nothing to each other. */
function distance(target: BoxMesh, i: number, source: BoxMesh, j: number, d: Float64Array): number {
  const axis = source.axis[j]!;
  if (target.axis[i] === axis && Math.abs(d[axis]!) < IN_PLANE * source.halfU[j]!) return Infinity;
  let sum = 0;
  for (let k = 0; k < 3; k++) {
    const beyond = Math.abs(d[k]!) - halfEdge(target, i, k) - halfEdge(source, j, k);
    if (beyond > 0) sum += beyond * beyond;
  }
  return Math.sqrt(sum);
}

const IN_PLANE = 1e-6;

function halfEdge(mesh: BoxMesh, j: number, axis: number): number {
  const from = (axis - mesh.axis[j]! + 3) % 3;
  return from === 0 ? 0 : from === 1 ? mesh.halfU[j]! : mesh.halfV[j]!;
}

/** Fills the rows of those rectangles that come after their images. */
function mirrorRows(block: Float64Array, image: Int32Array): void {
  const n = image.length;
  image.forEach((to, i) => {
    if (to >= i) return;
    for (let j = 0; j < n; j++) block[i * n + j] = block[to * n + image[j]!]!;
  });
}
