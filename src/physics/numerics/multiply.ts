/** Products of dense matrices. */

/**
 * A square matrix, row-major, times any number of vectors, four in one pass over it: with many unknowns the pass is what
 * takes long.
 *
 * @param out as many vectors as `v`, overwritten; their length tells the matrix's size
 * @param from end rows that are wanted; the others of `out` are left as they are
 */
export function multiply(
  matrix: Float64Array,
  v: readonly Float64Array[],
  out: readonly Float64Array[],
  from = 0,
  end = v[0]?.length ?? 0,
): void {
  for (let first = 0; first < v.length; first += 4) {
    const [x, y] = [v[first]!, v[first + 1]];
    if (!y) timesOne(matrix, x, out[first]!, from, end);
    else if (first + 2 === v.length) timesTwo(matrix, x, y, out[first]!, out[first + 1]!, from, end);
    else timesFour(matrix, v.slice(first, first + 4), out.slice(first, first + 4), from, end);
  }
}

/** Four sums run side by side, since one alone waits for every addition. */
function timesFour(
  matrix: Float64Array,
  v: readonly Float64Array[],
  out: readonly Float64Array[],
  from: number,
  end: number,
): void {
  const size = v[0]!.length;
  const side = new Float64Array(4 * size);
  v.forEach((x, s) => {
    for (let j = 0; j < size; j++) side[4 * j + s] = x[j]!;
  });
  for (let i = from; i < end; i++) {
    const row = i * size;
    let a = 0;
    let b = 0;
    let c = 0;
    let d = 0;
    for (let j = 0; j < size; j++) {
      const k = matrix[row + j]!;
      const at = 4 * j;
      a += k * side[at]!;
      b += k * side[at + 1]!;
      c += k * side[at + 2]!;
      d += k * side[at + 3]!;
    }
    const sums = [a, b, c, d];
    for (let s = 0; s < v.length; s++) out[s]![i] = sums[s]!;
  }
}

function timesTwo(
  matrix: Float64Array,
  x: Float64Array,
  y: Float64Array,
  outX: Float64Array,
  outY: Float64Array,
  from: number,
  end: number,
): void {
  const size = x.length;
  for (let i = from, row = from * size; i < end; i++, row += size) {
    let a = 0;
    let b = 0;
    let c = 0;
    let d = 0;
    let j = 0;
    for (; j + 1 < size; j += 2) {
      const k = matrix[row + j]!;
      const l = matrix[row + j + 1]!;
      a += k * x[j]!;
      b += k * y[j]!;
      c += l * x[j + 1]!;
      d += l * y[j + 1]!;
    }
    if (j < size) {
      a += matrix[row + j]! * x[j]!;
      b += matrix[row + j]! * y[j]!;
    }
    outX[i] = a + c;
    outY[i] = b + d;
  }
}

function timesOne(matrix: Float64Array, x: Float64Array, y: Float64Array, from: number, end: number): void {
  const size = x.length;
  for (let i = from, row = from * size; i < end; i++, row += size) {
    let a = 0;
    let b = 0;
    let c = 0;
    let d = 0;
    let j = 0;
    for (; j + 3 < size; j += 4) {
      a += matrix[row + j]! * x[j]!;
      b += matrix[row + j + 1]! * x[j + 1]!;
      c += matrix[row + j + 2]! * x[j + 2]!;
      d += matrix[row + j + 3]! * x[j + 3]!;
    }
    for (; j < size; j++) a += matrix[row + j]! * x[j]!;
    y[i] = a + b + (c + d);
  }
}
