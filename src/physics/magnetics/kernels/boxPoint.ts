/** Field of one rectangle of a bar at a point, by the cheapest rule that is good enough there. */
import type { BoxMesh, FaceSlope } from '../bodies/boxMesh.ts';
import { rectangleLinearField } from './rectangle.ts';

/** Place of the two-point Gauss rule in units of the half edge. */
export const GAUSS2 = 1 / Math.sqrt(3);

/** Beyond this many longer edges 2 × 2 Gauss points serve the matrix: error below 1e-3 of the rectangle's field. */
export const POINTS_FROM = 1.5;

const corner = new Float64Array(3);
const local = new Float64Array(9);

/**
 * H of rectangle j with density 1, u′ and v′ (see rectangleLinearField) at (x, y, z) from the box's centre, m, into h:
 * nine numbers, components in the order x, y, z; A/m for densities of 1 A/m and of 1 A/m a metre.
 *
 * @param pointsFrom distance in longer edges from which points serve; Infinity for the closed form throughout
 */
export function rectangleAt(
  mesh: BoxMesh,
  j: number,
  x: number,
  y: number,
  z: number,
  h: Float64Array,
  pointsFrom: number,
): void {
  const axis = mesh.axis[j]!;
  const u = axis === 2 ? 0 : axis + 1;
  const v = axis === 0 ? 2 : axis - 1;
  corner[0] = x - mesh.centre[3 * j]!;
  corner[1] = y - mesh.centre[3 * j + 1]!;
  corner[2] = z - mesh.centre[3 * j + 2]!;
  const a = mesh.halfU[j]!;
  const b = mesh.halfV[j]!;
  const du = corner[u]!;
  const dv = corner[v]!;
  const dw = corner[axis]!;
  const edge = 2 * pointsFrom * Math.max(a, b);
  if (du * du + dv * dv + dw * dw > edge * edge) {
    points(du, dv, dw, a * GAUSS2, b * GAUSS2, mesh.area[j]! / (16 * Math.PI));
  } else {
    rectangleLinearField(du, dv, dw, a, b, local);
  }
  for (let k = 0; k < 9; k += 3) {
    h[k + u] = local[k]!;
    h[k + v] = local[k + 1]!;
    h[k + axis] = local[k + 2]!;
  }
}

/** Four charges at (±a, ±b); each of the nine numbers as rectangleLinearField would give it. */
function points(u: number, v: number, w: number, a: number, b: number, quarter: number): void {
  local.fill(0);
  for (let k = 0; k < 4; k++) {
    const su = k & 1 ? a : -a;
    const sv = k & 2 ? b : -b;
    const du = u - su;
    const dv = v - sv;
    const d2 = du * du + dv * dv + w * w;
    const scale = quarter / (d2 * Math.sqrt(d2));
    const hu = scale * du;
    const hv = scale * dv;
    const hw = scale * w;
    local[0] = local[0]! + hu;
    local[1] = local[1]! + hv;
    local[2] = local[2]! + hw;
    local[3] = local[3]! + su * hu;
    local[4] = local[4]! + su * hv;
    local[5] = local[5]! + su * hw;
    local[6] = local[6]! + sv * hu;
    local[7] = local[7]! + sv * hv;
    local[8] = local[8]! + sv * hw;
  }
}

/** Folds the responses to densities u′ and v′ (m; rows × n each) into `block` (1). */
export function addFaceSlopes(
  block: Float64Array,
  oddU: Float64Array,
  oddV: Float64Array,
  mesh: BoxMesh,
): void {
  fold(block, oddU, mesh.slopeU, mesh.n);
  fold(block, oddV, mesh.slopeV, mesh.n);
}

function fold(block: Float64Array, odd: Float64Array, slope: FaceSlope, n: number): void {
  const { stride, before, here, after } = slope;
  for (let row = 0; row < block.length; row += n) {
    for (let j = 0; j < n; j++) {
      const at = row + j;
      const response = odd[at]!;
      // Of one point along an edge, as most far pairs have.
      if (response === 0) continue;
      block[at] = block[at]! + response * here[j]!;
      if (before[j] !== 0) block[at - stride[j]!] = block[at - stride[j]!]! + response * before[j]!;
      if (after[j] !== 0) block[at + stride[j]!] = block[at + stride[j]!]! + response * after[j]!;
    }
  }
}

/** Slope of the density (A/m) on rectangle j, A/m²; `offset` is the index at which this mesh's densities start. */
export function faceSlopeAt(slope: FaceSlope, density: Float64Array, offset: number, j: number): number {
  const { stride, before, here, after } = slope;
  let sum = here[j]! * density[offset + j]!;
  if (before[j] !== 0) sum += before[j]! * density[offset + j - stride[j]!]!;
  if (after[j] !== 0) sum += after[j]! * density[offset + j + stride[j]!]!;
  return sum;
}
