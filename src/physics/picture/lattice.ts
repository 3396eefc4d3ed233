/** A fine lattice of field points over a surface, and coarser ones from which smooth parts are brought onto it. */
import type { Lattice } from '../../shape/lattice.ts';
import type { Vector } from '../numerics/vector.ts';
import type { BodyField } from './fieldOfBody.ts';

/** From the surface's own coordinates to the pickup's frame, m. */
export type Surface = (u: number, v: number, out: Vector) => void;

/** H at the nodes, A/m. */
export interface NodeField {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly z: Float64Array;
}

/** Zeros at all nu · nv nodes. */
export function emptyNodeField({ nu, nv }: Lattice): NodeField {
  return { x: new Float64Array(nu * nv), y: new Float64Array(nu * nv), z: new Float64Array(nu * nv) };
}

/**
 * From lo to hi at least, in whole coarse steps, so that every coarser lattice has nodes at both ends.
 *
 * @param u v lo and hi, m; @param step m; @param multiple fine steps in a coarse one
 */
export function lattice(
  u: readonly [number, number],
  v: readonly [number, number],
  step: number,
  multiple: number,
): Lattice {
  const count = ([lo, hi]: readonly [number, number]): number =>
    multiple * Math.ceil((hi - lo) / (step * multiple) - 1e-9) + 1;
  return { u0: u[0], v0: v[0], step, nu: count(u), nv: count(v) };
}

const point: Vector = { x: 0, y: 0, z: 0 };
const H: Vector = { x: 0, y: 0, z: 0 };

/**
 * Adds a body's field (A/m) to every node (u, v in m):
 * at nodes for which `near` is true as it is, elsewhere from every `coarse`-th node by
 * cubic interpolation. `near` must hold wherever the body is closer than about three coarse steps.
 */
export function addBodyField(
  to: NodeField,
  fine: Lattice,
  surface: Surface,
  field: BodyField,
  coarse: number,
  near: (u: number, v: number) => boolean,
): void {
  const { u0, v0, step, nu, nv } = fine;
  const wide = coarseLattice(fine, coarse);
  const isNear = new Uint8Array(nu * nv);
  const wanted = new Uint8Array(wide.nu * wide.nv);
  for (let j = 0; j < nv; j++) {
    for (let i = 0; i < nu; i++) {
      const k = j * nu + i;
      if (!near(u0 + i * step, v0 + j * step)) {
        wanted[(Math.floor(j / coarse) + 1) * wide.nu + Math.floor(i / coarse) + 1] = 1;
        continue;
      }
      isNear[k] = 1;
      evaluate(surface, field, u0 + i * step, v0 + j * step);
      to.x[k] = to.x[k]! + H.x;
      to.y[k] = to.y[k]! + H.y;
      to.z[k] = to.z[k]! + H.z;
    }
  }
  addCoarse(to, fine, coarse, coarseField(wide, surface, field, wanted), isNear);
}

/** The coarse lattice over a fine one, wider by a node on every side for the interpolation. */
function coarseLattice({ u0, v0, step, nu, nv }: Lattice, coarse: number): Lattice {
  const wide = step * coarse;
  return {
    u0: u0 - wide,
    v0: v0 - wide,
    step: wide,
    nu: (nu - 1) / coarse + 4,
    nv: (nv - 1) / coarse + 4,
  };
}

/** @param wanted cells, named by their first node, in which a value will be asked for */
function coarseField(wide: Lattice, surface: Surface, field: BodyField, wanted: Uint8Array): NodeField {
  const found = emptyNodeField(wide);
  for (let j = 0; j < wide.nv; j++) {
    for (let i = 0; i < wide.nu; i++) {
      if (!aroundWanted(wide, wanted, i, j)) continue;
      evaluate(surface, field, wide.u0 + i * wide.step, wide.v0 + j * wide.step);
      const k = j * wide.nu + i;
      found.x[k] = H.x;
      found.y[k] = H.y;
      found.z[k] = H.z;
    }
  }
  return found;
}

function aroundWanted({ nu, nv }: Lattice, wanted: Uint8Array, i: number, j: number): boolean {
  for (let q = Math.max(0, j - 2); q <= Math.min(nv - 1, j + 1); q++) {
    for (let p = Math.max(0, i - 2); p <= Math.min(nu - 1, i + 1); p++) if (wanted[q * nu + p]) return true;
  }
  return false;
}

function evaluate(surface: Surface, field: BodyField, u: number, v: number): void {
  surface(u, v, point);
  H.x = 0;
  H.y = 0;
  H.z = 0;
  field(point.x, point.y, point.z, H);
}

/** Lagrange's cubic through four neighbours, first along the coarse rows, then across them. */
function addCoarse(to: NodeField, fine: Lattice, coarse: number, from: NodeField, skip: Uint8Array): void {
  const weights = Array.from({ length: coarse }, (_, k) => cubicWeights(k / coarse));
  for (const part of ['x', 'y', 'z'] as const) addPart(to[part], fine, coarse, from[part], skip, weights);
}

function addPart(
  to: Float64Array,
  { nu, nv }: Lattice,
  coarse: number,
  from: Float64Array,
  skip: Uint8Array,
  weights: readonly (readonly [number, number, number, number])[],
): void {
  const wide = (nu - 1) / coarse + 4;
  const rows = new Float64Array(nu * ((nv - 1) / coarse + 4));
  for (let j = 0, k = 0; k < rows.length; j++) {
    for (let i = 0; i < nu; i++, k++) {
      const w = weights[i % coarse]!;
      const at = j * wide + Math.floor(i / coarse);
      rows[k] = w[0] * from[at]! + w[1] * from[at + 1]! + w[2] * from[at + 2]! + w[3] * from[at + 3]!;
    }
  }
  for (let j = 0, k = 0; j < nv; j++) {
    const w = weights[j % coarse]!;
    let at = Math.floor(j / coarse) * nu;
    for (let i = 0; i < nu; i++, k++, at++) {
      if (skip[k]) continue;
      to[k] =
        to[k]! +
        w[0] * rows[at]! +
        w[1] * rows[at + nu]! +
        w[2] * rows[at + 2 * nu]! +
        w[3] * rows[at + 3 * nu]!;
    }
  }
}

/** For nodes at −1, 0, 1 and 2. */
function cubicWeights(t: number): readonly [number, number, number, number] {
  return [
    (-t * (t - 1) * (t - 2)) / 6,
    ((t + 1) * (t - 1) * (t - 2)) / 2,
    (-(t + 1) * t * (t - 2)) / 2,
    ((t + 1) * t * (t - 1)) / 6,
  ];
}
