/** Bodies of a pickup, placed; and where their charges stand in the vector of unknowns. */
import type { BoxMesh } from './boxMesh.ts';
import type { RingMesh } from './ringMesh.ts';

/** A round pole: its mesh's axis stands at (x, y), lifted by z; m. Equal poles share one mesh object. */
export interface RingBody {
  readonly kind: 'ring';
  readonly mesh: RingMesh;
  readonly x: number;
  readonly y: number;
  readonly z: number;
}

/** A bar or a piece of sheet with its centre at (x, y, z); m. */
export interface BoxBody {
  readonly kind: 'box';
  readonly mesh: BoxMesh;
  readonly x: number;
  readonly y: number;
  readonly z: number;
  /** Whether what touches it is one surface with it, see contacts: steel plates, walls and blades. */
  readonly joins?: boolean;
}

/** Anything that carries charges. */
export type Body = RingBody | BoxBody;

/**
 * Number of unknowns of a body, densities in A/m. A ring body has three a ring (uniform, cos φ, sin φ), stored as three
 * runs of mesh.n; a box has one a rectangle.
 */
export function unknowns(body: Body): number {
  return body.kind === 'ring' ? 3 * body.mesh.n : body.mesh.n;
}

/** Start of every body's unknowns, and their total at the end. */
export function offsetsOf(bodies: readonly Body[]): Int32Array {
  const offsets = new Int32Array(bodies.length + 1);
  bodies.forEach((body, b) => {
    offsets[b + 1] = offsets[b]! + unknowns(body);
  });
  return offsets;
}
