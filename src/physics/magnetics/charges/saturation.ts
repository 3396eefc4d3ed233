/** Static charges of a set of bodies whose steel poles saturate where they carry much. */
import { MU0 } from '../../numerics/constants.ts';
import type { BodyMaterial } from '../materials/bodyMaterial.ts';
import type { Coupling } from './assemble.ts';
import { NotSettled } from './rodZones.ts';
import { roughMagnets, solveMagnets } from './magnetSolve.ts';
import type { Begun, MagnetSolution } from './magnetSolve.ts';

/**
 * Share of its saturation up to which a pole stays linear. There its susceptibility has fallen by as much, and the field over it by
 * less than 1.2 %; a slug at seven tenths is 6 % off.
 */
const LINEAR = 0.25;

/** How far from LINEAR, as a factor, what a pole carries tells the end beforehand: rods on their curves move it by a tenth. */
const CLEAR = 1.5;

/** What every pole of steel carries over what leaves it linear; 0 for all other bodies. */
const fullness = (
  coupling: Coupling,
  materials: readonly BodyMaterial[],
  { density }: Pick<Begun, 'density'>,
): readonly number[] =>
  materials.map((material, b) => {
    const steel = material.kind === 'linear' ? material.steel : undefined;
    return steel ? poleCarries(coupling, density, b) / (LINEAR * steel.saturation) : 0;
  });

/**
 * As zoned; where the zones of a rod find no state (weak rods beside strong bars may not), every rod has the chord to its mean B and H
 * alone, and it is said so.
 *
 * @throws RangeError as solveMagnets does
 */
export function solveStatic(coupling: Coupling, materials: readonly BodyMaterial[]): MagnetSolution {
  try {
    return zoned(coupling, materials);
  } catch (error) {
    if (!(error instanceof NotSettled)) throw error;
    return { ...solveMagnets(coupling, materials, undefined, false), byMeans: true };
  }
}

/**
 * As solveMagnets, with every round pole of steel that carries more than LINEAR of its saturation put on its curve, zone by zone.
 *
 * @throws RangeError as solveMagnets does for the magnets; steel whose zones don't settle stays linear, and it is said so
 */
function zoned(coupling: Coupling, materials: readonly BodyMaterial[]): MagnetSolution {
  if (!materials.some((material) => material.kind === 'linear' && material.steel))
    return solveMagnets(coupling, materials);
  const rough = roughMagnets(coupling, materials);
  // What is far on either side of LINEAR before rods are on their curves stays there.
  const doubtful = !rough || fullness(coupling, materials, rough).some((f) => f > 1 / CLEAR && f < CLEAR);
  const linear = doubtful ? solveMagnets(coupling, materials) : null;
  const full = fullness(coupling, materials, linear ?? rough!);
  if (full.every((f) => f <= 1)) return linear ?? solveMagnets(coupling, materials, rough!);
  const saturating = materials.map((material, b): BodyMaterial => {
    const steel = material.kind === 'linear' && full[b]! > 1 ? material.steel : undefined;
    return steel ? { kind: 'steel', steel, axis: 'z', sign: 1 } : material;
  });
  try {
    return solveMagnets(coupling, saturating, rough ?? undefined);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return { ...(linear ?? solveMagnets(coupling, materials, rough!)), overrun: true };
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
