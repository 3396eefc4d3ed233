/** Nodes of a square lattice in a plane. */

/** Nodes at (u0 + i step, v0 + j step), m; number j · nu + i. */
export interface Lattice {
  readonly u0: number;
  readonly v0: number;
  readonly step: number;
  readonly nu: number;
  readonly nv: number;
}
