/**
 * Most pickups are their own mirror image across y = 0, magnets and coils included. Then one half of the charges follows
 * from the other: a quarter of the matrix remains. A bar magnetised along y, or rods that alternate, make charges that are
 * opposite on images instead, with a quarter of the matrix of its own. Without that symmetry every unknown stands for itself.
 */
import type { Body, BoxBody } from './body.ts';
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

/** Lengths that differ by less are equal, m. */
const SAME = 1e-12;

/** The mirror lies across y. */
const ACROSS = 1;

/** Whether one body's mesh is the image of another's; poles are round. */
function areImages(body: Body, other: Body): boolean {
  if (body.kind === 'ring' || other.kind === 'ring') return body.mesh === other.mesh;
  return boxImage(body.mesh, other.mesh, ACROSS) !== null;
}

/** The symmetry if there is one, otherwise noMirror. @param parity of the charges that the representatives are to tell */
export function findMirror(
  bodies: readonly Body[],
  offsets: Int32Array,
  parity: Parity = 1,
): Representatives {
  const size = offsets[bodies.length]!;
  const partner = bodies.map((body) =>
    bodies.findIndex(
      (other) =>
        areImages(body, other) &&
        Math.abs(other.x - body.x) < SAME &&
        Math.abs(other.z - body.z) < SAME &&
        Math.abs(other.y + body.y) < SAME,
    ),
  );
  if (partner.some((p, b) => p < 0 || partner[p] !== b)) return noMirror(bodies, offsets);
  const of = new Int32Array(size).fill(-1);
  const sign = new Int8Array(size).fill(1);
  const image = new Int32Array(size);
  const flip = new Int8Array(size);
  const unknown: number[] = [];
  const stand = (i: number, there: number, turned: 1 | -1): void => {
    image[i] = there;
    image[there] = i;
    flip[i] = turned;
    flip[there] = turned;
    const opposite = parity * turned < 0;
    if (i === there && opposite) return; // Its own negative: nothing.
    of[i] = unknown.length;
    of[there] = unknown.length;
    unknown.push(i);
    sign[there] = opposite ? -1 : 1;
    sign[i] = 1;
  };
  bodies.forEach((body, b) => {
    const p = partner[b]!;
    if (p < b) return;
    const at = offsets[b]!;
    const to = offsets[p]!;
    if (body.kind === 'ring') {
      for (let i = 0; i < 3 * body.mesh.n; i++) stand(at + i, to + i, i < 2 * body.mesh.n ? 1 : -1);
    } else {
      const other = bodies[p] as BoxBody;
      const images = boxImage(body.mesh, other.mesh, ACROSS)!;
      for (let j = 0; j < body.mesh.n; j++) if (p > b || images[j]! >= j) stand(at + j, to + images[j]!, 1);
    }
  });
  return {
    symmetric: true,
    parity,
    count: unknown.length,
    of,
    sign,
    unknown: Int32Array.from(unknown),
    body: Int32Array.from(partner, (p, b) => Math.min(p, b)),
    image,
    flip,
  };
}

/**
 * Which symmetry a vector of all unknowns, in any unit, has, to the rounding of sums of a thousand terms; 0 for none. Without a mirror
 * all is equal.
 */
export function parityOf({ image, flip }: Representatives, full: Float64Array): Parity | 0 {
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
export function partOf({ image, flip }: Representatives, full: Float64Array, parity: Parity): Float64Array {
  return full.map((value, i) => 0.5 * (value + parity * flip[i]! * full[image[i]!]!));
}

/**
 * A vector of all unknowns, in any unit, on the representatives alone: what each of them has. The rest must follow from them, see
 * parityOf.
 *
 * @returns `count` values
 */
export function reduced(representatives: Representatives, full: Float64Array): Float64Array {
  return Float64Array.from(representatives.unknown, (i) => full[i]!);
}

/** The other way round: all unknowns from a vector of `count` representatives, in any unit, those that cancel as 0. */
export function expanded(representatives: Representatives, half: Float64Array): Float64Array {
  const { of, sign } = representatives;
  return Float64Array.from(of, (r, i) => (r < 0 ? 0 : sign[i]! * half[r]!));
}
