/** H of a round pole's charges, quickly. */
import type { RingBody } from '../magnetics/bodies/body.ts';
import type { Vector } from '../numerics/vector.ts';
import { ringField } from '../magnetics/kernels/ringKernel.ts';
import type { RingField } from '../magnetics/kernels/ringKernel.ts';
import { distanceToPanel, panelPoints, slopeAt } from '../magnetics/bodies/ringPoints.ts';
import type { PanelPoints } from '../magnetics/bodies/ringPoints.ts';
import type { BodyField } from './bodyField.ts';
import type { FieldSources } from './sources.ts';

/** Gauss points on a panel, and from how many panel lengths on they serve: 1e-3 of the panel's own field. */
const POINTS = [8, 3, 2] as const;
const FROM = [0, 0.4, 1] as const;
/** From this far off a pole's box on, m, one ring at every corner between panels serves for all. */
const CORNERS_FROM = 3e-3;

const mode0: RingField = { radial: 0, axial: 0, azimuthal: 0 };
const mode1: RingField = { radial: 0, axial: 0, azimuthal: 0 };
const mode2: RingField = { radial: 0, axial: 0, azimuthal: 0 };

const kept = new WeakMap<object, readonly (readonly PanelPoints[])[]>();

function pointsOf({ mesh }: RingBody): readonly (readonly PanelPoints[])[] {
  let points = kept.get(mesh);
  if (!points) {
    points = Array.from({ length: mesh.n }, (_, j) =>
      POINTS.map((count, level) => panelPoints(mesh, j, count, level === 0)),
    );
    kept.set(mesh, points);
  }
  return points;
}

/**
 * H, A/m, of round pole number `b` of the sources, which is `body`, with all harmonics up to the second; from rings at
 * Gauss points, fewer the farther off. Source: as ringField.
 */
export function poleField(
  { density, second, offsets, offsets2 }: FieldSources,
  b: number,
  body: RingBody,
): BodyField {
  const { mesh } = body;
  const { n, nodeR, nodeZ, length } = mesh;
  const points = pointsOf(body);
  const at = offsets[b]!;
  const at2 = offsets2[b]!;
  const slopes = Float64Array.from({ length: 3 * n }, (_, i) =>
    slopeAt(mesh, density, at + n * Math.floor(i / n), i % n),
  );
  const corners = cornerRings(body, points, density, second, at, at2, slopes);
  return (x, y, z, out) => {
    const dx = x - body.x;
    const dy = y - body.y;
    const dz = z - body.z;
    const r = Math.sqrt(dx * dx + dy * dy);
    const above = Math.max(dz - nodeZ[n]!, nodeZ[0]! - dz, r - mesh.radius);
    if (above > CORNERS_FROM) {
      addCorners(corners, r, dx, dy, dz, out);
      return;
    }
    const c = r > 0 ? dx / r : 1;
    const s = r > 0 ? dy / r : 0;
    const c2 = c * c - s * s;
    const s2 = 2 * c * s;
    let radial = 0;
    let axial = 0;
    let azimuthal = 0;
    for (let j = 0; j < n; j++) {
      const away = distanceToPanel(nodeR, nodeZ, j, r, dz) / length[j]!;
      const level = away > FROM[2] ? 2 : away > FROM[1] ? 1 : 0;
      const p = points[j]![level]!;
      const inPhase2 = second[at2 + j]! * c2 + second[at2 + n + j]! * s2;
      const quarter2 = second[at2 + j]! * s2 - second[at2 + n + j]! * c2;
      for (let k = 0; k < p.r.length; k++) {
        ringField(r, dz - p.z[k]!, p.r[k]!, mode0, mode1, mode2);
        const along = p.along[k]!;
        const weight = p.weight[k]!;
        const q0 = density[at + j]! + slopes[j]! * along;
        const qc = density[at + n + j]! + slopes[n + j]! * along;
        const qs = density[at + 2 * n + j]! + slopes[2 * n + j]! * along;
        const inPhase = qc * c + qs * s;
        radial += weight * (q0 * mode0.radial + inPhase * mode1.radial + inPhase2 * mode2.radial);
        axial += weight * (q0 * mode0.axial + inPhase * mode1.axial + inPhase2 * mode2.axial);
        azimuthal += weight * ((qc * s - qs * c) * mode1.azimuthal + quarter2 * mode2.azimuthal);
      }
    }
    out.x += radial * c - azimuthal * s;
    out.y += radial * s + azimuthal * c;
    out.z += axial;
  };
}

/** Rings at the corners between panels, with five charges each: 1, cos φ, sin φ, cos 2φ, sin 2φ; A·m. */
interface CornerRings {
  readonly r: Float64Array;
  readonly z: Float64Array;
  readonly charge: Float64Array;
}

/** Every panel's charge is shared by its two corners so that its sum and its first moment stay. */
function cornerRings(
  { mesh }: RingBody,
  points: readonly (readonly PanelPoints[])[],
  density: Float64Array,
  second: Float64Array,
  at: number,
  at2: number,
  slopes: Float64Array,
): CornerRings {
  const { n, nodeR, nodeZ, length } = mesh;
  const charge = new Float64Array(5 * (n + 1));
  for (let j = 0; j < n; j++) {
    const p = points[j]![2]!;
    for (let k = 0; k < p.r.length; k++) {
      // Where along the panel the point lies, 0 to 1.
      const dr = nodeR[j + 1]! - nodeR[j]!;
      const dz = nodeZ[j + 1]! - nodeZ[j]!;
      const t = ((p.r[k]! - nodeR[j]!) * dr + (p.z[k]! - nodeZ[j]!) * dz) / length[j]! ** 2;
      for (let m = 0; m < 5; m++) {
        const q =
          m < 3
            ? density[at + m * n + j]! + slopes[m * n + j]! * p.along[k]!
            : second[at2 + (m - 3) * n + j]!;
        charge[5 * j + m] = charge[5 * j + m]! + (1 - t) * q * p.weight[k]!;
        charge[5 * (j + 1) + m] = charge[5 * (j + 1) + m]! + t * q * p.weight[k]!;
      }
    }
  }
  return { r: nodeR, z: nodeZ, charge };
}

function addCorners(
  { r: radii, z, charge }: CornerRings,
  r: number,
  dx: number,
  dy: number,
  dz: number,
  out: Vector,
): void {
  const c = r > 0 ? dx / r : 1;
  const s = r > 0 ? dy / r : 0;
  const c2 = c * c - s * s;
  const s2 = 2 * c * s;
  let radial = 0;
  let axial = 0;
  let azimuthal = 0;
  for (let i = 0; i < radii.length; i++) {
    ringField(r, dz - z[i]!, radii[i]!, mode0, mode1, mode2);
    const q0 = charge[5 * i]!;
    const qc = charge[5 * i + 1]!;
    const qs = charge[5 * i + 2]!;
    const q2c = charge[5 * i + 3]!;
    const q2s = charge[5 * i + 4]!;
    const one = qc * c + qs * s;
    const two = q2c * c2 + q2s * s2;
    radial += q0 * mode0.radial + one * mode1.radial + two * mode2.radial;
    axial += q0 * mode0.axial + one * mode1.axial + two * mode2.axial;
    azimuthal += (qc * s - qs * c) * mode1.azimuthal + (q2c * s2 - q2s * c2) * mode2.azimuthal;
  }
  out.x += radial * c - azimuthal * s;
  out.y += radial * s + azimuthal * c;
  out.z += axial;
}
