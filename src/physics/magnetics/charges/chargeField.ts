/** Field of solved charges at any point, near or far, outside and inside the bodies. */
import type { BoxBody, RingBody } from '../bodies/body.ts';
import type { Coupling } from './assemble.ts';
import { faceSlopeAt, rectangleAt } from '../kernels/boxPoint.ts';
import type { Vector } from '../../numerics/vector.ts';
import { ringField } from '../kernels/ringKernel.ts';
import type { RingField } from '../kernels/ringKernel.ts';
import { distanceToPanel, panelPoints, slopeAt } from '../bodies/ringPoints.ts';
import type { PanelPoints } from '../bodies/ringPoints.ts';

/** Point counts on a panel, and how far away (in panel lengths) each is good for: 1e-4 of the panel's field. */
const NEAR_POINTS = 16;
const MIDDLE_POINTS = 4;
const FAR_POINTS = 2;
const MIDDLE_FROM = 1;
const FAR_FROM = 2.5;

const mode0: RingField = { radial: 0, axial: 0, azimuthal: 0 };
const mode1: RingField = { radial: 0, axial: 0, azimuthal: 0 };
const mode2: RingField = { radial: 0, axial: 0, azimuthal: 0 };
const local = new Float64Array(9);

/** Panel points at the three finenesses, kept a mesh, since thousands of field points ask for them. */
const kept = new WeakMap<object, readonly (readonly [PanelPoints, PanelPoints, PanelPoints])[]>();

function pointsOf(body: RingBody): readonly (readonly [PanelPoints, PanelPoints, PanelPoints])[] {
  let points = kept.get(body.mesh);
  if (!points) {
    points = Array.from({ length: body.mesh.n }, (_, j) => [
      panelPoints(body.mesh, j, NEAR_POINTS, true),
      panelPoints(body.mesh, j, MIDDLE_POINTS, false),
      panelPoints(body.mesh, j, FAR_POINTS, false),
    ]);
    kept.set(body.mesh, points);
  }
  return points;
}

/**
 * H of all charges at (x, y, z), A/m; inside a body this is H as well (B needs the body's own law on top).
 *
 * @param density solution of solveCharges, A/m
 * @param second of secondHarmonic, A/m; left out, it is taken as zero
 * Digits: about 1e-4 from a tenth of a panel away; on an element itself the normal part is the mean of both sides.
 */
export function chargeField(
  coupling: Pick<Coupling, 'bodies' | 'offsets'>,
  density: Float64Array,
  x: number,
  y: number,
  z: number,
  out: Vector,
  second?: Float64Array,
): void {
  out.x = 0;
  out.y = 0;
  out.z = 0;
  let at2 = 0;
  coupling.bodies.forEach((body, b) => {
    const at = coupling.offsets[b]!;
    if (body.kind === 'box') addBox(body, density, at, x - body.x, y - body.y, z - body.z, out);
    else {
      addRings(body, density, at, second, at2, x - body.x, y - body.y, z - body.z, out);
      at2 += 2 * body.mesh.n;
    }
  });
}

function addBox(
  body: BoxBody,
  density: Float64Array,
  at: number,
  dx: number,
  dy: number,
  dz: number,
  out: Vector,
): void {
  const { mesh } = body;
  for (let j = 0; j < mesh.n; j++) {
    rectangleAt(mesh, j, dx, dy, dz, local, Infinity);
    const q = density[at + j]!;
    const qu = faceSlopeAt(mesh.slopeU, density, at, j);
    const qv = faceSlopeAt(mesh.slopeV, density, at, j);
    out.x += q * local[0]! + qu * local[3]! + qv * local[6]!;
    out.y += q * local[1]! + qu * local[4]! + qv * local[7]!;
    out.z += q * local[2]! + qu * local[5]! + qv * local[8]!;
  }
}

function addRings(
  body: RingBody,
  density: Float64Array,
  at: number,
  second: Float64Array | undefined,
  at2: number,
  dx: number,
  dy: number,
  dz: number,
  out: Vector,
): void {
  const { mesh } = body;
  const n = mesh.n;
  const c2s2 = second !== undefined;
  const r = Math.hypot(dx, dy);
  const c = r > 0 ? dx / r : 1;
  const s = r > 0 ? dy / r : 0;
  const points = pointsOf(body);
  let radial = 0;
  let axial = 0;
  let azimuthal = 0;
  for (let j = 0; j < n; j++) {
    const distance = distanceToPanel(mesh.nodeR, mesh.nodeZ, j, r, dz) / mesh.length[j]!;
    const p = points[j]![distance < MIDDLE_FROM ? 0 : distance < FAR_FROM ? 1 : 2];
    const slope0 = slopeAt(mesh, density, at, j);
    const slopeC = slopeAt(mesh, density, at + n, j);
    const slopeS = slopeAt(mesh, density, at + 2 * n, j);
    const q2c = c2s2 ? second[at2 + j]! : 0;
    const q2s = c2s2 ? second[at2 + n + j]! : 0;
    const inPhase2 = q2c * (c * c - s * s) + 2 * q2s * c * s;
    const quarter2 = 2 * q2c * c * s - q2s * (c * c - s * s);
    for (let k = 0; k < p.r.length; k++) {
      ringField(r, dz - p.z[k]!, p.r[k]!, mode0, mode1, c2s2 ? mode2 : undefined);
      const along = p.along[k]!;
      const weight = p.weight[k]!;
      const q0 = weight * (density[at + j]! + slope0 * along);
      const qc = weight * (density[at + n + j]! + slopeC * along);
      const qs = weight * (density[at + 2 * n + j]! + slopeS * along);
      const inPhase = qc * c + qs * s;
      radial += q0 * mode0.radial + inPhase * mode1.radial;
      axial += q0 * mode0.axial + inPhase * mode1.axial;
      azimuthal += (qc * s - qs * c) * mode1.azimuthal;
      if (c2s2) {
        radial += weight * inPhase2 * mode2.radial;
        axial += weight * inPhase2 * mode2.axial;
        azimuthal += weight * quarter2 * mode2.azimuthal;
      }
    }
  }
  out.x += radial * c - azimuthal * s;
  out.y += radial * s + azimuthal * c;
  out.z += axial;
}
