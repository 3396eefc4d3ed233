/**
 * Most pickups are their own mirror image across y = 0, magnets and coils included. Then one half of the charges follows
 * from the other: a quarter of the matrix remains. Without that symmetry every unknown stands for itself.
 */
import type { Body, BoxBody } from './body.ts';
import { boxImage } from './boxImage.ts';

/** How the unknowns of all bodies follow from the representatives: x[i] = sign[i] · y[of[i]], or 0 where of[i] is −1. */
export interface Representatives {
  readonly symmetric: boolean;
  readonly count: number;
  readonly of: Int32Array;
  readonly sign: Int8Array;
  /** The unknown that each representative is. */
  readonly unknown: Int32Array;
  /** Body that each body is the image of; itself when it represents others or stands alone. */
  readonly body: Int32Array;
}

/** Every unknown for itself. */
export function noMirror(bodies: readonly Body[], offsets: Int32Array): Representatives {
  const size = offsets[bodies.length]!;
  const all = Int32Array.from({ length: size }, (_, i) => i);
  return {
    symmetric: false,
    count: size,
    of: all,
    sign: new Int8Array(size).fill(1),
    unknown: all,
    body: Int32Array.from(bodies, (_, b) => b),
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

/** The symmetry if there is one, otherwise noMirror. */
export function findMirror(bodies: readonly Body[], offsets: Int32Array): Representatives {
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
  const unknown: number[] = [];
  const stand = (i: number, image: number, flip: 1 | -1): void => {
    sign[image] = flip;
    if (i === image && flip < 0) return; // Its own negative: nothing.
    of[i] = unknown.length;
    of[image] = unknown.length;
    unknown.push(i);
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
      const image = boxImage(body.mesh, other.mesh, ACROSS)!;
      for (let j = 0; j < body.mesh.n; j++) if (p > b || image[j]! >= j) stand(at + j, to + image[j]!, 1);
    }
  });
  return {
    symmetric: true,
    count: unknown.length,
    of,
    sign,
    unknown: Int32Array.from(unknown),
    body: Int32Array.from(partner, (p, b) => Math.min(p, b)),
  };
}

/** Whether a vector of all unknowns, in any unit, has the symmetry, to the rounding of sums of a thousand terms. */
export function hasSymmetry(representatives: Representatives, full: Float64Array): boolean {
  const { of, sign, unknown } = representatives;
  let most = 0;
  for (let i = 0; i < full.length; i++) most = Math.max(most, Math.abs(full[i]!));
  for (let i = 0; i < full.length; i++) {
    const wanted = of[i]! < 0 ? 0 : sign[i]! * full[unknown[of[i]!]!]!;
    if (!(Math.abs(full[i]! - wanted) <= 1e-9 * most)) return false;
  }
  return true;
}

/**
 * A vector of all unknowns, in any unit, on the representatives alone: what each of them has. The rest must follow from them, see
 * hasSymmetry.
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
