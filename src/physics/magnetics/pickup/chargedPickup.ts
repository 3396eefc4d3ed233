/** A pickup's magnets and steel with their charges, without its coils: what pulls a string, and what a picture shows. */
import type { LinearLaw } from '../materials/demagnetisation.ts';
import type { BuiltPickup } from '../build/build.ts';
import { buildBodies, type BuiltBodies } from './buildBodies.ts';
import { BuildError, checkBuild } from '../build/checkBuild.ts';
import { solveBodies, zonedSteel } from './solveBodies.ts';
import type { Coupling } from '../charges/assemble.ts';
import { ChargeSources } from '../charges/gathered.ts';
import { offsetsOf } from '../bodies/body.ts';

/** What a solution leaves behind, as plain data; lists in the order of buildBodies. */
export interface Charges {
  /** Density of every unknown, and second harmonics of round bodies (see secondHarmonic), A/m. */
  readonly density: Float64Array;
  readonly second: Float64Array;
  /** The linear law that every body ended on. */
  readonly laws: readonly LinearLaw[];
}

/** Bodies and where their unknowns start, without what they do to each other. */
export type PlacedBodies = Pick<Coupling, 'bodies' | 'offsets'>;

/** A build with charges on its bodies; a SolvedPickup is one too. */
export interface ChargedPickup {
  readonly build: BuiltPickup;
  readonly built: BuiltBodies;
  readonly coupling: PlacedBodies;
  readonly magnets: Charges;
  readonly coils: readonly Pick<Charges, 'density' | 'second'>[];
}

/** The build with charges that were solved for it, whatever its gaps and windings were then; nothing is solved. */
export function chargedPickup(build: BuiltPickup, magnets: Charges): ChargedPickup {
  const built = buildBodies(build, 1, zonedSteel(build, magnets.laws));
  return {
    build,
    built,
    coupling: { bodies: built.bodies, offsets: offsetsOf(built.bodies) },
    magnets,
    coils: [],
  };
}

/**
 * The same, solved here.
 * @throws BuildError naming every fault of the build, RangeError when a magnet has no working point
 */
export function solveCharged(build: BuiltPickup): ChargedPickup {
  const faults = checkBuild(build);
  if (faults.length > 0) throw new BuildError(faults);
  return { build, ...solveBodies(build), coils: [] };
}

/** Of a pickup, without and with its coils' charges: what is gathered of them serves all strings. */
const known = [new WeakMap<ChargedPickup, ChargeSources>(), new WeakMap<ChargedPickup, ChargeSources>()];

/** Charges of the magnets (set 0) and, when asked for, of every coil. */
export function sourcesOf(pickup: ChargedPickup, withCoils: boolean): ChargeSources {
  const had = known[withCoils ? 1 : 0]!;
  const { coupling, magnets, coils } = pickup;
  const sets = withCoils ? [magnets, ...coils] : [magnets];
  const sources =
    had.get(pickup) ??
    new ChargeSources(
      coupling,
      sets.map(({ density }) => density),
      sets.map(({ second }) => second),
    );
  had.set(pickup, sources);
  return sources;
}
