/** A build's magnets and steel, solved; steel that saturates is cut into zones for it. */
import { assemble, type Coupling } from '../charges/assemble.ts';
import { marked } from '../charges/chargeSolver.ts';
import type { MagnetSolution } from '../charges/magnetSolve.ts';
import { fullBoxes, solveStatic } from '../charges/saturation.ts';
import type { BuiltPickup } from '../build/build.ts';
import { Kept } from '../../numerics/kept.ts';
import { buildBodies, coresOf, type BuiltBodies } from './buildBodies.ts';

/** Bodies with their charges. */
export interface SolvedBodies {
  readonly built: BuiltBodies;
  readonly coupling: Coupling;
  readonly magnets: MagnetSolution;
}

/** With more unknowns than this, at fineness 1, blades and walls stay linear: cut anew they would take longer than a sheet may. */
const MOST_UNKNOWNS = 950;

/** The last ones, with what puts a coupling's solver back to where these charges left it. */
const kept = new Kept<SolvedBodies & { readonly back: () => void }>(3);

/**
 * Those of the last builds are kept, for a coil that is wound otherwise moves none of these charges; what is solved with them next
 * is to the bit what it would be without.
 *
 * @param build without faults; @param fineness as for buildBodies
 * @throws RangeError as solveStatic does
 */
export function solveBodies(build: BuiltPickup, fineness = 1): SolvedBodies {
  const { rows, bars, steel } = build;
  const key = JSON.stringify([fineness, rows.map(({ winding: _, ...row }) => row), bars, steel]);
  const { back, built, ...solved } = kept.of(key, () => {
    const bodies = solvedAnew(build, fineness);
    return { ...bodies, back: marked(bodies.coupling) };
  });
  back();
  return { ...solved, built: { ...built, cores: coresOf(build) } };
}

function solvedAnew(build: BuiltPickup, fineness: number): SolvedBodies {
  const built = buildBodies(build, fineness);
  const coupling = assemble(built.bodies);
  const magnets = solveStatic(coupling, built.materials);
  const linear: SolvedBodies = { built, coupling, magnets };
  const full = fullBoxes(coupling, built.materials, magnets.density);
  if (full.length === 0 || coupling.representatives.count > MOST_UNKNOWNS * fineness ** 2) return linear;
  const first = built.bodies.length - (build.steel ?? []).length;
  const zoned = buildBodies(
    build,
    fineness,
    full.map((b) => b - first),
  );
  const again = assemble(zoned.bodies);
  const solution = solveStatic(again, zoned.materials, magnets);
  return solution === magnets ? linear : { built: zoned, coupling: again, magnets: solution };
}

/** Which of a build's pieces of steel have zones, by the laws (relative permeabilities, 1) that all bodies ended on. */
export const zonedSteel = ({ steel = [] }: BuiltPickup, laws: MagnetSolution['laws']): readonly number[] =>
  [...steel.keys()].filter((k) => laws[laws.length - steel.length + k]!.zones);
