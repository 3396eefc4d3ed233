/**
 * Orthonormal images of directions: W = C R, where column j of W is what a matrix makes of direction j. What of a right-hand side
 * lies among the images is solved by one product with Cᵀ, whatever the directions came from.
 *
 * Source: generalised conjugate residuals, [Eisenstat1983]; with directions of earlier systems, [Parks2006]. Modified Gram–Schmidt,
 * once more where much was taken off.
 */
export class Images {
  /** C, column by column. */
  private readonly basis: Float64Array[] = [];
  /** R, column by column down to its diagonal. */
  private readonly columns: Float64Array[] = [];
  /** Which of the directions they are the images of, by its number; the others were combinations of these. */
  private readonly members: number[] = [];
  private seen = 0;

  /** Directions that it was told of. */
  get count(): number {
    return this.seen;
  }

  /** How many of them told something new. */
  get rank(): number {
    return this.basis.length;
  }

  /** Takes the image of the next direction, any unit; keeps and changes the array. */
  add(w: Float64Array): void {
    const member = this.seen++;
    const k = this.basis.length;
    const column = new Float64Array(k + 1);
    const size = norm(w);
    let left = size;
    for (let pass = 0; pass < 2; pass++) {
      const before = left;
      this.takeOff(w, 0, (j, part) => (column[j] = column[j]! + part));
      left = norm(w);
      if (left > MUCH * before) break;
    }
    if (!(left > NEW * size)) return;
    column[k] = left;
    const scale = 1 / left;
    for (let i = 0; i < w.length; i++) w[i] = w[i]! * scale;
    this.basis.push(w);
    this.columns.push(column);
    this.members.push(member);
  }

  /** Takes off a vector what lies among the images. @param shares how much of each that was; those that it has are taken off already */
  project(r: Float64Array, shares: number[]): void {
    this.takeOff(r, shares.length, (j, part) => (shares[j] = part));
  }

  /** Takes off w what lies along the images from number `first` on, and tells how much of each that was. */
  private takeOff(w: Float64Array, first: number, told: (j: number, part: number) => void): void {
    const { basis } = this;
    let j = first;
    for (; j + 1 < basis.length; j += 2) {
      const [one, other] = takeOffTwo(w, basis[j]!, basis[j + 1]!);
      told(j, one);
      told(j + 1, other);
    }
    if (j < basis.length) told(j, takeOffOne(w, basis[j]!));
  }

  /** The combination of directions whose image has these shares. @param directions all that it was told of, in their order */
  combined(shares: readonly number[], directions: readonly Float64Array[], size: number): Float64Array {
    const y = Float64Array.from(shares);
    const x = new Float64Array(size);
    for (let j = y.length - 1; j >= 0; j--) {
      const column = this.columns[j]!;
      const part = y[j]! / column[j]!;
      for (let k = 0; k < j; k++) y[k] = y[k]! - part * column[k]!;
      const z = directions[this.members[j]!]!;
      for (let i = 0; i < size; i++) x[i] = x[i]! + part * z[i]!;
    }
    return x;
  }
}

/** What is left of an image beside the others, as a share: less than this is rounding, so the direction tells nothing new. */
const NEW = 1e-9;
/** Where less than this is left, rounding has left some of the others in it. */
const MUCH = 0.5;

/** Takes off w what lies along the unit vector c; how much that was. */
function takeOffOne(w: Float64Array, c: Float64Array): number {
  const n = w.length;
  let a = 0;
  let b = 0;
  let i = 0;
  for (; i + 1 < n; i += 2) {
    a += w[i]! * c[i]!;
    b += w[i + 1]! * c[i + 1]!;
  }
  if (i < n) a += w[i]! * c[i]!;
  const part = a + b;
  for (i = 0; i < n; i++) w[i] = w[i]! - part * c[i]!;
  return part;
}

/** The same of two unit vectors that are orthogonal, in one pass. */
function takeOffTwo(w: Float64Array, c: Float64Array, d: Float64Array): readonly [number, number] {
  let a = 0;
  let b = 0;
  for (let i = 0; i < w.length; i++) {
    a += w[i]! * c[i]!;
    b += w[i]! * d[i]!;
  }
  for (let i = 0; i < w.length; i++) w[i] = w[i]! - a * c[i]! - b * d[i]!;
  return [a, b];
}

/** Euclidean length, in the unit of the vector. */
export function norm(v: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < v.length; i++) sum += v[i]! * v[i]!;
  return Math.sqrt(sum);
}
