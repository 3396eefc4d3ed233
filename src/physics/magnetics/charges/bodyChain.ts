/**
 * The charge equation A σ = b with every body's own block solved in turn, what it does to the bodies after it taken along: (L + D)⁻¹ A
 * with A = L + D + U by bodies. One product with the matrix does both, for
 *
 *     (L + D)⁻¹ A v = y,   D y_b = A_b (v − y for the bodies before, v for this one and those after)
 *
 * Source: block Gauss–Seidel, [Saad2003] § 4.1; with one product a step, § 9.2.2 (Eisenstat; the section from memory).
 */
import { denseSolve } from '../../numerics/denseLu.ts';
import { addProducts } from '../../numerics/multiply.ts';
import type { Body } from '../bodies/body.ts';
import { addHarmonics } from '../kernels/poleHarmonics.ts';
import type { Coupling } from './assemble.ts';
import { ownBlock } from './bodyFactors.ts';
import type { Factors } from './bodyFactors.ts';
import { ZoneRows } from './zoneRows.ts';
import type { Permeabilities } from './zoneRows.ts';

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
  /** Of a box in zones: which rectangle each of them is; and those that lie on sheets, counted from the first. */
  readonly rectangles: Int32Array | null;
  readonly inside: readonly number[];
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
    const zones = body.kind === 'box' ? body.mesh.zones : null;
    const rectangles = zones && coupling.representatives.unknown.slice(first, end).map((i) => i - at);
    links.push({
      b,
      body,
      first,
      uniform: body.kind === 'box' ? end : of[at]! < 0 ? first : first + body.mesh.n,
      end,
      hidden,
      bare: bare.sort((one, other) => one - other),
      contacts: Array.from(contacts.to.keys()).filter((k) => within(contacts.to[k]!)),
      rectangles,
      inside: zones ? Array.from(rectangles!.keys()).filter((k) => rectangles![k]! >= zones.sheets) : [],
    });
  });
  return { coupling, links };
}

/** Charges that answer a rest of the equation but for what the bodies do to those before them. */
export interface Answers {
  /** A/m. */
  readonly z: readonly Float64Array[];
  /** What the matrix (1) makes of them, A/m: as yet of the bodies before each one alone. */
  readonly field: readonly Float64Array[];
}

/** (L + D)⁻¹ of a rest for each problem. @param rests right-hand sides less A σ, A/m */
export function answers(
  { coupling, links }: BodyChain,
  factors: Factors,
  problems: readonly Permeabilities[],
  rests: readonly Float64Array[],
): Answers {
  const { matrix, contacts } = coupling;
  const z = rests.map((rest) => new Float64Array(rest.length));
  const field = rests.map((rest) => new Float64Array(rest.length));
  for (const link of links) {
    const { b, first, uniform, end } = link;
    addProducts(matrix, z, field, { rows: [first, end], columns: [0, first] });
    problems.forEach((problem, p) => {
      const { mu, across = mu } = problem;
      const result = z[p]!;
      const rows = rowsIn(link, problem);
      for (let i = first; i < end; i++) {
        const factor = rows ? rows.factors[i - first]! : (i < uniform ? mu : across)[b]! - 1;
        result[i] = rests[p]![i]! + factor * field[p]![i]!;
      }
      for (const k of link.contacts) {
        const from = contacts.from[k]!;
        const at = contacts.to[k]!;
        if (from < first) result[at] = result[at]! + contacts.share[k]! * result[from]!;
      }
      if (rows) rows.even(result, first);
      solveOwn(coupling, factors, link, rows?.mu ?? mu[b]!, across[b]!, result);
    });
  }
  return { z, field };
}

/** Adds what is still missing of their field. */
export function complete({ coupling, links }: BodyChain, { z, field }: Answers): void {
  const { matrix, representatives } = coupling;
  for (const { first, end } of links) {
    addProducts(matrix, z, field, { rows: [first, end], columns: [first, representatives.count] });
  }
}

/** The rows of the equation for certain permeabilities, each divided by what its own σ has in it. */
export interface Rows extends Permeabilities {
  /** What they are divided by, (µ + 1)/2, of every representative; 1. */
  readonly weights: Float64Array;
  /** What the field has in them then, (µ − 1) over that; 1. */
  readonly gains: Float64Array;
}

export function rowsOf({ coupling, links }: BodyChain, permeabilities: Permeabilities): Rows {
  const { mu, across = mu, zones } = permeabilities;
  const { count } = coupling.representatives;
  const weights = new Float64Array(count);
  const gains = new Float64Array(count);
  for (const link of links) {
    const { b, first, uniform, end } = link;
    const rows = rowsIn(link, permeabilities);
    if (rows) {
      weights.set(rows.weights, first);
      gains.set(
        rows.factors.map((factor, i) => factor / rows.weights[i]!),
        first,
      );
      continue;
    }
    for (let i = first; i < end; i++) {
      const here = (i < uniform ? mu : across)[b]!;
      weights[i] = 0.5 * (here + 1);
      gains[i] = (here - 1) / weights[i]!;
    }
  }
  return { mu: Array.from(mu), across: Array.from(across), zones, weights, gains };
}

/** Null for what has no zones. */
function rowsIn({ b, body, rectangles }: Link, { mu, zones }: Permeabilities): ZoneRows | null {
  if (body.kind !== 'box' || !body.mesh.zones) return null;
  return new ZoneRows(body.mesh.zones, mu[b]!, zones?.[b], rectangles);
}

/** A z with the rows so divided, A/m. @param field the matrix (1) times z, A/m */
export function imageOf(
  { coupling, links }: BodyChain,
  { mu, weights, gains }: Rows,
  z: Float64Array,
  field: Float64Array,
): Float64Array {
  const { contacts, harmonics } = coupling;
  const out = field.slice();
  addHarmonics(harmonics, mu, z, out);
  // A σ meets its opposite from outside: half of it is the field there.
  for (const { hidden } of links) for (const i of hidden) out[i] = out[i]! + 0.5 * z[i]!;
  for (let i = 0; i < out.length; i++) out[i] = z[i]! - gains[i]! * out[i]!;
  for (let k = 0; k < contacts.to.length; k++) {
    const at = contacts.to[k]!;
    out[at] = out[at]! - (contacts.share[k]! * z[contacts.from[k]!]!) / weights[at]!;
  }
  return out;
}

/** The body's own block, on its stretch of v. */
function solveOwn(
  coupling: Coupling,
  factors: Factors,
  { body, first, uniform, end, bare, inside }: Link,
  mu: number,
  across: number,
  v: Float64Array,
): void {
  const count = end - first;
  if (body.kind === 'box') {
    factors.solveBox(body.mesh, mu, () => ownBlock(coupling, first, end), v, first, count, bare, inside);
    return;
  }
  const n = body.mesh.n;
  const cosine = factors.ring(body.mesh, 1, across, bare);
  if (uniform > first) denseSolve(factors.ring(body.mesh, 0, mu, bare), v, first);
  // Cosine and sine; a pole on the mirror itself has but one of them.
  for (let at = uniform; at < end; at += n) denseSolve(cosine, v, at);
}
