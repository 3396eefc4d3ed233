/** Products of dense matrices. */

/** Rows and columns of a matrix, up to but without the last. */
export interface Part {
  readonly rows: readonly [number, number];
  readonly columns: readonly [number, number];
}

/**
 * A square matrix, row-major, times any number of vectors, two in one pass over it and two of its rows at once: what is read serves
 * two products.
 *
 * @param out as many vectors as `v`, overwritten; their length tells the matrix's size
 */
export function multiply(
  matrix: Float64Array,
  v: readonly Float64Array[],
  out: readonly Float64Array[],
): void {
  const size = v[0]?.length ?? 0;
  for (const values of out) values.fill(0);
  addProducts(matrix, v, out, { rows: [0, size], columns: [0, size] });
}

/** The same of a part of the matrix alone, added to `out`. */
export function addProducts(
  matrix: Float64Array,
  v: readonly Float64Array[],
  out: readonly Float64Array[],
  part: Part,
): void {
  for (let first = 0; first < v.length; first += 2) {
    const [x, y] = [v[first]!, v[first + 1]];
    if (!y) addOne(matrix, x, out[first]!, part);
    else addTwo(matrix, x, y, out[first]!, out[first + 1]!, part);
  }
}

/** Two rows of the matrix with two vectors: four sums run side by side, since one alone waits for every addition. */
function addTwo(
  matrix: Float64Array,
  x: Float64Array,
  y: Float64Array,
  outX: Float64Array,
  outY: Float64Array,
  { rows: [from, end], columns: [left, right] }: Part,
): void {
  const size = x.length;
  let i = from;
  for (let row = from * size; i + 1 < end; i += 2, row += 2 * size) {
    const next = row + size;
    let a = 0;
    let b = 0;
    let c = 0;
    let d = 0;
    for (let j = left; j < right; j++) {
      const k = matrix[row + j]!;
      const l = matrix[next + j]!;
      const u = x[j]!;
      const v = y[j]!;
      a += k * u;
      b += k * v;
      c += l * u;
      d += l * v;
    }
    outX[i] = outX[i]! + a;
    outY[i] = outY[i]! + b;
    outX[i + 1] = outX[i + 1]! + c;
    outY[i + 1] = outY[i + 1]! + d;
  }
  if (i === end) return;
  const part: Part = { rows: [i, end], columns: [left, right] };
  addOne(matrix, x, outX, part);
  addOne(matrix, y, outY, part);
}

/** Two rows with one vector, every other column apart: four sums again. */
function addOne(
  matrix: Float64Array,
  x: Float64Array,
  y: Float64Array,
  { rows: [from, end], columns: [left, right] }: Part,
): void {
  const size = x.length;
  for (let i = from; i < end; i += 2) {
    const row = i * size;
    // The last of an odd number is taken twice.
    const next = i + 1 < end ? row + size : row;
    let a = 0;
    let b = 0;
    let c = 0;
    let d = 0;
    let j = left;
    for (; j + 1 < right; j += 2) {
      const u = x[j]!;
      const v = x[j + 1]!;
      a += matrix[row + j]! * u;
      b += matrix[row + j + 1]! * v;
      c += matrix[next + j]! * u;
      d += matrix[next + j + 1]! * v;
    }
    if (j < right) {
      a += matrix[row + j]! * x[j]!;
      c += matrix[next + j]! * x[j]!;
    }
    y[i] = y[i]! + (a + b);
    if (next > row) y[i + 1] = y[i + 1]! + (c + d);
  }
}
