/**
 * A coupling of bodies that are their own mirror image across x: charges that are equal on images and charges that are opposite have
 * half the unknowns each, and a quarter of the matrix, which is folded from the whole. What a coil does that is neither is both, which
 * still takes half as long.
 */
import { halved, mirrorAcross } from '../bodies/mirror.ts';
import type { Halved, Mirror, Parity } from '../bodies/mirror.ts';
import type { PoleHarmonics } from '../kernels/poleHarmonics.ts';
import type { Coupling } from './assemble.ts';
import type { Contacts } from './contacts.ts';

export interface Halves {
  readonly mirror: Mirror;
  /** For charges of one parity; the same one at every call. */
  of: (parity: Parity) => Coupling;
  /** Those that were asked for. */
  made: () => readonly Coupling[];
}

const known = new WeakMap<Coupling, Halves | null>();

/** Null where the bodies are not their own image across x. */
export function halvesOf(coupling: Coupling): Halves | null {
  const found = known.get(coupling);
  if (found !== undefined) return found;
  const mirror = mirrorAcross(coupling.bodies, coupling.offsets, 0);
  const made = new Map<Parity, Coupling>();
  const halves: Halves | null = mirror && {
    mirror,
    of: (parity) => {
      const half = made.get(parity) ?? folded(coupling, halved(coupling.representatives, mirror, parity));
      made.set(parity, half);
      return half;
    },
    made: () => [...made.values()],
  };
  known.set(coupling, halves);
  return halves;
}

function folded(coupling: Coupling, half: Halved): Coupling {
  const { representatives, place, turn } = half;
  const { matrix, harmonics, contacts, bodies, offsets } = coupling;
  const { count } = representatives;
  const all = place.length;
  const out = new Float64Array(count * count);
  const stays = rowsThatStay(coupling, half);
  // What each column is summed from: itself, and its image where that is another.
  const own = new Int32Array(count);
  const image = new Int32Array(count);
  const sense = new Float64Array(count);
  stays.forEach((at, c) => {
    if (at >= 0) own[at] = c;
  });
  place.forEach((at, c) => {
    if (at < 0 || stays[c]! >= 0) return;
    image[at] = c;
    sense[at] = turn[c]!;
  });
  for (let k = 0; k < count; k++) {
    const [from, to] = [own[k]! * all, k * count];
    for (let c = 0; c < count; c++)
      out[to + c] = matrix[from + own[c]!]! + sense[c]! * matrix[from + image[c]!]!;
  }
  return {
    bodies,
    offsets,
    representatives,
    matrix: out,
    harmonics: harmonics.map((each) => foldedHarmonics(each, half, stays)),
    contacts: foldedContacts(contacts, half, stays),
  };
}

/** Place of every row that is a representative's still; −1 of the others, whose images stand for them. */
const rowsThatStay = (
  { representatives: before }: Coupling,
  { representatives: { unknown }, place }: Halved,
): Int32Array => place.map((at, r) => (at >= 0 && unknown[at] === before.unknown[r] ? at : -1));

function foldedHarmonics(
  { pole, rows, columns, block }: PoleHarmonics,
  { place, turn }: Halved,
  stays: Int32Array,
): PoleHarmonics {
  const n = columns.length;
  const sense = Float64Array.from(columns, (column) => (column < 0 ? 0 : turn[column]!));
  return {
    pole,
    rows: rows.map((row) => (row < 0 ? -1 : stays[row]!)),
    columns: columns.map((column) => (column < 0 ? -1 : place[column]!)),
    block: block.map((h, at) => h * sense[at % n]!),
  };
}

function foldedContacts(
  { hidden, to, from, share }: Contacts,
  { place, turn }: Halved,
  stays: Int32Array,
): Contacts {
  const entries = Array.from(to.keys()).filter((k) => stays[to[k]!]! >= 0 && place[from[k]!]! >= 0);
  return {
    hidden: Int32Array.from(new Set(Array.from(hidden, (i) => place[i]!).filter((i) => i >= 0))),
    to: Int32Array.from(entries, (k) => stays[to[k]!]!),
    from: Int32Array.from(entries, (k) => place[from[k]!]!),
    share: Float64Array.from(entries, (k) => share[k]! * turn[from[k]!]!),
  };
}
