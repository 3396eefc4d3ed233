/** Where a picture's field comes from: the charges on a pickup's magnets and steel, its coils left out. */
import type { Body } from '../magnetics/bodies/body.ts';
import type { BodyMaterial } from '../magnetics/materials/bodyMaterial.ts';
import { MU0 } from '../numerics/constants.ts';
import type { Vector } from '../numerics/vector.ts';
import type { LinearLaw } from '../magnetics/materials/demagnetisation.ts';
import { type ChargedPickup, type PlacedBodies } from '../magnetics/pickup/chargedPickup.ts';

/** A pickup's magnets and steel with the charges on them; lists in the order of buildBodies. */
export interface FieldSources {
  readonly coupling: PlacedBodies;
  readonly bodies: readonly Body[];
  readonly materials: readonly BodyMaterial[];
  readonly laws: readonly LinearLaw[];
  /** A/m; a body's densities start at `offsets`, its second harmonics (round bodies alone) at `offsets2`. */
  readonly density: Float64Array;
  readonly second: Float64Array;
  readonly offsets: Int32Array;
  readonly offsets2: Int32Array;
}

/** A charged pickup as pictures want it. */
export function sourcesOf({ built, coupling, magnets }: ChargedPickup): FieldSources {
  const { bodies, materials } = built;
  const { density, second, laws } = magnets;
  const offsets2 = new Int32Array(bodies.length);
  let at = 0;
  bodies.forEach((body, b) => {
    offsets2[b] = at;
    if (body.kind === 'ring') at += 2 * body.mesh.n;
  });
  return { coupling, bodies, materials, laws, density, second, offsets: coupling.offsets, offsets2 };
}

/** Turns H at a point inside body b, which is at the height z (m), into B there, in place, T. */
export function insideBody({ bodies, laws, materials }: FieldSources, b: number, z: number, H: Vector): void {
  const { mu: mean, remanence, zones } = laws[b]!;
  const mu = zones?.[zoneAt(bodies[b]!, z)] ?? mean;
  const { axis, sign } = materials[b]!;
  H.x *= MU0 * mu;
  H.y *= MU0 * mu;
  H.z *= MU0 * mu;
  H[axis] += sign * remanence;
}

function zoneAt(body: Body, z: number): number {
  const ends = body.kind === 'box' ? body.mesh.zones?.ends : undefined;
  let k = 0;
  while (ends && k < ends.length - 2 && z - body.z > ends[k + 1]!) k++;
  return k;
}
