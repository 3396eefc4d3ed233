/** A vector that a function fills in. */
export interface Vector {
  x: number;
  y: number;
  z: number;
}

/** Sum of products of two vectors of equal length. */
export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
