/** H of a bar's charges, quickly. */
import type { BoxBody } from '../magnetics/bodies/body.ts';
import { faceSlopeAt, rectangleAt } from '../magnetics/kernels/boxPoint.ts';
import type { BodyField } from './bodyField.ts';
import type { FieldSources } from './sources.ts';

/** Rectangles are 2 × 2 Gauss points from afar, and nearer by are cut into cells no longer than this, m, that are so too. */
const CELL = 4e-3;
/** From this many longer edges on points serve for a rectangle or its cells; nearer it is taken in closed form. */
const POINTS_FROM = 1.1;
const GAUSS2 = 1 / Math.sqrt(3);

const nine = new Float64Array(9);

/**
 * H, A/m, of bar number `b` of the sources, which is `body`; near a rectangle in closed form, elsewhere from points.
 * Source: as rectangleAt.
 */
export function barField({ density, offsets }: FieldSources, b: number, body: BoxBody): BodyField {
  const { mesh } = body;
  const at = offsets[b]!;
  const slopeU = Float64Array.from({ length: mesh.n }, (_, j) => faceSlopeAt(mesh.slopeU, density, at, j));
  const slopeV = Float64Array.from({ length: mesh.n }, (_, j) => faceSlopeAt(mesh.slopeV, density, at, j));
  const whole = gaussPoints(body, Infinity, density, at, slopeU, slopeV);
  const cut = gaussPoints(body, CELL, density, at, slopeU, slopeV);
  return (x, y, z, out) => {
    const dx = x - body.x;
    const dy = y - body.y;
    const dz = z - body.z;
    let hx = 0;
    let hy = 0;
    let hz = 0;
    for (let j = 0; j < mesh.n; j++) {
      const away2 = distance2(mesh, j, dx, dy, dz);
      if (away2 > cut.from2[j]!) {
        const { place, charge, first } = away2 > whole.from2[j]! ? whole : cut;
        const end = first[j + 1]!;
        for (let p = first[j]!; p < end; p++) {
          const gx = dx - place[3 * p]!;
          const gy = dy - place[3 * p + 1]!;
          const gz = dz - place[3 * p + 2]!;
          const d2 = gx * gx + gy * gy + gz * gz;
          const w = charge[p]! / (d2 * Math.sqrt(d2));
          hx += w * gx;
          hy += w * gy;
          hz += w * gz;
        }
        continue;
      }
      rectangleAt(mesh, j, dx, dy, dz, nine, Infinity);
      const q = density[at + j]!;
      const qu = slopeU[j]!;
      const qv = slopeV[j]!;
      hx += q * nine[0]! + qu * nine[3]! + qv * nine[6]!;
      hy += q * nine[1]! + qu * nine[4]! + qv * nine[7]!;
      hz += q * nine[2]! + qu * nine[5]! + qv * nine[8]!;
    }
    out.x += hx;
    out.y += hy;
    out.z += hz;
  };
}

/** Square of the distance to rectangle j, m². */
function distance2(mesh: BoxBody['mesh'], j: number, dx: number, dy: number, dz: number): number {
  const ex = Math.abs(dx - mesh.centre[3 * j]!);
  const ey = Math.abs(dy - mesh.centre[3 * j + 1]!);
  const ez = Math.abs(dz - mesh.centre[3 * j + 2]!);
  const axis = mesh.axis[j]!;
  const u = axis === 0 ? ey : axis === 1 ? ez : ex;
  const v = axis === 0 ? ez : axis === 1 ? ex : ey;
  const w = axis === 0 ? ex : axis === 1 ? ey : ez;
  const du = Math.max(0, u - mesh.halfU[j]!);
  const dv = Math.max(0, v - mesh.halfV[j]!);
  return w * w + du * du + dv * dv;
}

interface GaussPoints {
  /** From the box's centre, m; and charges over 4π, A·m. */
  readonly place: Float64Array;
  readonly charge: Float64Array;
  /** Rectangle j's are those from first[j] to before first[j + 1]. */
  readonly first: Int32Array;
  /** Square of the distance from which they serve, m². */
  readonly from2: Float64Array;
}

/** @param cell longest edge of what has 2 × 2 points, m */
function gaussPoints(
  { mesh }: BoxBody,
  cell: number,
  density: Float64Array,
  at: number,
  slopeU: Float64Array,
  slopeV: Float64Array,
): GaussPoints {
  const place: number[] = [];
  const charge: number[] = [];
  const first = new Int32Array(mesh.n + 1);
  const from2 = new Float64Array(mesh.n);
  for (let j = 0; j < mesh.n; j++) {
    const axis = mesh.axis[j]!;
    const edgeU = 2 * mesh.halfU[j]!;
    const edgeV = 2 * mesh.halfV[j]!;
    const nu = 2 * Math.max(1, Math.ceil(edgeU / cell));
    const nv = 2 * Math.max(1, Math.ceil(edgeV / cell));
    from2[j] = (POINTS_FROM * Math.max((2 * edgeU) / nu, (2 * edgeV) / nv)) ** 2;
    for (let k = 0; k < nu * nv; k++) {
      const du = gaussPlace(k % nu, nu) * edgeU;
      const dv = gaussPlace(Math.floor(k / nu), nv) * edgeV;
      const moved = [0, 0, 0];
      moved[(axis + 1) % 3] = du;
      moved[(axis + 2) % 3] = dv;
      for (let c = 0; c < 3; c++) place.push(mesh.centre[3 * j + c]! + moved[c]!);
      const q = density[at + j]! + du * slopeU[j]! + dv * slopeV[j]!;
      charge.push((mesh.area[j]! * q) / (4 * Math.PI * nu * nv));
    }
    first[j + 1] = charge.length;
  }
  return { place: Float64Array.from(place), charge: Float64Array.from(charge), first, from2 };
}

/** Place of point k of `count` on an edge from −½ to ½: two in every cell. */
function gaussPlace(k: number, count: number): number {
  const cell = Math.floor(k / 2);
  return (cell + 0.5 + (k % 2 === 0 ? -0.5 : 0.5) * GAUSS2) / (count / 2) - 0.5;
}
