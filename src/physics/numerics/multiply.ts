/** Products of dense matrices. */

/** Rows and columns of a matrix, up to but without the last. */
export interface Part {
  readonly rows: readonly [number, number];
  readonly columns: readonly [number, number];
}

/**
 * A square matrix, row-major, times any number of vectors, four in one pass over it: with many unknowns the pass is what
 * takes long.
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
  for (let first = 0; first < v.length; first += 4) {
    const [x, y] = [v[first]!, v[first + 1]];
    if (!y) addOne(matrix, x, out[first]!, part);
    else if (first + 2 === v.length) addTwo(matrix, x, y, out[first]!, out[first + 1]!, part);
    else addFour(matrix, v.slice(first, first + 4), out.slice(first, first + 4), part);
  }
}

/** Four sums run side by side, since one alone waits for every addition. */
function addFour(
  matrix: Float64Array,
  v: readonly Float64Array[],
  out: readonly Float64Array[],
  { rows: [from, end], columns: [left, right] }: Part,
): void {
  const size = v[0]!.length;
  const side = new Float64Array(4 * (right - left));
  v.forEach((x, s) => {
    for (let j = left; j < right; j++) side[4 * (j - left) + s] = x[j]!;
  });
  for (let i = from; i < end; i++) {
    const row = i * size;
    let a = 0;
    let b = 0;
    let c = 0;
    let d = 0;
    for (let j = left, at = 0; j < right; j++, at += 4) {
      const k = matrix[row + j]!;
      a += k * side[at]!;
      b += k * side[at + 1]!;
      c += k * side[at + 2]!;
      d += k * side[at + 3]!;
    }
    const sums = [a, b, c, d];
    for (let s = 0; s < v.length; s++) out[s]![i] = out[s]![i]! + sums[s]!;
  }
}

function addTwo(
  matrix: Float64Array,
  x: Float64Array,
  y: Float64Array,
  outX: Float64Array,
  outY: Float64Array,
  { rows: [from, end], columns: [left, right] }: Part,
): void {
  const size = x.length;
  for (let i = from, row = from * size; i < end; i++, row += size) {
    let a = 0;
    let b = 0;
    let c = 0;
    let d = 0;
    let j = left;
    for (; j + 1 < right; j += 2) {
      const k = matrix[row + j]!;
      const l = matrix[row + j + 1]!;
      a += k * x[j]!;
      b += k * y[j]!;
      c += l * x[j + 1]!;
      d += l * y[j + 1]!;
    }
    if (j < right) {
      a += matrix[row + j]! * x[j]!;
      b += matrix[row + j]! * y[j]!;
    }
    outX[i] = outX[i]! + (a + c);
    outY[i] = outY[i]! + (b + d);
  }
}

function addOne(
  matrix: Float64Array,
  x: Float64Array,
  y: Float64Array,
  { rows: [from, end], columns: [left, right] }: Part,
): void {
  const size = x.length;
  for (let i = from, row = from * size; i < end; i++, row += size) {
    let a = 0;
    let b = 0;
    let c = 0;
    let d = 0;
    let j = left;
    for (; j + 3 < right; j += 4) {
      a += matrix[row + j]! * x[j]!;
      b += matrix[row + j + 1]! * x[j + 1]!;
      c += matrix[row + j + 2]! * x[j + 2]!;
      d += matrix[row + j + 3]! * x[j + 3]!;
    }
    for (; j < right; j++) a += matrix[row + j]! * x[j]!;
    y[i] = y[i]! + (a + b + (c + d));
  }
}
