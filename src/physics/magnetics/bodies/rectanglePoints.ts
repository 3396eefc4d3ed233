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
  const place: [number, number, number] = [0, 0, 0];
  for (let k = 0; k < across * across; k++) {
    const [p, q] = [k % across, Math.floor(k / across)];
    const du = mesh.halfU[j]! * rule.x[p]!;
    const dv = mesh.halfV[j]! * rule.x[q]!;
    place[0] = x + mesh.centre[3 * j]!;
    place[1] = y + mesh.centre[3 * j + 1]!;
    place[2] = z + mesh.centre[3 * j + 2]!;
    place[(axis + 1) % 3] = place[(axis + 1) % 3]! + du;
    place[(axis + 2) % 3] = place[(axis + 2) % 3]! + dv;
    visit(...place, 0.25 * rule.w[p]! * rule.w[q]!, du, dv);
  }
}
