/**
 * A fixed point x = g(x) of a vector by Anderson's acceleration: from the last few x and g(x), the combination whose rest is least. It
 * settles where plain repetition would swing ever wider, as long as only a few directions do.
 *
 * Source: [Walker2011].
 */
export class Anderson {
  private readonly points: Float64Array[] = [];
  private readonly rests: Float64Array[] = [];

  /** @param depth how many of the last points are combined */
  constructor(private readonly depth: number) {}

  /** Where to try next. @param x tried; @param g what came of it; any unit */
  next(x: Float64Array, g: Float64Array): Float64Array {
    this.points.push(x.slice());
    this.rests.push(g.map((value, i) => value - x[i]!));
    if (this.points.length > this.depth + 1) {
      this.points.shift();
      this.rests.shift();
    }
    const last = this.rests.length - 1;
    const share = leastSquares(
      Array.from({ length: last }, (_, k) => difference(this.rests[k + 1]!, this.rests[k]!)),
      this.rests[last]!,
    );
    const out = g.slice();
    share.forEach((part, k) => {
      const [p, q] = [this.points[k]!, this.points[k + 1]!];
      const [e, f] = [this.rests[k]!, this.rests[k + 1]!];
      for (let i = 0; i < out.length; i++) out[i] = out[i]! - part * (q[i]! - p[i]! + f[i]! - e[i]!);
    });
    return out;
  }
}

const difference = (one: Float64Array, other: Float64Array): Float64Array =>
  one.map((value, i) => value - other[i]!);

/** What of a column is left beside those before it counts as nothing when it is less than this share of it. */
const SAME = 1e-10;

/** Shares of the columns that come nearest to the vector; by Gram and Schmidt, those that tell nothing new have 0. */
function leastSquares(columns: readonly Float64Array[], vector: Float64Array): Float64Array {
  const n = columns.length;
  const basis: Float64Array[] = [];
  const R = columns.map(() => new Float64Array(n));
  const along = new Float64Array(n);
  columns.forEach((column, k) => {
    const v = column.slice();
    const size = norm(v);
    basis.forEach((q, j) => {
      const part = inner(q, v);
      R[j]![k] = part;
      for (let i = 0; i < v.length; i++) v[i] = v[i]! - part * q[i]!;
    });
    const left = norm(v);
    const scale = left > SAME * size ? 1 / left : 0;
    R[k]![k] = scale === 0 ? 0 : left;
    basis.push(v.map((value) => value * scale));
    along[k] = inner(basis[k]!, vector);
  });
  for (let k = n - 1; k >= 0; k--) {
    for (let j = k + 1; j < n; j++) along[k] = along[k]! - R[k]![j]! * along[j]!;
    along[k] = R[k]![k] === 0 ? 0 : along[k]! / R[k]![k]!;
  }
  return along;
}

function inner(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

const norm = (v: Float64Array): number => Math.sqrt(inner(v, v));
