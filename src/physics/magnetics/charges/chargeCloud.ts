/**
 * Charges as points, chosen so that along one given line the points do what the rings and rectangles do. A string has
 * hundreds of field points; this is what makes six of them quick.
 */
import type { BoxBody, RingBody } from '../bodies/body.ts';
import { PER_HEIGHT, pointsFor, type ChargeSources, type GatheredCharges } from './gathered.ts';
import { gaussLegendre } from '../../numerics/quadrature.ts';
import { faceSlopeAt } from '../kernels/boxPoint.ts';
import { panelPoints, slopeAt } from '../bodies/ringPoints.ts';

/** Points with several charges each, one for every set of densities. */
export interface ChargeCloud {
  readonly count: number;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
  /** A·m over 4π; set s of point p stands at s · capacity + p. */
  readonly q: Float64Array;
  readonly capacity: number;
  readonly sets: number;
}

/** A line along the string: it passes through (0, y, z) and makes the angle `turn` with the x axis, rad. */
export interface Line {
  readonly y: number;
  readonly z: number;
  readonly turn: number;
}

/** What the first missed harmonic of a ring may amount to, of that ring's own field. */
const MISSED = 2e-4;

class Builder {
  count = 0;
  x: Float64Array = new Float64Array(2048);
  y: Float64Array = new Float64Array(2048);
  z: Float64Array = new Float64Array(2048);
  q: Float64Array[];

  constructor(sets: number) {
    this.q = Array.from({ length: sets }, () => new Float64Array(2048));
  }

  room(): number {
    if (this.count === this.x.length) {
      const grown = (old: Float64Array): Float64Array => {
        const twice = new Float64Array(2 * old.length);
        twice.set(old);
        return twice;
      };
      this.x = grown(this.x);
      this.y = grown(this.y);
      this.z = grown(this.z);
      this.q = this.q.map(grown);
    }
    return this.count++;
  }
}

/**
 * @param sources what has charges; what is far from the line is gathered (see gathered.ts)
 * @param line where the field will be asked for, in the pickup's frame; the cloud comes out turned by −line.turn, so
 *   that the line runs along x at its y and z
 * Digits: 1e-3 of the largest field on the line, from 1 mm above the charges on.
 */
export function chargeCloud(sources: ChargeSources, line: Line): ChargeCloud {
  const { densities } = sources;
  const builder = new Builder(densities.length);
  sources.bodies.forEach((body, b) => {
    if (body.kind === 'ring') addRings(builder, sources, body, b, line);
    else addBox(builder, sources, body, b, line);
  });
  const { count } = builder;
  const q = new Float64Array(count * densities.length);
  builder.q.forEach((charges, s) => q.set(charges.subarray(0, count), s * count));
  const c = Math.cos(line.turn);
  const s = Math.sin(line.turn);
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  for (let p = 0; p < count; p++) {
    x[p] = builder.x[p]! * c + builder.y[p]! * s;
    y[p] = builder.y[p]! * c - builder.x[p]! * s;
  }
  return { count, x, y, z: builder.z.slice(0, count), q, capacity: count, sets: densities.length };
}

/** How far a vertical axis at (x, y) is from the line, seen from above. */
function aside(line: Line, x: number, y: number): number {
  return Math.abs(y * Math.cos(line.turn) - x * Math.sin(line.turn) - line.y);
}

/** Points around a ring of radius a, its axis `distance` aside and its plane `depth` below the line. */
function pointsAround(a: number, distance: number, depth: number): number {
  // Harmonic n falls as (χ + √(χ²−1))^−n, χ in toroidal coordinates, where the line comes nearest.
  const rho = Math.max(distance, Math.sqrt(a * a + depth * depth));
  const chi = (rho * rho + a * a + depth * depth) / (2 * a * rho);
  const fall = Math.log(chi + Math.sqrt(Math.max(0, chi * chi - 1)));
  const wanted = 1 - Math.log(MISSED) / Math.max(fall, 0.05);
  // Even, so that the points keep both mirror symmetries.
  return 2 * Math.ceil(0.5 * Math.min(64, Math.max(4, wanted)));
}

/** Cosines and sines of φ and of 2φ. */
interface Circle {
  readonly cos: Float64Array;
  readonly sin: Float64Array;
  readonly cos2: Float64Array;
  readonly sin2: Float64Array;
}

/** Equal steps, kept for the few counts there are. */
const circles: Circle[] = [];

const circleOf = (count: number): Circle => (circles[count] ??= newCircle(count));

function newCircle(count: number): Circle {
  const angle = Float64Array.from({ length: count }, (_, l) => (2 * Math.PI * (l + 0.5)) / count);
  return {
    cos: angle.map(Math.cos),
    sin: angle.map(Math.sin),
    cos2: angle.map((phi) => Math.cos(2 * phi)),
    sin2: angle.map((phi) => Math.sin(2 * phi)),
  };
}

/** Radii of a pole from which on it is seen as its moments of zeroth to second order. */
const FAR = 3;
/** The fewest points that a ring has, and what a rectangle has as a rule. */
const FEWEST = 4;
const PER_RECTANGLE = 2;

function addGathered(to: Builder, { x, y, z, q }: GatheredCharges): void {
  const first = to.count;
  for (let k = 0; k < x.length; k++) {
    const p = to.room();
    to.x[p] = x[k]!;
    to.y[p] = y[k]!;
    to.z[p] = z[k]!;
  }
  q.forEach((charges, s) => to.q[s]!.set(charges, first));
}

/** Even, so that strings that differ a little share what is gathered. */
const even = (count: number): number => 2 * Math.ceil(0.5 * count);

/** @returns how many of a pole's lowest panels were added as what is gathered of them */
function addFarRings(to: Builder, sources: ChargeSources, body: RingBody, b: number, line: Line): number {
  const { mesh } = body;
  const distance = aside(line, body.x, body.y);
  const above = line.z - body.z;
  const level = above - Math.sqrt(Math.max(0, (FAR * mesh.radius) ** 2 - distance ** 2));
  let panels = 0;
  while (panels < mesh.n && mesh.nodeZ[panels + 1]! <= level) panels++;
  const half = 0.5 * (mesh.nodeZ[panels]! - mesh.nodeZ[0]!);
  if (!(half > 0)) return 0;
  const middle = mesh.nodeZ[0]! + half;
  const count = even(pointsFor(half, above - middle, Math.max(0, distance - mesh.radius)));
  if (count * PER_HEIGHT >= FEWEST * panels) return 0;
  addGathered(to, sources.rings(b, panels, count));
  return panels;
}

function addRings(to: Builder, sources: ChargeSources, body: RingBody, b: number, line: Line): void {
  const { densities, seconds } = sources;
  const at = sources.offsets[b]!;
  const at2 = sources.secondOffsets[b]!;
  const { mesh } = body;
  const n = mesh.n;
  const distance = aside(line, body.x, body.y);
  for (let j = addFarRings(to, sources, body, b, line); j < n; j++) {
    const depth = line.z - body.z - 0.5 * (mesh.nodeZ[j]! + mesh.nodeZ[j + 1]!);
    const rim = Math.max(mesh.nodeR[j]!, mesh.nodeR[j + 1]!);
    const gap = Math.hypot(Math.max(0, distance - rim), depth);
    const share = mesh.length[j]! / gap;
    const points = panelPoints(mesh, j, share > 0.8 ? 3 : share > 0.12 ? 2 : 1, false);
    for (let k = 0; k < points.r.length; k++) {
      const a = points.r[k]!;
      const around = pointsAround(a, distance, line.z - body.z - points.z[k]!);
      const weight = points.weight[k]! / (4 * Math.PI * around);
      const along = points.along[k]!;
      const first = to.count;
      const { cos, sin, cos2, sin2 } = circleOf(around);
      for (let l = 0; l < around; l++) {
        const p = to.room();
        to.x[p] = body.x + a * cos[l]!;
        to.y[p] = body.y + a * sin[l]!;
        to.z[p] = body.z + points.z[k]!;
      }
      densities.forEach((density, s) => {
        const q0 = weight * (density[at + j]! + along * slopeAt(mesh, density, at, j));
        const qc = weight * (density[at + n + j]! + along * slopeAt(mesh, density, at + n, j));
        const qs = weight * (density[at + 2 * n + j]! + along * slopeAt(mesh, density, at + 2 * n, j));
        const q2c = weight * (seconds?.[s]?.[at2 + j] ?? 0);
        const q2s = weight * (seconds?.[s]?.[at2 + n + j] ?? 0);
        const charges = to.q[s]!;
        for (let l = 0; l < around; l++) {
          charges[first + l] = q0 + qc * cos[l]! + qs * sin[l]! + q2c * cos2[l]! + q2s * sin2[l]!;
        }
      });
    }
  }
}

/** m; no line comes nearer to what stands under it. */
const LEAST_NEAR = 2e-4;

/** What may be missing of a rectangle's field on the line, and points along an edge at most. */
const MISSED_OF_EDGE = 1e-5;
const MOST_ALONG = 24;

/**
 * Gauss points along an edge seen from `gap` away: one point alone drops the slope across it. An edge longer than the line is
 * `near` to it, as of a bar that lies alone under a string, wants more: the error falls as ρ^−2n, ρ the sum of the half axes of the
 * ellipse about the edge, half of it taken as 1, that goes through the nearest place on the line (textbook).
 */
function pointsAlong(edge: number, gap: number, near: number): number {
  if (edge > near) {
    const beside = (2 * near) / edge;
    const wanted = -0.5 * (Math.log(MISSED_OF_EDGE) / Math.asinh(beside));
    return Math.min(MOST_ALONG, Math.max(3, Math.ceil(wanted)));
  }
  return edge > 0.2 * gap ? 3 : edge > 0.06 * gap ? 2 : 1;
}

/** @returns whether a box was far enough from the line to be added as what is gathered of it */
function addFarBox(
  to: Builder,
  sources: ChargeSources,
  { mesh, z }: BoxBody,
  b: number,
  line: Line,
): boolean {
  const { size } = mesh;
  const clear = line.z - z - 0.5 * size.z;
  if (!(clear > 0)) return false;
  const counts = [
    even(pointsFor(0.5 * size.x, 0, clear)),
    even(pointsFor(0.5 * size.y, 0, clear)),
    pointsFor(0.5 * size.z, clear + 0.5 * size.z, 0),
  ] as const;
  if (!(counts[0] * counts[1] * counts[2] < PER_RECTANGLE * mesh.n)) return false;
  addGathered(to, sources.box(b, counts));
  return true;
}

function addBox(to: Builder, sources: ChargeSources, body: BoxBody, which: number, line: Line): void {
  if (addFarBox(to, sources, body, which, line)) return;
  const { densities } = sources;
  const at = sources.offsets[which]!;
  const { mesh } = body;
  for (let j = 0; j < mesh.n; j++) {
    const axis = mesh.axis[j]!;
    const a = mesh.halfU[j]!;
    const b = mesh.halfV[j]!;
    const cx = body.x + mesh.centre[3 * j]!;
    const cy = body.y + mesh.centre[3 * j + 1]!;
    const cz = body.z + mesh.centre[3 * j + 2]!;
    const gap = Math.hypot(Math.max(0, aside(line, cx, cy) - Math.max(a, b)), line.z - cz);
    // Standing rectangles have their second edge upright.
    const high = axis === 2 ? 0 : b;
    const near = Math.hypot(
      Math.max(0, aside(line, cx, cy) - Math.max(a, b)),
      Math.max(LEAST_NEAR, line.z - cz - high),
    );
    const acrossU = gaussLegendre(pointsAlong(2 * a, gap, near));
    const acrossV = gaussLegendre(pointsAlong(2 * b, gap, near));
    const nu = acrossU.x.length;
    const count = nu * acrossV.x.length;
    const first = to.count;
    for (let k = 0; k < count; k++) {
      const du = a * acrossU.x[k % nu]!;
      const dv = b * acrossV.x[Math.floor(k / nu)]!;
      const p = to.room();
      to.x[p] = cx + (axis === 0 ? 0 : axis === 1 ? dv : du);
      to.y[p] = cy + (axis === 0 ? du : axis === 1 ? 0 : dv);
      to.z[p] = cz + (axis === 0 ? dv : axis === 1 ? du : 0);
    }
    densities.forEach((density, s) => {
      const charges = to.q[s]!;
      const slopeU = a * faceSlopeAt(mesh.slopeU, density, at, j);
      const slopeV = b * faceSlopeAt(mesh.slopeV, density, at, j);
      const share = mesh.area[j]! / (16 * Math.PI);
      for (let k = 0; k < count; k++) {
        const [ku, kv] = [k % nu, Math.floor(k / nu)];
        charges[first + k] =
          share *
          acrossU.w[ku]! *
          acrossV.w[kv]! *
          (density[at + j]! + slopeU * acrossU.x[ku]! + slopeV * acrossV.x[kv]!);
      }
    });
  }
}
