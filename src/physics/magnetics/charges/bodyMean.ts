/** Means over a body from the charges on its surface. */
import type { Coupling } from './assemble.ts';
import type { Vector } from '../../numerics/vector.ts';
import { panelPoints, slopeAt } from '../bodies/ringPoints.ts';
import { faceSlopeAt } from '../kernels/boxPoint.ts';

/**
 * Mean magnetisation of body b, A/m: ∫ M dV = ∮ r σ dA, exact for a body without charge in its volume.
 * Source: divergence theorem, e.g. [Jackson1999] § 5.9.
 */
export function meanMagnetisation(coupling: Coupling, density: Float64Array, b: number): Vector {
  const body = coupling.bodies[b]!;
  const at = coupling.offsets[b]!;
  const out: Vector = { x: 0, y: 0, z: 0 };
  const { mesh } = body;
  if (body.kind === 'ring') {
    const { mesh } = body;
    for (let j = 0; j < mesh.n; j++) {
      const points = panelPoints(mesh, j, 3, false);
      const slope0 = slopeAt(mesh, density, at, j);
      const slopeC = slopeAt(mesh, density, at + mesh.n, j);
      const slopeS = slopeAt(mesh, density, at + 2 * mesh.n, j);
      for (let k = 0; k < 3; k++) {
        const along = points.along[k]!;
        const weight = points.weight[k]!;
        out.z += weight * points.z[k]! * (density[at + j]! + slope0 * along);
        out.x += 0.5 * weight * points.r[k]! * (density[at + mesh.n + j]! + slopeC * along);
        out.y += 0.5 * weight * points.r[k]! * (density[at + 2 * mesh.n + j]! + slopeS * along);
      }
    }
  } else {
    const { mesh } = body;
    const moment = [0, 0, 0];
    for (let j = 0; j < mesh.n; j++) {
      const axis = mesh.axis[j]!;
      const u = (axis + 1) % 3;
      const v = (axis + 2) % 3;
      const q = density[at + j]! * mesh.area[j]!;
      const third = mesh.area[j]! / 3;
      for (let k = 0; k < 3; k++) moment[k] = moment[k]! + q * mesh.centre[3 * j + k]!;
      moment[u] = moment[u]! + third * mesh.halfU[j]! ** 2 * faceSlopeAt(mesh.slopeU, density, at, j);
      moment[v] = moment[v]! + third * mesh.halfV[j]! ** 2 * faceSlopeAt(mesh.slopeV, density, at, j);
    }
    out.x = moment[0]!;
    out.y = moment[1]!;
    out.z = moment[2]!;
  }
  out.x /= mesh.volume;
  out.y /= mesh.volume;
  out.z /= mesh.volume;
  return out;
}
