/** B in the upright plane through the poles under a string. */
import type { BuiltPickup } from '../magnetics/build/build.ts';
import { insideOutline } from '../../shape/outline.ts';
import { polePlaces } from '../../shape/poleRow.ts';
import { MU0 } from '../numerics/constants.ts';
import { fieldOfBody } from './fieldOfBody.ts';
import type { BodyField } from './fieldOfBody.ts';
import { addBodyField, emptyNodeField, lattice } from './lattice.ts';
import type { Lattice } from '../../shape/lattice.ts';
import type { NodeField, Surface } from './lattice.ts';
import { boxAround, distanceToPlane, keepOff, outlineOf } from './outline.ts';
import type { FieldSources } from './sources.ts';
import { fluxStarts } from './starts.ts';
import type { SectionPicture } from './types.ts';

/** Half of the string shown, and the heights shown, m. */
const HALF_SPAN = 0.036;
const HEIGHTS = [-0.033, 0.021] as const;
const STEP = 5e-4;
/** Coarse lattices, in steps, and from how far off the plane they serve, m. */
const MIDDLE = 3;
const COARSE = 6;
const COARSE_FROM = 7e-3;
const COARSEST = 12;
const COARSEST_FROM = 16e-3;
/** Within this of a body's box its field is taken at every node: about three steps of the middle lattice. */
const NEAR = 4.5e-3;
/** Nodes are kept this far from surfaces, where single panels would show and B's normal part is neither side's. */
const OFF = 1.2e-4;

/** Place across, m, of the pole nearest to a string at `y`, or without poles of the string: the plane that a section shows. */
export function sectionPlane(build: BuiltPickup, y: number): number {
  const places = build.rows.flatMap(polePlaces);
  if (places.length === 0) return y;
  return places.reduce((best, place) => (Math.abs(place - y) < Math.abs(best - y) ? place : best));
}

/** B in the plane y = `y`, m across. @param origin place of u = 0 on the string, m from the saddle; passed on */
export function sectionPicture(sources: FieldSources, y: number, origin: number): SectionPicture {
  const nodes = lattice([-HALF_SPAN, HALF_SPAN], HEIGHTS, STEP, COARSEST);
  const field = emptyNodeField(nodes);
  const outlines = sources.bodies.map((body) => outlineOf(body, y));
  const coarse: BodyField[] = [];
  const coarsest: BodyField[] = [];
  sources.bodies.forEach((body, b) => {
    const ofBody = fieldOfBody(sources, b);
    const distance = distanceToPlane(body, y);
    if (distance >= COARSEST_FROM) coarsest.push(ofBody);
    else if (distance >= COARSE_FROM) coarse.push(ofBody);
    else {
      const { left, right, low, high } = boxAround(body);
      const near = (u: number, v: number): boolean =>
        u > left - NEAR && u < right + NEAR && v > low - NEAR && v < high + NEAR;
      addBodyField(field, nodes, upright(y, outlines[b]), ofBody, MIDDLE, near);
    }
  });
  const nowhere = (): boolean => false;
  addBodyField(field, nodes, upright(y), together(coarse), COARSE, nowhere);
  addBodyField(field, nodes, upright(y), together(coarsest), COARSEST, nowhere);
  const cut = outlines.filter((outline) => outline !== null);
  const { bu, bv } = outsideBodies(nodes, field, cut);
  return { origin, ...nodes, bu, bv, outlines: cut, starts: fluxStarts(sources, y, { ...nodes, bu, bv }) };
}

/** The plane y = `y`, but for points next to an outline. */
const upright =
  (y: number, outline?: Float64Array | null): Surface =>
  (u, v, out) => {
    const at = { u, v };
    if (outline) keepOff(outline, OFF, at);
    out.x = at.u;
    out.y = y;
    out.z = at.v;
  };

const together =
  (fields: readonly BodyField[]): BodyField =>
  (x, y, z, out) => {
    for (const field of fields) field(x, y, z, out);
  };

interface Components {
  readonly bu: Float32Array;
  readonly bv: Float32Array;
}

/** B from H, NaN in the bodies but for the nodes next to their surfaces. */
function outsideBodies(nodes: Lattice, field: NodeField, outlines: readonly Float64Array[]): Components {
  const bu = Float32Array.from(field.x, (H) => MU0 * H);
  const bv = Float32Array.from(field.z, (H) => MU0 * H);
  const { u0, v0, step, nu, nv } = nodes;
  for (let j = 0; j < nv; j++) {
    for (let i = 0; i < nu; i++) {
      if (!outlines.some((outline) => insideOutline(outline, u0 + i * step, v0 + j * step))) continue;
      bu[j * nu + i] = NaN;
      bv[j * nu + i] = NaN;
    }
  }
  continueAcross({ bu, bv }, nu, nv);
  return { bu, bv };
}

/** Gives every empty node beside a full one a value: the mean of straight continuations from the full ones. */
function continueAcross({ bu: u, bv: v }: Components, nu: number, nv: number): void {
  const added: [number, number, number][] = [];
  for (let j = 0; j < nv; j++) {
    for (let i = 0; i < nu; i++) {
      const k = j * nu + i;
      if (!Number.isNaN(u[k]!)) continue;
      let weight = 0;
      let su = 0;
      let sv = 0;
      for (let dj = -1; dj <= 1; dj++) {
        for (let di = -1; di <= 1; di++) {
          const p = i + di;
          const q = j + dj;
          if (p < 0 || q < 0 || p >= nu || q >= nv) continue;
          const one = q * nu + p;
          if (Number.isNaN(u[one]!)) continue;
          const two = p + di < 0 || q + dj < 0 || p + di >= nu || q + dj >= nv ? one : one + dj * nu + di;
          const straight = !Number.isNaN(u[two]!);
          // Along a row or column counts twice as much as across a corner.
          const w = di === 0 || dj === 0 ? 2 : 1;
          weight += w;
          su += w * (straight ? 2 * u[one]! - u[two]! : u[one]!);
          sv += w * (straight ? 2 * v[one]! - v[two]! : v[one]!);
        }
      }
      if (weight > 0) added.push([k, su / weight, sv / weight]);
    }
  }
  for (const [k, a, b] of added) {
    u[k] = a;
    v[k] = b;
  }
}
