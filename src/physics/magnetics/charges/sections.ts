/** What steel carries through its sections: the flux of M there is the charge beyond it, since steel has none inside but on sheets. */
import type { BoxMesh } from '../bodies/boxMesh.ts';

/**
 * Largest mean M over any section of a box across an axis (0, 1, 2 for x, y, z), A/m.
 * Source: divergence theorem, [Jackson1999] § 5.9.
 *
 * @param at where the box's densities (A/m) begin
 */
export function throughSection(mesh: BoxMesh, axis: number, density: Float64Array, at: number): number {
  const order = Array.from({ length: mesh.n }, (_, j) => j).sort(
    (a, b) => mesh.centre[3 * a + axis]! - mesh.centre[3 * b + axis]!,
  );
  const { x, y, z } = mesh.size;
  const section = (x * y * z) / [x, y, z][axis]!;
  let beyond = 0;
  let most = 0;
  for (const j of order) {
    beyond += density[at + j]! * mesh.area[j]!;
    most = Math.max(most, Math.abs(beyond));
  }
  return most / section;
}
