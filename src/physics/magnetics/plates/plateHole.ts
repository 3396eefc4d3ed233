/** Flux through a hole in which a pole may stand. */
import type { Body } from '../bodies/body.ts';
import { cornerShares, GAUSS } from './panelPair.ts';
import type { Vector } from '../../numerics/vector.ts';
import type { NormalField } from './plateModes.ts';
import type { PlateHole, PlateShape } from './plateMesh.ts';

/** How far beyond the plate, the pole or both the hood over a hole ends, and how much it widens, m. */
const HOOD_HEIGHT = 1.5e-3;
const HOOD_WIDENS = 2e-3;

/**
 * Flux (Wb) through a hole, and its image, upwards. In the hole stands a pole, in which B is not µ0H; the same flux leaves
 * through a hood of air over its end: four sloping sides and a lid.
 */
export function throughHole(
  bodies: readonly Body[],
  field: NormalField,
  { top, bottom }: PlateShape,
  { x, y, width }: PlateHole,
): number {
  const up = endBeyond(bodies, top, bottom, x, y);
  const h = 0.5 * width;
  const end = up.z + up.sign * HOOD_HEIGHT;
  const wide = h + HOOD_WIDENS;
  const middle = { x, y, z: end - up.sign * 1e-3 };
  const corners = (half: number, z: number): Vector[] =>
    [
      [1, 1],
      [-1, 1],
      [-1, -1],
      [1, -1],
    ].map(([a, b]) => ({ x: x + a! * half, y: y + b! * half, z }));
  const low = corners(h, top);
  const high = corners(wide, end);
  const faces = [high, ...low.map((_, k) => [low[k]!, low[(k + 1) % 4]!, high[(k + 1) % 4]!, high[k]!])];
  const flux = faces.reduce((sum, face) => sum + faceFlux(field, face as Face, middle), 0);
  return up.sign * flux * (y > 0 ? 2 : 1);
}

type Face = [Vector, Vector, Vector, Vector];

/** The end of the pole nearest this place that lies beyond the plate: above a cover, below a base plate. */
function endBeyond(
  bodies: readonly Body[],
  top: number,
  bottom: number,
  x: number,
  y: number,
): { readonly z: number; readonly sign: 1 | -1 } {
  const flat = bottom === top;
  let z = top;
  for (const body of bodies) {
    if (body.kind !== 'ring' || Math.hypot(body.x - x, Math.abs(body.y) - y) > 1e-4) continue;
    const { nodeZ } = body.mesh;
    for (const at of nodeZ) {
      if (flat ? body.z + at < z : body.z + at > z) z = body.z + at;
    }
  }
  return { z, sign: flat ? -1 : 1 };
}

/** ∫ B·n over a flat face, away from a point on the hood's axis, four points. */
function faceFlux(field: NormalField, [a, b, c, d]: Face, middle: Readonly<Vector>): number {
  let sum = 0;
  for (const [u, v] of GAUSS) {
    const shares = cornerShares(u, v);
    const at = mix([a, b, c, d], shares);
    const du = mix([a, b, c, d], [v - 1, 1 - v, v, -v]);
    const dv = mix([a, b, c, d], [u - 1, -u, u, 1 - u]);
    const nx = du.y * dv.z - du.z * dv.y;
    const ny = du.z * dv.x - du.x * dv.z;
    const nz = du.x * dv.y - du.y * dv.x;
    const outwards = Math.sign(nx * (at.x - middle.x) + ny * (at.y - middle.y) + nz * (at.z - middle.z));
    sum += 0.25 * outwards * field(at.x, at.y, at.z, nx, ny, nz);
  }
  return sum;
}

function mix(corners: Face, shares: readonly [number, number, number, number]): Vector {
  const out = { x: 0, y: 0, z: 0 };
  corners.forEach((corner, k) => {
    out.x += shares[k]! * corner.x;
    out.y += shares[k]! * corner.y;
    out.z += shares[k]! * corner.z;
  });
  return out;
}
