/** A vector that a function fills in. */
export interface Vector {
  x: number;
  y: number;
  z: number;
}
