/** Static charges of a set of bodies whose steel saturates where it carries much: round poles, and upright boxes that have zones. */
import { MU0 } from '../../numerics/constants.ts';
import type { BodyMaterial } from '../materials/bodyMaterial.ts';
import type { Coupling } from './assemble.ts';
import { NotSettled } from './rodZones.ts';
import { roughMagnets, solveMagnets } from './magnetSolve.ts';
import type { Begun, MagnetSolution } from './magnetSolve.ts';
import { throughSection } from './sections.ts';

/**
 * Share of its saturation up to which a pole stays linear. There its susceptibility has fallen by as much, and the field over it by
 * less than 1.2 %; a slug at seven tenths is 6 % off.
 */
const LINEAR = 0.25;

/** How far from LINEAR, as a factor, what a pole carries tells the end beforehand: rods on their curves move it by a tenth. */
const CLEAR = 1.5;

const steelIn = (material: BodyMaterial) => (material.kind === 'linear' ? material.steel : undefined);

/** What every pole of steel carries over what leaves it linear; 0 for all other bodies. */
const fullness = (
  coupling: Coupling,
  materials: readonly BodyMaterial[],
  { density }: Pick<Begun, 'density'>,
): readonly number[] =>
  materials.map((material, b) => {
    const steel = steelIn(material);
    return steel ? poleCarries(coupling, density, b) / (LINEAR * steel.saturation) : 0;
  });

/**
 * Upright boxes of steel that carry more through a section across z than leaves them linear, and more than along their length: zones
 * follow what goes upwards. By their numbers. @param density A/m
 */
export const fullBoxes = (
  { bodies, offsets }: Pick<Coupling, 'bodies' | 'offsets'>,
  materials: readonly BodyMaterial[],
  density: Float64Array,
): readonly number[] =>
  bodies.flatMap((body, b) => {
    const steel = steelIn(materials[b]!);
    if (!steel || body.kind !== 'box') return [];
    const { mesh } = body;
    const upwards = throughSection(mesh, 2, density, offsets[b]!);
    const along = throughSection(mesh, mesh.size.x > mesh.size.y ? 0 : 1, density, offsets[b]!);
    return MU0 * upwards > LINEAR * steel.saturation && upwards > along ? [b] : [];
  });

/**
 * As solveMagnets, with every round pole of steel that carries more than LINEAR of its saturation put on its curve zone by zone, and every
 * upright box that does so, where it has zones. Where the zones of a rod find no state (weak rods beside strong bars may not), every rod
 * has the chord to its mean B and H alone, and it is said so.
 *
 * @param before how the same bodies ended with their boxes linear, whatever their cuts were
 * @throws RangeError as solveMagnets does for the magnets; steel whose zones don't settle stays linear, and it is said so
 */
export function solveStatic(
  coupling: Coupling,
  materials: readonly BodyMaterial[],
  before?: MagnetSolution,
): MagnetSolution {
  const linear = before ?? withPoles(coupling, materials);
  const boxes = zonedBoxes(coupling, materials, linear, before !== undefined);
  if (boxes.length === 0) return linear;
  const { laws, onCurve = [], byMeans, overrun } = linear;
  const all = [...onCurve, ...boxes];
  try {
    const solution = solveMagnets(coupling, onCurves(materials, all), { laws }, !byMeans);
    return { ...solution, onCurve: all, ...(byMeans && { byMeans }), ...(overrun && { overrun }) };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return linear;
  }
}

/** @param known whether it is known of all that have zones that they are full */
function zonedBoxes(
  coupling: Coupling,
  materials: readonly BodyMaterial[],
  { density }: MagnetSolution,
  known: boolean,
): readonly number[] {
  const zoned = coupling.bodies.flatMap((body, b) => (body.kind === 'box' && body.mesh.zones ? [b] : []));
  if (known || zoned.length === 0) return zoned;
  const full = fullBoxes(coupling, materials, density);
  return zoned.filter((b) => full.includes(b));
}

const onCurves = (materials: readonly BodyMaterial[], which: readonly number[]): readonly BodyMaterial[] =>
  materials.map((material, b): BodyMaterial => {
    const steel = steelIn(material);
    return steel && which.includes(b) ? { kind: 'steel', steel, axis: 'z', sign: 1 } : material;
  });

function withPoles(coupling: Coupling, materials: readonly BodyMaterial[]): MagnetSolution {
  try {
    return zonedPoles(coupling, materials);
  } catch (error) {
    if (!(error instanceof NotSettled)) throw error;
    return { ...solveMagnets(coupling, materials, undefined, false), byMeans: true };
  }
}

/** As solveStatic with all boxes linear. */
function zonedPoles(coupling: Coupling, materials: readonly BodyMaterial[]): MagnetSolution {
  if (!materials.some((material, b) => steelIn(material) && coupling.bodies[b]!.kind === 'ring'))
    return solveMagnets(coupling, materials);
  const rough = roughMagnets(coupling, materials);
  // What is far on either side of LINEAR before rods are on their curves stays there.
  const doubtful = !rough || fullness(coupling, materials, rough).some((f) => f > 1 / CLEAR && f < CLEAR);
  const linear = doubtful ? solveMagnets(coupling, materials) : null;
  const full = fullness(coupling, materials, linear ?? rough!);
  if (full.every((f) => f <= 1)) return linear ?? solveMagnets(coupling, materials, rough!);
  const onCurve = [...full.keys()].filter((b) => full[b]! > 1);
  try {
    return { ...solveMagnets(coupling, onCurves(materials, onCurve), rough ?? undefined), onCurve };
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
