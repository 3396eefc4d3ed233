/** Right-hand sides of the charge equation: remanence and applied fields, projected on every unknown. */
import type { Body, BoxBody, RingBody } from '../bodies/body.ts';
import { boxImage } from '../bodies/boxImage.ts';
import { rectanglePoints } from '../bodies/rectanglePoints.ts';
import type { Coupling } from './assemble.ts';
import { ZoneRows } from './zoneRows.ts';
import type { Permeabilities } from './zoneRows.ts';
import { balanceBox, balanceOffset } from '../kernels/fluxBalance.ts';
import { expanded, reduced } from '../bodies/mirror.ts';
import type { Vector } from '../../numerics/vector.ts';
import { panelPoints } from '../bodies/ringPoints.ts';

/**
 * n·M of uniformly magnetised bodies, A/m.
 *
 * @param magnetisation remanence of every body, A/m
 */
export function remanenceLoad(coupling: Coupling, magnetisation: readonly Readonly<Vector>[]): Float64Array {
  const load = new Float64Array(coupling.offsets[coupling.bodies.length]!);
  coupling.bodies.forEach((body, b) => {
    const at = coupling.offsets[b]!;
    const m = magnetisation[b]!;
    const n = body.mesh.n;
    if (body.kind === 'ring') {
      for (let i = 0; i < n; i++) {
        load[at + i] = m.z * body.mesh.normalZ[i]!;
        load[at + n + i] = m.x * body.mesh.normalR[i]!;
        load[at + 2 * n + i] = m.y * body.mesh.normalR[i]!;
      }
    } else {
      const parts = [m.x, m.y, m.z];
      for (let i = 0; i < n; i++) load[at + i] = parts[body.mesh.axis[i]!]! * body.mesh.sign[i]!;
    }
  });
  return load;
}

/**
 * What a field makes of permeable bodies, (χ − χ′) H·n with χ on one side and χ′ on the other of every element, A/m.
 *
 * @param field n·H on every unknown, A/m
 */
export function inducedLoad(
  { bodies, offsets }: Pick<Coupling, 'bodies' | 'offsets'>,
  { mu, across = mu, zones }: Permeabilities,
  field: Float64Array,
): Float64Array {
  const load = new Float64Array(field.length);
  bodies.forEach((body, b) => {
    const at = offsets[b]!;
    const uniform = body.kind === 'ring' ? at + body.mesh.n : offsets[b + 1]!;
    const rows =
      body.kind === 'box' && body.mesh.zones ? new ZoneRows(body.mesh.zones, mu[b]!, zones?.[b]) : null;
    for (let i = at; i < offsets[b + 1]!; i++) {
      const factor = rows ? rows.factors[i - at]! : (i < uniform ? mu : across)[b]! - 1;
      load[i] = factor * field[i]!;
    }
  });
  return load;
}

/** A field source: writes H (A/m) at a point into the vector. */
export type FieldSource = (x: number, y: number, z: number, out: Vector) => void;

/** How many points along either edge rectangle j of a box has. */
export type PointsAlong = (body: BoxBody, j: number) => number;

const h: Vector = { x: 0, y: 0, z: 0 };

/**
 * n·H of an applied field, A/m, mean over every element, its net flux through every body taken off.
 *
 * @param sourceAt the field where a body stands, as it is near to what makes it or far
 * @param around points around a body's rings; the field's harmonics from there on are lost
 * @param along points along either edge of a rectangle
 * @param mirrored whether the field is its own image across y = 0, so that half of the bodies tells the rest
 * @param halved whether the field about a round body is its own image in the plane across x through its axis: then half of the points
 *   around it, an even number of which none lies in that plane, tells the rest
 */
export function fieldLoad(
  coupling: Coupling,
  sourceAt: (body: Body) => FieldSource,
  around: (body: Body) => number,
  mirrored: boolean,
  along: PointsAlong,
  halved: (body: Body) => boolean,
): Float64Array {
  const { representatives } = coupling;
  const half = mirrored && representatives.symmetric;
  const load = new Float64Array(coupling.offsets[coupling.bodies.length]!);
  coupling.bodies.forEach((body, b) => {
    if (half && representatives.body[b] !== b) return;
    const image = half && body.kind === 'box' ? ownImage(coupling, b) : null;
    const at = coupling.offsets[b]!;
    if (body.kind === 'ring') addRings(load, at, body, sourceAt(body), around(body), halved(body));
    else addRectangles(load, at, body, sourceAt(body), along, image);
  });
  return half ? expanded(representatives, reduced(representatives, load)) : load;
}

/** Number of every rectangle's image, of a box that is its own mirror image where the coupling uses that mirror; null of others. */
export function ownImage({ bodies, offsets, representatives }: Coupling, b: number): Int32Array | null {
  const body = bodies[b]!;
  if (body.kind === 'ring' || !representatives.symmetric) return null;
  const there = representatives.image[offsets[b]!]!;
  const own = there >= offsets[b]! && there < offsets[b + 1]!;
  return own ? boxImage(body.mesh, body.mesh, 1) : null;
}

function addRectangles(
  load: Float64Array,
  at: number,
  body: BoxBody,
  source: FieldSource,
  along: PointsAlong,
  image: Int32Array | null,
): void {
  const { n, axis, sign } = body.mesh;
  for (let i = 0; i < n; i++) {
    if (image && image[i]! < i) {
      load[at + i] = load[at + image[i]!]!;
      continue;
    }
    rectanglePoints(body, i, along(body, i), (x, y, z, share) => {
      source(x, y, z, h);
      load[at + i] = load[at + i]! + share * sign[i]! * (axis[i] === 0 ? h.x : axis[i] === 1 ? h.y : h.z);
    });
  }
  balanceBox(load.subarray(at, at + n), 1, body.mesh, false);
}

function addRings(
  load: Float64Array,
  at: number,
  { mesh, x, y, z }: RingBody,
  source: FieldSource,
  around: number,
  halved: boolean,
): void {
  const { n } = mesh;
  for (let i = 0; i < n; i++) {
    const points = panelPoints(mesh, i, 2, false);
    for (let p = 0; p < 2; p++) {
      const share = ((halved ? 2 : 1) * points.weight[p]!) / (mesh.area[i]! * around);
      for (let k = 0; k < around; k++) {
        const angle = (2 * Math.PI * (k + 0.5)) / around;
        const c = Math.cos(angle);
        const s = Math.sin(angle);
        if (halved && c < 0) continue;
        source(x + points.r[p]! * c, y + points.r[p]! * s, z + points.z[p]!, h);
        const normal = share * (mesh.normalR[i]! * (h.x * c + h.y * s) + mesh.normalZ[i]! * h.z);
        load[at + i] = load[at + i]! + normal;
        // On the other side cos φ has the other sign.
        if (!halved) load[at + n + i] = load[at + n + i]! + 2 * normal * c;
        load[at + 2 * n + i] = load[at + 2 * n + i]! + 2 * normal * s;
      }
    }
  }
  balanceOffset(load, at, mesh.area);
}
