/**
 * Most pickups are their own mirror image across y = 0, magnets and coils included. Then one half of the charges follows
 * from the other: a quarter of the matrix remains. A bar magnetised along y, or rods that alternate, make charges that are
 * opposite on images instead, with a quarter of the matrix of its own. Without that symmetry every unknown stands for itself.
 * Many are their own image across x as well: one row of poles, two of equal ones, blades (see charges/halves).
 */
import type { Body } from './body.ts';
import { boxImage } from './boxImage.ts';

/** How the unknowns of all bodies follow from the representatives: x[i] = sign[i] · y[of[i]], or 0 where of[i] is −1. */
export interface Representatives {
  readonly symmetric: boolean;
  /** Whether what they tell is equal on images, or opposite. */
  readonly parity: Parity;
  readonly count: number;
  readonly of: Int32Array;
  readonly sign: Int8Array;
  /** The unknown that each representative is. */
  readonly unknown: Int32Array;
  /** Body that each body is the image of; itself when it represents others or stands alone. */
  readonly body: Int32Array;
  /** Every unknown's image, and whether an equal charge there is this one's or its opposite. */
  readonly image: Int32Array;
  readonly flip: Int8Array;
}

/** 1: equal on images; −1: opposite. */
export type Parity = 1 | -1;

/** Every unknown for itself. */
export function noMirror(bodies: readonly Body[], offsets: Int32Array): Representatives {
  const size = offsets[bodies.length]!;
  const all = new Int32Array(size);
  for (let i = 0; i < size; i++) all[i] = i;
  return {
    symmetric: false,
    parity: 1,
    count: size,
    of: all,
    sign: new Int8Array(size).fill(1),
    unknown: all,
    body: Int32Array.from(bodies, (_, b) => b),
    image: all,
    flip: new Int8Array(size).fill(1),
  };
}

/** What a mirror makes of the bodies and of every unknown. */
export interface Mirror {
  /** Body that is each body's image. */
  readonly partner: Int32Array;
  /** Every unknown's image, and whether an equal charge there is this one's or its opposite. */
  readonly image: Int32Array;
  readonly flip: Int8Array;
}

/** Lengths that differ by less are equal, m. */
const SAME = 1e-12;

/** Whether one body's mesh is the image of another's; poles are round. */
function areImages(body: Body, other: Body, across: 0 | 1): boolean {
  if (body.kind === 'ring' || other.kind === 'ring') return body.mesh === other.mesh;
  return boxImage(body.mesh, other.mesh, across) !== null;
}

/**
 * The bodies' mirror across x (0), in the middle of where they stand, or across y (1), in the middle of the pickup; null where they are
 * not their own image.
 */
export function mirrorAcross(bodies: readonly Body[], offsets: Int32Array, across: 0 | 1): Mirror | null {
  const [along, athwart] = across === 0 ? (['x', 'y'] as const) : (['y', 'x'] as const);
  const places = bodies.map(({ x }) => x);
  const twice = across === 0 ? Math.min(...places) + Math.max(...places) : 0;
  const partner = bodies.map((body) =>
    bodies.findIndex(
      (other) =>
        Math.abs(other[along] + body[along] - twice) < SAME &&
        Math.abs(other[athwart] - body[athwart]) < SAME &&
        Math.abs(other.z - body.z) < SAME &&
        areImages(body, other, across),
    ),
  );
  if (partner.some((p, b) => p < 0 || partner[p] !== b)) return null;
  const size = offsets[bodies.length]!;
  const image = new Int32Array(size);
  const flip = new Int8Array(size).fill(1);
  bodies.forEach((body, b) => {
    const p = partner[b]!;
    const [at, to] = [offsets[b]!, offsets[p]!];
    const other = bodies[p]!;
    if (body.kind === 'box' && other.kind === 'box') {
      boxImage(body.mesh, other.mesh, across)!.forEach((there, j) => (image[at + j] = to + there));
      return;
    }
    // Of uniform, cos φ and sin φ it is cos φ that a mirror across x turns, and sin φ one across y.
    const { n } = body.mesh;
    for (let i = 0; i < 3 * n; i++) image[at + i] = to + i;
    flip.fill(-1, at + (across + 1) * n, at + (across + 2) * n);
  });
  return { partner: Int32Array.from(partner), image, flip };
}

/** The symmetry across y if there is one, otherwise noMirror. @param parity of the charges that the representatives are to tell */
export function findMirror(
  bodies: readonly Body[],
  offsets: Int32Array,
  parity: Parity = 1,
): Representatives {
  const all = noMirror(bodies, offsets);
  const mirror = mirrorAcross(bodies, offsets, 1);
  if (!mirror) return all;
  const { image, flip } = mirror;
  return { ...halved(all, mirror, parity).representatives, symmetric: true, parity, image, flip };
}

/** Fewer representatives, and where those that there were are among them. */
export interface Halved {
  readonly representatives: Representatives;
  /** What each of those before is: turn · the one of this number; it is always 0 where that is −1. */
  readonly place: Int32Array;
  readonly turn: Int8Array;
}

/** Of representatives those that a further mirror leaves, for charges of one parity in it. */
export function halved(before: Representatives, mirror: Mirror, parity: Parity): Halved {
  const place = new Int32Array(before.count).fill(-1);
  const turn = new Int8Array(before.count).fill(1);
  const unknown: number[] = [];
  for (let r = 0; r < before.count; r++) {
    const here = before.unknown[r]!;
    const there = mirror.image[here]!;
    const image = before.of[there]!;
    const sense = parity * mirror.flip[here]! * before.sign[there]!;
    // The earlier of two stands for both; what is its own negative is nothing.
    if (image < r || (image === r && sense < 0)) continue;
    place[r] = unknown.length;
    place[image] = unknown.length;
    if (image > r) turn[image] = sense;
    unknown.push(here);
  }
  const representatives: Representatives = {
    ...before,
    count: unknown.length,
    of: before.of.map((r) => (r < 0 ? -1 : place[r]!)),
    sign: before.sign.map((sign, i) => sign * (turn[before.of[i]!] ?? 1)),
    unknown: Int32Array.from(unknown),
    body: before.body.map((own, b) => Math.min(own, before.body[mirror.partner[b]!]!)),
  };
  return { representatives, place, turn };
}

/**
 * Which symmetry a vector of all unknowns, in any unit, has, to the rounding of sums of a thousand terms; 0 for none. Without a mirror
 * all is equal.
 */
export function parityOf({ image, flip }: Pick<Mirror, 'image' | 'flip'>, full: Float64Array): Parity | 0 {
  let most = 0;
  for (let i = 0; i < full.length; i++) most = Math.max(most, Math.abs(full[i]!));
  const has = (parity: Parity): boolean => {
    for (let i = 0; i < full.length; i++) {
      if (!(Math.abs(full[i]! - parity * flip[i]! * full[image[i]!]!) <= 1e-9 * most)) return false;
    }
    return true;
  };
  return has(1) ? 1 : has(-1) ? -1 : 0;
}

/** What of a vector of all unknowns, in any unit, is equal on images, or opposite; the two add up to it. */
export function partOf(
  { image, flip }: Pick<Mirror, 'image' | 'flip'>,
  full: Float64Array,
  parity: Parity,
): Float64Array {
  return full.map((value, i) => 0.5 * (value + parity * flip[i]! * full[image[i]!]!));
}

/**
 * A vector of all unknowns, in any unit, on the representatives alone: what each of them has. The rest must follow from them, see
 * parityOf.
 *
 * @returns `count` values
 */
export function reduced(representatives: Representatives, full: Float64Array): Float64Array {
  const { unknown, count } = representatives;
  const half = new Float64Array(count);
  for (let r = 0; r < count; r++) half[r] = full[unknown[r]!]!;
  return half;
}

/** The other way round: all unknowns from a vector of `count` representatives, in any unit, those that cancel as 0. */
export function expanded(representatives: Representatives, half: Float64Array): Float64Array {
  const { of, sign } = representatives;
  const full = new Float64Array(of.length);
  for (let i = 0; i < full.length; i++) if (of[i]! >= 0) full[i] = sign[i]! * half[of[i]!]!;
  return full;
}
