/**
 * Magnetic surface charges of permeable and magnetised bodies:
 *
 *     σ (µr + 1)/2 = (µr − 1) (K σ + H·n) + M·n
 *
 * with M the remanence (A/m) and H the applied field. A chain of small dense factors, one a body, does most of the
 * work; GMRES settles what the bodies do to each other.
 */
import { denseLu, denseSolve } from '../../numerics/denseLu.ts';
import type { DenseLu } from '../../numerics/denseLu.ts';
import { multiply } from '../../numerics/multiply.ts';
import { Kept } from '../../numerics/kept.ts';
import { assemble, ringSelfBlocks } from './assemble.ts';
import type { Coupling } from './assemble.ts';
import { joined, parted, withoutHidden } from './contacts.ts';
import type { BoxMesh } from '../bodies/boxMesh.ts';
import { GmresRun } from '../../numerics/gmres.ts';
import { expanded, hasSymmetry, ownImages, reduced } from '../bodies/mirror.ts';
import type { Representatives } from '../bodies/mirror.ts';
import { addHarmonics, harmonicGain, sumHarmonics } from '../kernels/poleHarmonics.ts';
import type { SummedHarmonics } from '../kernels/poleHarmonics.ts';
import type { RingMesh } from '../bodies/ringMesh.ts';

/** Relative residual of the charges; fields then carry about as many digits, far more than the mesh does. */
const TOLERANCE = 1e-7;
/** Far more than the ten or so that pickups take; bodies in contact take some thirty. */
const MOST_STEPS = 200;

/** Logarithmic step of the permeabilities for which factors are made; those of a bar cost more than the passes they save. */
const STEP = 0.15;
const BOX_STEP = 1.5;

/** Sums of harmonics that are kept: a solution's, and those of the coils' two. */
const KEPT_SUMS = 4;

/** Factors of about (µ+1)/2 − (µ−1) K for a body alone, by mesh and permeability. */
class Factors {
  private readonly known = new Map<RingMesh | BoxMesh, Map<string, DenseLu>>();
  private readonly hidden = new Map<number, readonly number[]>();
  private readonly sums = new Kept<SummedHarmonics>(KEPT_SUMS);

  /** What the further harmonics of poles add, at these permeabilities. */
  harmonics({ harmonics }: Coupling, mu: ArrayLike<number>): SummedHarmonics {
    const key = harmonics.map(({ pole }) => harmonicGain(mu[pole]!)).join(' ');
    return this.sums.of(key, () => sumHarmonics(harmonics, mu));
  }

  ring(mesh: RingMesh, mode: 0 | 1, mu: number, hidden: readonly number[]): DenseLu {
    return this.get(mesh, `${mode} ${hidden.join(' ')}`, mu, STEP, () =>
      hide(ringSelfBlocks(mesh)[mode], hidden),
    );
  }

  /** Which of `count` unknowns from representative `first` on are the σ of a contact, counted from there. */
  hiddenOf({ contacts }: Coupling, first: number, count: number): readonly number[] {
    let hidden = this.hidden.get(first);
    if (!hidden) {
      hidden = Array.from(contacts.hidden, (i) => i - first)
        .filter((i) => i >= 0 && i < count)
        .sort((a, b) => a - b);
      this.hidden.set(first, hidden);
    }
    return hidden;
  }

  /**
   * On `count` values of v from `first` on, the box's own unknowns or, where it is its own mirror image and halved already,
   * their representatives; nothing where the box is hardly permeable, for then its charges are what drives them.
   */
  solveBox(
    mesh: BoxMesh,
    mu: number,
    own: () => Float64Array,
    v: Float64Array,
    first: number,
    count: number,
    hidden: readonly number[],
  ): void {
    if (Math.abs(Math.log(mu)) < 0.5 * BOX_STEP) return;
    // A box may have the mirror symmetry, whatever stands around it: two halves cost a quarter of the whole.
    const image = count < mesh.n ? null : ownImages(mesh);
    if (!image) {
      denseSolve(
        this.get(mesh, `${count} ${hidden.join(' ')}`, mu, BOX_STEP, () => hide(own(), hidden)),
        v,
        first,
      );
      return;
    }
    const halves = (name: string, half: typeof evenBlock): DenseLu =>
      this.get(mesh, `${name} ${hidden.join(' ')}`, mu, BOX_STEP, () => half(hide(own(), hidden), image));
    const even = halves('even', evenBlock);
    const odd = halves('odd', oddBlock);
    const sums = new Float64Array(even.n);
    const differences = new Float64Array(odd.n);
    let e = 0;
    let o = 0;
    image.forEach((to, j) => {
      if (to < j) return;
      sums[e++] = 0.5 * (v[first + j]! + v[first + to]!);
      if (to > j) differences[o++] = 0.5 * (v[first + j]! - v[first + to]!);
    });
    denseSolve(even, sums);
    denseSolve(odd, differences);
    e = 0;
    o = 0;
    image.forEach((to, j) => {
      if (to < j) return;
      const difference = to > j ? differences[o++]! : 0;
      v[first + to] = sums[e]! - difference;
      v[first + j] = sums[e++]! + difference;
    });
  }

  private get(
    mesh: RingMesh | BoxMesh,
    name: string,
    mu: number,
    step: number,
    block: () => Float64Array,
  ): DenseLu {
    let ofMesh = this.known.get(mesh);
    if (!ofMesh) {
      ofMesh = new Map();
      this.known.set(mesh, ofMesh);
    }
    // A preconditioner may be a little off: chords that settle share one.
    const near = Math.exp(step * Math.round(Math.log(mu) / step));
    const key = `${name} ${near}`;
    let factors = ofMesh.get(key);
    if (!factors) {
      const a = block().slice();
      for (let i = 0; i < a.length; i++) a[i] = -(near - 1) * a[i]!;
      const n = Math.round(Math.sqrt(a.length));
      for (let i = 0; i < n; i++) a[i * n + i] = a[i * n + i]! + 0.5 * (near + 1);
      factors = denseLu(a, n);
      ofMesh.set(key, factors);
    }
    return factors;
  }
}

const factorsOf = new WeakMap<Coupling, Factors>();
/** The same bodies without the use of symmetry, for the rare load that has none. */
const plainOf = new WeakMap<Coupling, Coupling>();

function withoutMirror(coupling: Coupling): Coupling {
  let plain = plainOf.get(coupling);
  if (!plain) {
    plain = assemble(coupling.bodies, false);
    plainOf.set(coupling, plain);
  }
  return plain;
}

/** One set of charges to solve for. */
export interface ChargeProblem {
  /** Relative permeability of every body, above 0. */
  readonly mu: ArrayLike<number>;
  /** That of round bodies for charges in cos φ and sin φ, where it differs across their axis; `mu` when left out. */
  readonly across?: ArrayLike<number> | undefined;
  /** Right-hand side, (µr − 1) H·n + M·n on every unknown, A/m. */
  readonly load: Float64Array;
  /** Charges to start from, for instance those of a slightly different µ. */
  readonly start?: Float64Array | undefined;
  /** Relative residual; 1e-7 when left out. */
  readonly tolerance?: number | undefined;
}

/** As solveCharges, several at once: every pass over the matrix serves all of them. @returns densities, A/m */
export function solveManyCharges(
  coupling: Coupling,
  problems: readonly ChargeProblem[],
): readonly Float64Array[] {
  const { representatives } = coupling;
  if (representatives.symmetric && !problems.every((problem) => fits(representatives, problem))) {
    return solveManyCharges(withoutMirror(coupling), problems);
  }
  let factors = factorsOf.get(coupling);
  if (!factors) {
    factors = new Factors();
    factorsOf.set(coupling, factors);
  }
  const known = factors;
  const { contacts } = coupling;
  const started = problems.map(({ start }) => {
    if (!start) return null;
    const from = reduced(representatives, start);
    joined(contacts, from);
    return from;
  });
  const images = applyAll(coupling, known, problems, started);
  const runs = problems.map(({ mu, across = mu, load, tolerance = TOLERANCE }, p) => {
    const b = reduced(representatives, load);
    precondition(coupling, known, mu, across, b);
    const x = started[p];
    return new GmresRun(b, x ? { x, Ax: images[p]! } : null, tolerance, MOST_STEPS);
  });
  for (;;) {
    const vectors = runs.map((run) => run.next());
    if (vectors.every((v) => v === null)) break;
    const products = applyAll(coupling, known, problems, vectors);
    vectors.forEach((v, p) => {
      if (v) runs[p]!.take(products[p]!);
    });
  }
  return runs.map((run) => {
    // Rounding of an ill-conditioned contact may stop it a little short of the goal; the field does not notice.
    const { x, settled } = run.finish(1e3);
    if (!settled) throw new RangeError('The bodies must not overlap; the field did not settle.');
    parted(contacts, x);
    return expanded(representatives, x);
  });
}

/** Chords of mirrored magnets settle alike to rounding. */
const SAME_MU = 1e-9;

function fits(representatives: Representatives, { mu, across = mu, load }: ChargeProblem): boolean {
  const alike = representatives.body.every(
    (p, b) =>
      Math.abs(mu[p]! - mu[b]!) <= SAME_MU * mu[b]! &&
      Math.abs(across[p]! - across[b]!) <= SAME_MU * across[b]!,
  );
  return alike && hasSymmetry(representatives, load);
}

/**
 * @param coupling the bodies' matrix
 * @param mu load start tolerance as in ChargeProblem
 * @returns density of every unknown, A/m
 * @throws RangeError when the iteration does not converge, which means overlapping bodies
 */
export function solveCharges(
  coupling: Coupling,
  mu: ArrayLike<number>,
  load: Float64Array,
  start?: Float64Array,
  tolerance?: number,
): Float64Array {
  return solveManyCharges(coupling, [{ mu, load, start, tolerance }])[0]!;
}

/** K times a density: mean normal field on every unknown of the charges on all bodies, their own included; A/m. */
export function times(coupling: Coupling, density: Float64Array): Float64Array {
  const { matrix, representatives } = coupling;
  if (representatives.symmetric && !hasSymmetry(representatives, density))
    return times(withoutMirror(coupling), density);
  const half = reduced(representatives, density);
  const field = new Float64Array(half.length);
  multiply(matrix, [half], [field]);
  return expanded(representatives, field);
}

function precondition(
  coupling: Coupling,
  factors: Factors,
  mu: ArrayLike<number>,
  across: ArrayLike<number>,
  v: Float64Array,
): void {
  const { bodies, offsets, representatives } = coupling;
  const { of, body: standsFor } = representatives;
  let at = 0;
  bodies.forEach((body, b) => {
    if (standsFor[b] !== b) return;
    const first = at;
    if (body.kind === 'box') {
      for (let j = offsets[b]!; j < offsets[b + 1]!; j++) at = Math.max(at, of[j]! + 1);
      const hidden = factors.hiddenOf(coupling, first, at - first);
      factors.solveBox(body.mesh, mu[b]!, () => ownBlock(coupling, first, at), v, first, at - first, hidden);
      return;
    }
    const n = body.mesh.n;
    const hidden = factors.hiddenOf(coupling, at, n);
    const uniform = factors.ring(body.mesh, 0, mu[b]!, hidden);
    const cosine = factors.ring(body.mesh, 1, across[b]!, hidden);
    denseSolve(uniform, v, at);
    denseSolve(cosine, v, at + n);
    at += 2 * n;
    // A pole on the mirror itself has no sine part.
    if (of[offsets[b]! + 2 * n]! >= 0) {
      denseSolve(cosine, v, at);
      at += n;
    }
  });
}

/** A square block without the field of the σ of contacts but what it is to itself. */
function hide(block: Float64Array, hidden: readonly number[]): Float64Array {
  if (hidden.length === 0) return block;
  const n = Math.round(Math.sqrt(block.length));
  const left = block.slice();
  for (const j of hidden) {
    for (let i = 0; i < n; i++) left[i * n + j] = i === j ? 0.5 : 0;
  }
  return left;
}

/** Of a box's block, what densities do to each other that are equal on images: on those rectangles that come first. */
function evenBlock(block: Float64Array, image: Int32Array): Float64Array {
  const n = image.length;
  const out: number[] = [];
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n && image[i]! >= i; j++) {
      const to = image[j]!;
      if (to >= j) out.push(block[i * n + j]! + (to > j ? block[i * n + to]! : 0));
    }
  }
  return Float64Array.from(out);
}

/** The same of densities that are opposite on images; rectangles that are their own have none. */
function oddBlock(block: Float64Array, image: Int32Array): Float64Array {
  const n = image.length;
  const out: number[] = [];
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n && image[i]! > i; j++) {
      const to = image[j]!;
      if (to > j) out.push(block[i * n + j]! - block[i * n + to]!);
    }
  }
  return Float64Array.from(out);
}

/** The square of the matrix from representative `first` up to `end`. */
function ownBlock(coupling: Coupling, first: number, end: number): Float64Array {
  const { count } = coupling.representatives;
  const n = end - first;
  const block = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    const row = (first + i) * count + first;
    block.set(coupling.matrix.subarray(row, row + n), i * n);
  }
  return block;
}

/** The preconditioned operator on every vector that is there. */
function applyAll(
  coupling: Coupling,
  factors: Factors,
  problems: readonly ChargeProblem[],
  vectors: readonly (Float64Array | null)[],
): readonly Float64Array[] {
  const { bodies, offsets, matrix, representatives, contacts } = coupling;
  const { hidden, to, from, share } = contacts;
  const present = vectors.flatMap((v, p) => (v ? [{ v, p }] : []));
  const out = vectors.map((v) => new Float64Array(v ? v.length : 0));
  multiply(
    matrix,
    present.map(({ v }) => withoutHidden(contacts, v)),
    present.map(({ p }) => out[p]!),
  );
  for (const { v, p } of present) {
    const { mu, across = mu } = problems[p]!;
    const result = out[p]!;
    addHarmonics(factors.harmonics(coupling, mu), withoutHidden(contacts, v), result);
    // A σ meets its opposite from outside: half of it is the field there.
    for (const i of hidden) result[i] = result[i]! + 0.5 * v[i]!;
    for (let b = 0; b < bodies.length; b++) {
      if (representatives.body[b] !== b) continue;
      const body = bodies[b]!;
      const uniform = body.kind === 'ring' ? offsets[b]! + body.mesh.n : offsets[b + 1]!;
      for (let i = offsets[b]!; i < offsets[b + 1]!; i++) {
        const r = representatives.of[i]!;
        if (r < 0 || representatives.unknown[r] !== i) continue;
        const here = i < uniform ? mu[b]! : across[b]!;
        result[r] = 0.5 * (here + 1) * v[r]! - (here - 1) * result[r]!;
      }
    }
    for (let k = 0; k < to.length; k++) result[to[k]!] = result[to[k]!]! - share[k]! * v[from[k]!]!;
    precondition(coupling, factors, mu, across, result);
  }
  return out;
}
