/** Points on a box's rectangles for what is no closed form. */
import type { BoxBody } from './body.ts';
import { gaussLegendre } from '../../numerics/quadrature.ts';

/**
 * Visits the points of a Gauss rule on rectangle j of a box.
 *
 * @param across points along either edge
 * @param visit with a point's place (m), its share of the rectangle, and how far it is from the middle along u and v, m
 */
export function rectanglePoints(
  { mesh, x, y, z }: BoxBody,
  j: number,
  across: number,
  visit: (x: number, y: number, z: number, share: number, du: number, dv: number) => void,
): void {
  const rule = gaussLegendre(across);
  const axis = mesh.axis[j]!;
  const [cx, cy, cz] = [x + mesh.centre[3 * j]!, y + mesh.centre[3 * j + 1]!, z + mesh.centre[3 * j + 2]!];
  for (let k = 0; k < across * across; k++) {
    const [p, q] = [k % across, Math.floor(k / across)];
    const du = mesh.halfU[j]! * rule.x[p]!;
    const dv = mesh.halfV[j]! * rule.x[q]!;
    // u and v follow the normal's axis.
    const px = axis === 0 ? cx : axis === 1 ? cx + dv : cx + du;
    const py = axis === 0 ? cy + du : axis === 1 ? cy : cy + dv;
    const pz = axis === 0 ? cz + dv : axis === 1 ? cz + du : cz;
    visit(px, py, pz, 0.25 * rule.w[p]! * rule.w[q]!, du, dv);
  }
}
