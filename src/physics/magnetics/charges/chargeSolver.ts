/**
 * Magnetic surface charges of permeable and magnetised bodies:
 *
 *     σ (µr + 1)/2 = (µr − 1) (K σ + H·n) + M·n
 *
 * with M the remanence (A/m) and H the applied field. A chain of small dense factors, one a body, does most of the
 * work (bodyChain); directions that are kept settle what is left of what the bodies do to each other (directions).
 */
import { multiply } from '../../numerics/multiply.ts';
import { assemble } from './assemble.ts';
import type { Coupling } from './assemble.ts';
import { Factors } from './bodyFactors.ts';
import { joined, parted } from './contacts.ts';
import { Directions } from './directions.ts';
import { halvesOf } from './halves.ts';
import { expanded, parityOf, partOf, reduced } from '../bodies/mirror.ts';
import type { Mirror, Parity } from '../bodies/mirror.ts';

const factorsOf = new WeakMap<Coupling, Factors>();
const directionsOf = new WeakMap<Coupling, Directions>();
/** The same bodies for charges that are opposite on images, and without the use of symmetry. */
const oppositeOf = new WeakMap<Coupling, Coupling>();
const plainOf = new WeakMap<Coupling, Coupling>();

function keptIn(known: WeakMap<Coupling, Coupling>, coupling: Coupling, mirror: -1 | 0): Coupling {
  let other = known.get(coupling);
  if (!other) {
    other = assemble(coupling.bodies, mirror);
    known.set(coupling, other);
  }
  return other;
}

const withoutMirror = (coupling: Coupling): Coupling => keptIn(plainOf, coupling, 0);

/** The bodies for charges of one kind, when `coupling` is for those that are equal on images. */
const couplingFor = (coupling: Coupling, parity: Parity): Coupling =>
  parity > 0 ? coupling : keptIn(oppositeOf, coupling, -1);

function factorsFor(coupling: Coupling): Factors {
  let factors = factorsOf.get(coupling);
  if (!factors) {
    factors = new Factors();
    factorsOf.set(coupling, factors);
  }
  return factors;
}

/** The coupling (1) of some of another's bodies, with the factors that it has or gets. */
export function sharingFactors(all: Coupling, some: Coupling): Coupling {
  factorsOf.set(some, factorsFor(all));
  return some;
}

/** One set of charges to solve for. */
export interface ChargeProblem {
  /** Relative permeability of every body, above 0. */
  readonly mu: ArrayLike<number>;
  /** That of round bodies for charges in cos φ and sin φ, where it differs across their axis; `mu` when left out. */
  readonly across?: ArrayLike<number> | undefined;
  /** Those of a box's zones, where they differ. */
  readonly zones?: readonly (ArrayLike<number> | undefined)[] | undefined;
  /** Right-hand side, (µr − 1) H·n + M·n on every unknown, A/m. */
  readonly load: Float64Array;
  /** Relative residual; 5e-8 when left out. */
  readonly tolerance?: number | undefined;
}

/**
 * As solveCharges, several at once: every pass over the matrix serves all of them. Where the bodies are their own mirror image, what of
 * a load is equal on images and what is opposite make charges of their own kind.
 *
 * @returns densities, A/m
 */
export function solveManyCharges(
  coupling: Coupling,
  problems: readonly ChargeProblem[],
): readonly Float64Array[] {
  const { representatives } = coupling;
  if (!representatives.symmetric) return solveHalves(coupling, problems);
  if (!problems.every((problem) => areAlike(representatives.body, problem)))
    return solveHalves(withoutMirror(coupling), problems);
  return inParts(representatives, problems, (parity, parts) =>
    solveHalves(couplingFor(coupling, parity), parts),
  );
}

/** Both mirrors may halve: problems that have the symmetry which the coupling uses, and perhaps that across x. */
function solveHalves(coupling: Coupling, problems: readonly ChargeProblem[]): readonly Float64Array[] {
  const halves = halvesOf(coupling);
  if (!halves || !problems.every((problem) => areAlike(halves.mirror.partner, problem)))
    return solveTogether(coupling, problems);
  return inParts(halves.mirror, problems, (parity, parts) => {
    const half = halves.of(parity);
    factorsOf.set(half, factorsFor(coupling).halved(parity));
    return solveTogether(half, parts);
  });
}

/** What of every load is equal on images, and what is opposite, each as `solve` has it for its kind. */
function inParts(
  mirror: Pick<Mirror, 'image' | 'flip'>,
  problems: readonly ChargeProblem[],
  solve: (parity: Parity, parts: readonly ChargeProblem[]) => readonly Float64Array[],
): readonly Float64Array[] {
  const parities = problems.map(({ load }) => parityOf(mirror, load));
  const found: Float64Array[] = problems.map(({ load }) => new Float64Array(load.length));
  for (const parity of [1, -1] as const) {
    const numbers = [...problems.keys()].filter((p) => parities[p] === parity || parities[p] === 0);
    if (numbers.length === 0) continue;
    const parts = numbers.map((p): ChargeProblem => {
      const { load, ...problem } = problems[p]!;
      return { ...problem, load: parities[p] === 0 ? partOf(mirror, load, parity) : load };
    });
    solve(parity, parts).forEach((density, k) => {
      const sum = found[numbers[k]!]!;
      for (let i = 0; i < sum.length; i++) sum[i] = sum[i]! + density[i]!;
    });
  }
  return found;
}

/** @param problems whose loads and materials have the symmetries that the coupling uses */
function solveTogether(coupling: Coupling, problems: readonly ChargeProblem[]): readonly Float64Array[] {
  const { representatives, contacts } = coupling;
  let directions = directionsOf.get(coupling);
  if (!directions) {
    directions = new Directions(coupling, factorsFor(coupling));
    directionsOf.set(coupling, directions);
  }
  const found = directions.solve(
    problems.map(({ load, ...problem }) => ({ ...problem, load: reduced(representatives, load) })),
  );
  return found.map((x) => {
    parted(contacts, x);
    return expanded(representatives, x);
  });
}

/** All couplings that problems of these bodies are solved with. */
const familyOf = (coupling: Coupling): readonly Coupling[] =>
  [coupling, oppositeOf.get(coupling), plainOf.get(coupling)].flatMap((one) =>
    one ? [one, ...(halvesOf(one)?.made() ?? [])] : [],
  );

/**
 * Remembers what is known of these bodies by now.
 * @returns puts that back, so that what is solved next does not depend, by a tolerance, on what else was solved between
 */
export function marked(coupling: Coupling): () => void {
  const known = new Map(familyOf(coupling).map((one) => [one, directionsOf.get(one)?.marked()]));
  return () => {
    for (const one of familyOf(coupling)) {
      const back = known.get(one);
      if (back) back();
      else directionsOf.delete(one);
    }
  };
}

/** Chords of mirrored magnets settle alike to rounding. */
const SAME_MU = 1e-9;

/** Whether images have the same permeability. */
const areAlike = (image: Int32Array, { mu, across = mu, zones }: ChargeProblem): boolean =>
  image.every(
    (p, b) =>
      Math.abs(mu[p]! - mu[b]!) <= SAME_MU * mu[b]! &&
      Math.abs(across[p]! - across[b]!) <= SAME_MU * across[b]! &&
      Array.from(zones?.[b] ?? []).every((each, k) => Math.abs(zones![p]![k]! - each) <= SAME_MU * each),
  );

/**
 * @param coupling the bodies' matrix
 * @param mu load tolerance as in ChargeProblem
 * @returns density of every unknown, A/m
 * @throws RangeError when the iteration does not converge, which means overlapping bodies
 */
export function solveCharges(
  coupling: Coupling,
  mu: ArrayLike<number>,
  load: Float64Array,
  tolerance?: number,
): Float64Array {
  return solveManyCharges(coupling, [{ mu, load, tolerance }])[0]!;
}

/**
 * K times a density: mean normal field on every unknown of the charges on all bodies, their own included; A/m. What lies on a pole's foot
 * and on the steel under it is taken as one (contacts): it nearly cancels, and two meshes would leave their difference.
 */
export function times(coupling: Coupling, density: Float64Array): Float64Array {
  const { matrix, representatives, contacts } = coupling;
  const parity = parityOf(representatives, density);
  if (parity !== representatives.parity) {
    if (parity !== 0) return times(couplingFor(coupling, parity), density);
    // Bodies that answer unlike were solved without the mirror.
    const plain = plainOf.get(coupling);
    if (plain) return times(plain, density);
    const equal = times(coupling, partOf(representatives, density, 1));
    const opposite = times(coupling, partOf(representatives, density, -1));
    return equal.map((h, i) => h + opposite[i]!);
  }
  const seen = reduced(representatives, density);
  joined(contacts, seen);
  const field = new Float64Array(seen.length);
  multiply(matrix, [seen], [field]);
  // From either side a σ and its opposite are half of each other's field.
  for (const i of contacts.hidden) field[i] = field[i]! + 0.5 * seen[i]!;
  for (let k = 0; k < contacts.to.length; k++) {
    const to = contacts.to[k]!;
    field[to] = field[to]! - 0.5 * contacts.share[k]! * seen[contacts.from[k]!]!;
  }
  return expanded(representatives, field);
}
