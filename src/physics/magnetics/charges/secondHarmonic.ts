/**
 * The second harmonic of a round pole's charge, cos 2φ and sin 2φ: neighbours on two sides, or a coil's two straight
 * sides, draw the charge out to an ellipse. It acts back on nothing worth counting, so it is found after the solve, from
 * the field that everything else makes at the pole:
 *
 *     σ₂ = 2 (µr − 1)/(µr + 1) H·n₂
 *
 * the answer of a long cylinder (a sphere's would be a quarter more), on the upper part that a string is near.
 */
import type { Coupling } from './assemble.ts';
import type { Body, RingBody } from '../bodies/body.ts';
import type { FieldSource } from './load.ts';
import type { Vector } from '../../numerics/vector.ts';
import { parityOf } from '../bodies/mirror.ts';
import { panelPoints } from '../bodies/ringPoints.ts';

/** Points around a target ring, and around a source ring, which is at least a pole's gap away. */
const AROUND = 6;
const SOURCE_AROUND = 4;
/** How far down a pole the harmonic is followed, in radii below its top: a string hardly sees what lies deeper. */
const DEPTH = 1.5;
/** Poles farther than this many radii are left out: 1e-3 of the harmonic. */
const FAR = 10;

/** Point charges of all bodies, each body's in one run. */
interface Points {
  readonly start: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  readonly q: Float64Array;
}

/** Where a ring body's second harmonics start; two runs (cos, sin) of mesh.n each. Boxes have none. */
function secondOffsets(coupling: Coupling): Int32Array {
  const offsets = new Int32Array(coupling.bodies.length + 1);
  coupling.bodies.forEach((body, b) => {
    offsets[b + 1] = offsets[b]! + (body.kind === 'ring' ? 2 * body.mesh.n : 0);
  });
  return offsets;
}

/**
 * @param mu relative permeability of every body
 * @param density solved charges, A/m
 * @param applied a field from outside the bodies, as in the load that they were solved for
 * @returns densities of cos 2φ and sin 2φ, A/m, at secondOffsets
 */
export function secondHarmonic(
  coupling: Coupling,
  mu: ArrayLike<number>,
  density: Float64Array,
  applied?: FieldSource,
): Float64Array {
  const offsets = secondOffsets(coupling);
  const second = new Float64Array(offsets[coupling.bodies.length]!);
  const points = pointCharges(coupling, density);
  const { representatives } = coupling;
  const parity = representatives.symmetric ? parityOf(representatives, density) : 0;
  coupling.bodies.forEach((body, b) => {
    if (body.kind !== 'ring') return;
    const p = representatives.body[b]!;
    if (parity !== 0 && p !== b) {
      // In the mirror sin 2φ changes sign and cos 2φ does not.
      const n = body.mesh.n;
      for (let i = 0; i < 2 * n; i++)
        second[offsets[b]! + i] = parity * (i < n ? 1 : -1) * second[offsets[p]! + i]!;
      return;
    }
    const gain = (2 * (mu[b]! - 1)) / (mu[b]! + 1);
    addBody(second, offsets[b]!, coupling.bodies, body, b, gain, points, applied);
  });
  return second;
}

const outside: Vector = { x: 0, y: 0, z: 0 };

function addBody(
  second: Float64Array,
  at: number,
  bodies: readonly Body[],
  body: RingBody,
  b: number,
  gain: number,
  points: Points,
  applied: FieldSource | undefined,
): void {
  const { mesh } = body;
  const lowest = mesh.nodeZ[mesh.n]! - DEPTH * mesh.radius;
  const { start, x: px, y: py, z: pz, q } = points;
  // Its own charges are uniform or dipolar and have no part in this; far poles hardly bend the field here.
  const near = [...bodies.keys()].filter((o) => {
    const other = bodies[o]!;
    const far = other.kind === 'ring' && Math.hypot(other.x - body.x, other.y - body.y) > FAR * mesh.radius;
    return o !== b && !far;
  });
  for (let i = 0; i < mesh.n; i++) {
    if (mesh.nodeZ[i + 1]! < lowest) continue;
    const middle = panelPoints(mesh, i, 1, false);
    const r = middle.r[0]!;
    const z = body.z + middle.z[0]!;
    for (let a = 0; a < AROUND; a++) {
      const angle = (2 * Math.PI * (a + 0.5)) / AROUND;
      const c = Math.cos(angle);
      const s = Math.sin(angle);
      const x = body.x + r * c;
      const y = body.y + r * s;
      let hx = 0;
      let hy = 0;
      let hz = 0;
      for (let k = 0; k < near.length; k++) {
        const end = start[near[k]! + 1]!;
        for (let p = start[near[k]!]!; p < end; p++) {
          const dx = x - px[p]!;
          const dy = y - py[p]!;
          const dz = z - pz[p]!;
          const d2 = dx * dx + dy * dy + dz * dz;
          const w = q[p]! / (d2 * Math.sqrt(d2));
          hx += w * dx;
          hy += w * dy;
          hz += w * dz;
        }
      }
      if (applied) {
        applied(x, y, z, outside);
        hx += outside.x;
        hy += outside.y;
        hz += outside.z;
      }
      const normal = (gain * 2 * (mesh.normalR[i]! * (hx * c + hy * s) + mesh.normalZ[i]! * hz)) / AROUND;
      second[at + i] = second[at + i]! + normal * Math.cos(2 * angle);
      second[at + mesh.n + i] = second[at + mesh.n + i]! + normal * Math.sin(2 * angle);
    }
  }
}

function pointCharges(coupling: Coupling, density: Float64Array): Points {
  const { bodies, offsets } = coupling;
  const start = new Int32Array(bodies.length + 1);
  bodies.forEach((body, b) => {
    start[b + 1] = start[b]! + (body.kind === 'ring' ? SOURCE_AROUND : 1) * body.mesh.n;
  });
  const count = start[bodies.length]!;
  const points: Points = {
    start,
    x: new Float64Array(count),
    y: new Float64Array(count),
    z: new Float64Array(count),
    q: new Float64Array(count),
  };
  bodies.forEach((body, b) => {
    const at = offsets[b]!;
    let p = start[b]!;
    if (body.kind === 'box') {
      const { n, centre, area } = body.mesh;
      for (let i = 0; i < n; i++, p++) {
        points.x[p] = body.x + centre[3 * i]!;
        points.y[p] = body.y + centre[3 * i + 1]!;
        points.z[p] = body.z + centre[3 * i + 2]!;
        points.q[p] = (area[i]! * density[at + i]!) / (4 * Math.PI);
      }
      return;
    }
    const { mesh } = body;
    const n = mesh.n;
    for (let i = 0; i < n; i++) {
      const middle = panelPoints(mesh, i, 1, false);
      const weight = mesh.area[i]! / (4 * Math.PI * SOURCE_AROUND);
      for (let k = 0; k < SOURCE_AROUND; k++, p++) {
        const angle = (2 * Math.PI * (k + 0.5)) / SOURCE_AROUND;
        const c = Math.cos(angle);
        const s = Math.sin(angle);
        points.x[p] = body.x + middle.r[0]! * c;
        points.y[p] = body.y + middle.r[0]! * s;
        points.z[p] = body.z + middle.z[0]!;
        points.q[p] = weight * (density[at + i]! + density[at + n + i]! * c + density[at + 2 * n + i]! * s);
      }
    }
  });
  return points;
}
