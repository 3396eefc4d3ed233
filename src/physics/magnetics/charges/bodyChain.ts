/**
 * The charge equation A σ = b with every body's own block solved in turn, what it does to the bodies after it taken along: (L + D)⁻¹ A
 * with A = L + D + U by bodies. One product with the matrix does both, for
 *
 *     (L + D)⁻¹ A v = y,   D y_b = A_b (v − y for the bodies before, v for this one and those after)
 *
 * Source: block Gauss–Seidel, [Saad2003] § 4.1; with one product a step, § 9.2.2 (Eisenstat; the section from memory).
 */
import { denseSolve } from '../../numerics/denseLu.ts';
import { multiply } from '../../numerics/multiply.ts';
import type { Body } from '../bodies/body.ts';
import { addHarmonics } from '../kernels/poleHarmonics.ts';
import type { Coupling } from './assemble.ts';
import { ownBlock } from './bodyFactors.ts';
import type { Factors } from './bodyFactors.ts';

/** A body among the representatives. */
interface Link {
  readonly b: number;
  readonly body: Body;
  /** Its unknowns, and up to where those of a pole are uniform around it; one on the mirror has none such where charges are opposite on images. */
  readonly first: number;
  readonly uniform: number;
  readonly end: number;
  /** Which of them are the σ of a contact; and the rectangles or rings that have one, counted from the first. */
  readonly hidden: readonly number[];
  readonly bare: readonly number[];
  /** Contacts that lie on it, by their numbers. */
  readonly contacts: readonly number[];
}

export interface BodyChain {
  readonly coupling: Coupling;
  readonly links: readonly Link[];
}

const known = new WeakMap<Coupling, BodyChain>();

export function chainOf(coupling: Coupling): BodyChain {
  let chain = known.get(coupling);
  if (!chain) {
    chain = linked(coupling);
    known.set(coupling, chain);
  }
  return chain;
}

function linked(coupling: Coupling): BodyChain {
  const { bodies, offsets, contacts } = coupling;
  const { of, body: standsFor } = coupling.representatives;
  const links: Link[] = [];
  let end = 0;
  bodies.forEach((body, b) => {
    if (standsFor[b] !== b) return;
    const first = end;
    const at = offsets[b]!;
    for (let i = at; i < offsets[b + 1]!; i++) end = Math.max(end, of[i]! + 1);
    const within = (i: number): boolean => i >= first && i < end;
    const hidden = Array.from(contacts.hidden).filter(within);
    const bare = hidden.map((i) => i - first).filter((i) => i < body.mesh.n);
    links.push({
      b,
      body,
      first,
      uniform: body.kind === 'box' ? end : of[at]! < 0 ? first : first + body.mesh.n,
      end,
      hidden,
      bare: bare.sort((one, other) => one - other),
      contacts: Array.from(contacts.to.keys()).filter((k) => within(contacts.to[k]!)),
    });
  });
  return { coupling, links };
}

/** Permeabilities of every body, along and across a pole's axis. */
export interface Permeabilities {
  readonly mu: ArrayLike<number>;
  readonly across?: ArrayLike<number> | undefined;
}

/** The preconditioned operator on every vector that is there, A/m. */
export function applyAll(
  chain: BodyChain,
  factors: Factors,
  problems: readonly Permeabilities[],
  vectors: readonly (Float64Array | null)[],
): readonly Float64Array[] {
  const present = vectors.flatMap((v, p) => (v ? [{ v, problem: problems[p]! }] : []));
  const found = swept(
    chain,
    factors,
    present.map(({ problem }) => problem),
    present.map(({ v }) => v),
  );
  let next = 0;
  return vectors.map((v) => (v ? found[next++]! : new Float64Array(0)));
}

/** Right-hand sides made ready for it: (L + D)⁻¹ b, A/m. */
export function preconditioned(
  chain: BodyChain,
  factors: Factors,
  problems: readonly Permeabilities[],
  loads: readonly Float64Array[],
): readonly Float64Array[] {
  return swept(
    chain,
    factors,
    problems,
    loads.map((load) => new Float64Array(load.length)),
    loads,
  );
}

function swept(
  { coupling, links }: BodyChain,
  factors: Factors,
  problems: readonly Permeabilities[],
  vectors: readonly Float64Array[],
  loads?: readonly Float64Array[],
): readonly Float64Array[] {
  const { matrix, contacts } = coupling;
  const out = vectors.map((v) => new Float64Array(v.length));
  // v, and less y for the bodies that are done.
  const rest = vectors.map((v) => v.slice());
  for (const link of links) {
    const { b, first, uniform, end } = link;
    multiply(matrix, rest, out, first, end);
    problems.forEach(({ mu, across = mu }, p) => {
      const v = vectors[p]!;
      const result = out[p]!;
      if (link.body.kind === 'box') addHarmonics(factors.harmonics(coupling, b, mu), rest[p]!, result);
      // A σ meets its opposite from outside: half of it is the field there.
      for (const i of link.hidden) result[i] = result[i]! + 0.5 * v[i]!;
      for (let i = first; i < end; i++) {
        const here = (i < uniform ? mu : across)[b]!;
        result[i] = 0.5 * (here + 1) * v[i]! - (here - 1) * result[i]! + (loads ? loads[p]![i]! : 0);
      }
      for (const k of link.contacts) {
        const at = contacts.to[k]!;
        result[at] = result[at]! - contacts.share[k]! * rest[p]![contacts.from[k]!]!;
      }
      solveOwn(coupling, factors, link, mu[b]!, across[b]!, result);
      for (let i = first; i < end; i++) rest[p]![i] = v[i]! - result[i]!;
    });
  }
  return out;
}

/** The body's own block, on its stretch of v. */
function solveOwn(
  coupling: Coupling,
  factors: Factors,
  { body, first, uniform, end, bare }: Link,
  mu: number,
  across: number,
  v: Float64Array,
): void {
  const count = end - first;
  if (body.kind === 'box') {
    factors.solveBox(body.mesh, mu, () => ownBlock(coupling, first, end), v, first, count, bare);
    return;
  }
  const n = body.mesh.n;
  const cosine = factors.ring(body.mesh, 1, across, bare);
  if (uniform > first) denseSolve(factors.ring(body.mesh, 0, mu, bare), v, first);
  // Cosine and sine; a pole on the mirror itself has but one of them.
  for (let at = uniform; at < end; at += n) denseSolve(cosine, v, at);
}
