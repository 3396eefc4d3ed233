/** Where a picture's field comes from: a pickup's magnets and steel without its coils, solved and kept. */
import { assemble } from '../magnetics/charges/assemble.ts';
import type { Coupling } from '../magnetics/charges/assemble.ts';
import type { Body } from '../magnetics/bodies/body.ts';
import type { PickupBuild } from '../magnetics/build/build.ts';
import { buildBodies } from '../magnetics/pickup/buildBodies.ts';
import { BuildError, checkBuild } from '../magnetics/build/checkBuild.ts';
import { MU0 } from '../numerics/constants.ts';
import type { LinearLaw } from '../magnetics/materials/demagnetisation.ts';
import { solveMagnets } from '../magnetics/charges/magnetSolve.ts';
import type { BodyMaterial } from '../magnetics/materials/bodyMaterial.ts';
import type { Vector } from '../numerics/vector.ts';

/** A pickup's magnets and steel with the charges on them; lists in the order of buildBodies. */
export interface FieldSources {
  readonly coupling: Coupling;
  readonly bodies: readonly Body[];
  readonly materials: readonly BodyMaterial[];
  readonly laws: readonly LinearLaw[];
  /** A/m; a body's densities start at `offsets`, its second harmonics (round bodies alone) at `offsets2`. */
  readonly density: Float64Array;
  readonly second: Float64Array;
  readonly offsets: Int32Array;
  readonly offsets2: Int32Array;
}

/**
 * Solves a pickup without its coils.
 * @throws BuildError naming every fault of the build, RangeError when a magnet has no working point
 */
export function fieldSources(build: PickupBuild): FieldSources {
  const faults = checkBuild(build);
  if (faults.length > 0) throw new BuildError(faults);
  const { bodies, materials } = buildBodies(build);
  const coupling = assemble(bodies);
  const { density, second, laws } = solveMagnets(coupling, materials);
  const offsets2 = new Int32Array(bodies.length);
  let at = 0;
  bodies.forEach((body, b) => {
    offsets2[b] = at;
    if (body.kind === 'ring') at += 2 * body.mesh.n;
  });
  return { coupling, bodies, materials, laws, density, second, offsets: coupling.offsets, offsets2 };
}

const solved = new Map<string, FieldSources>();
const KEEP = 4;

/**
 * The same, from the last few that were solved when only gaps, strings or windings have changed.
 * @throws BuildError naming every fault of the build
 */
export function keptSources(build: PickupBuild): FieldSources {
  const key = JSON.stringify([
    build.rows.map(({ offset, pitch, pole, heights }) => [offset, pitch, pole, heights]),
    build.bars,
  ]);
  let sources = solved.get(key);
  if (!sources) {
    sources = fieldSources(build);
    if (solved.size >= KEEP) solved.delete(solved.keys().next().value!);
  } else solved.delete(key);
  solved.set(key, sources);
  return sources;
}

/** Turns H at a point inside body b into B there, in place, T. */
export function insideBody({ laws, materials }: FieldSources, b: number, H: Vector): void {
  const { mu, remanence } = laws[b]!;
  const { axis, sign } = materials[b]!;
  H.x *= MU0 * mu;
  H.y *= MU0 * mu;
  H.z *= MU0 * mu;
  H[axis] += sign * remanence;
}
