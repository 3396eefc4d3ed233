/** Static charges of a set of bodies whose steel poles saturate where they carry much. */
import { MU0 } from '../../numerics/constants.ts';
import type { BodyMaterial } from '../materials/bodyMaterial.ts';
import type { Coupling } from './assemble.ts';
import { solveMagnets } from './magnetSolve.ts';
import type { MagnetSolution } from './magnetSolve.ts';

/**
 * Share of its saturation up to which a pole stays linear. There its susceptibility has fallen by as much, and the field over it by
 * less than 1.2 %; a slug at seven tenths is 6 % off.
 */
const LINEAR = 0.25;

/**
 * As solveMagnets, with every round pole of steel that carries more than LINEAR of its saturation put on its curve, zone by zone.
 *
 * @throws RangeError as solveMagnets does for the magnets; steel whose zones don't settle stays linear, and it is said so
 */
export function solveStatic(coupling: Coupling, materials: readonly BodyMaterial[]): MagnetSolution {
  const linear = solveMagnets(coupling, materials);
  const saturating = materials.map((material, b): BodyMaterial => {
    const steel = material.kind === 'linear' ? material.steel : undefined;
    if (!steel || poleCarries(coupling, linear.density, b) <= LINEAR * steel.saturation) return material;
    return { kind: 'steel', steel, axis: 'z', sign: 1 };
  });
  if (saturating.every((material, b) => material === materials[b])) return linear;
  try {
    return solveMagnets(coupling, saturating, linear.density);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return { ...linear, overrun: true };
  }
}

/**
 * Largest mean µ0 M through any section of round body b, T: the charge beyond it over its area, since there is none inside; 0 for a box.
 * Source: divergence theorem, [Jackson1999] § 5.9.
 */
export function poleCarries({ bodies, offsets }: Coupling, density: Float64Array, b: number): number {
  const body = bodies[b]!;
  if (body.kind !== 'ring') return 0;
  const { n, nodeR, area } = body.mesh;
  let beyond = 0;
  let most = 0;
  for (let i = 0; i < n - 1; i++) {
    beyond += density[offsets[b]! + i]! * area[i]!;
    most = Math.max(most, Math.abs(beyond) / (Math.PI * nodeR[i + 1]! ** 2));
  }
  return MU0 * most;
}
