/** Closed form of the uniformly magnetised box: the yardstick for bars. */
import { rectangleLinearField } from '../../../src/physics/magnetics/kernels/rectangle.ts';
import type { Vector } from '../../../src/physics/numerics/vector.ts';

const face = new Float64Array(9);

/**
 * Flux density of a box magnetised uniformly, centred at the origin with edges along the axes, T.
 *
 * @param polarisation µ0 M along x, y, z, T
 * @param size full edge lengths, m, above 0
 * @param point where, m
 * @param out flux density, inside as well as outside; on the surface the mean of both sides in the jumping parts
 * Source: superposition of charged faces [EngelHerbert2005], plus the polarisation inside. Digits: 1e-12.
 */
export function boxFluxDensity(polarisation: Vector, size: Vector, point: Vector, out: Vector): void {
  const { x, y, z } = point;
  const [a, b, c] = [size.x / 2, size.y / 2, size.z / 2];
  let [bx, by, bz] = [0, 0, 0];
  for (const side of [1, -1]) {
    rectangleLinearField(y, z, x - side * a, b, c, face);
    bx += side * polarisation.x * face[2]!;
    by += side * polarisation.x * face[0]!;
    bz += side * polarisation.x * face[1]!;
    rectangleLinearField(z, x, y - side * b, c, a, face);
    by += side * polarisation.y * face[2]!;
    bz += side * polarisation.y * face[0]!;
    bx += side * polarisation.y * face[1]!;
    rectangleLinearField(x, y, z - side * c, a, b, face);
    bz += side * polarisation.z * face[2]!;
    bx += side * polarisation.z * face[0]!;
    by += side * polarisation.z * face[1]!;
  }
  const inside = share(x, a) * share(y, b) * share(z, c);
  out.x = bx + inside * polarisation.x;
  out.y = by + inside * polarisation.y;
  out.z = bz + inside * polarisation.z;
}

/** 1 inside, ½ on the limit, 0 outside. */
function share(coordinate: number, limit: number): number {
  const excess = Math.abs(coordinate) - limit;
  return excess < 0 ? 1 : excess === 0 ? 0.5 : 0;
}
