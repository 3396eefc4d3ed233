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
 */
export function boxBlock(
  target: BoxMesh,
  source: BoxMesh,
  dx: number,
  dy: number,
  dz: number,
  itself: boolean,
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
      const wide = Math.max(edge, 2 * target.halfU[i]!, 2 * target.halfV[i]!);
      // Far away the field at the target's middle is its mean: 2e-3 of a pair at the limit.
      const far = far2 > FAR * FAR * wide * wide;
      let flux = 0;
      let fluxU = 0;
      let fluxV = 0;
      for (let k = 0; k < rule.x.length; k++) {
        for (let l = 0; l < rule.x.length; l++) {
          at.set(d);
          at[u] = at[u]! + a * rule.x[k]!;
          at[v] = at[v]! + b * rule.x[l]!;
          const field = far
            ? (target.area[i]! * coulomb(at, normal)) / (4 * Math.PI)
            : rectangleNormalField(at[tu]!, at[tv]!, at[normal]!, target.halfU[i]!, target.halfV[i]!);
          const through = rule.w[k]! * rule.w[l]! * field;
          flux -= through;
          fluxU -= through * a * rule.x[k]!;
          fluxV -= through * b * rule.x[l]!;
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

/** Fills the rows of those rectangles that come after their images. */
function mirrorRows(block: Float64Array, image: Int32Array): void {
  const n = image.length;
  image.forEach((to, i) => {
    if (to >= i) return;
    for (let j = 0; j < n; j++) block[i * n + j] = block[to * n + image[j]!]!;
  });
}
