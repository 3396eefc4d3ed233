/** Products of the rows of dense matrices. */

/**
 * Sum of the products of a vector and as many numbers of a matrix from `row` on. Four sums run side by side, since one
 * alone waits for every addition.
 */
export function rowTimes(matrix: Float64Array, row: number, v: Float64Array): number {
  const size = v.length;
  let a = 0;
  let b = 0;
  let c = 0;
  let d = 0;
  let j = 0;
  for (; j + 3 < size; j += 4) {
    a += matrix[row + j]! * v[j]!;
    b += matrix[row + j + 1]! * v[j + 1]!;
    c += matrix[row + j + 2]! * v[j + 2]!;
    d += matrix[row + j + 3]! * v[j + 3]!;
  }
  for (; j < size; j++) a += matrix[row + j]! * v[j]!;
  return a + b + (c + d);
}
