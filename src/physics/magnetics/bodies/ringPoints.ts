/** Quadrature points on the panels of a body of revolution. */
import { gaussLegendre } from '../../numerics/quadrature.ts';
import type { RingMesh } from './ringMesh.ts';

/** Points of one panel: distance from the axis, height, area weight (2π r ds), place along the profile. */
export interface PanelPoints {
  readonly r: Float64Array;
  readonly z: Float64Array;
  /** m²; they sum to the panel's area. */
  readonly weight: Float64Array;
  /** Distance from the panel's centre of area along the profile, m; the weighted sum vanishes. */
  readonly along: Float64Array;
}

/** Of every mesh by the rule, panel by panel: a mesh is immutable, and its panels are asked for at every step. */
const known = new WeakMap<RingMesh, PanelPoints[][]>();

/**
 * Gauss points on panel j. Crowded ones follow 3t² − 2t³ towards both ends, where the kernels of the neighbours
 * are nearly singular.
 *
 * @param j index of the panel; @param count number of points
 * @returns places in m, weights in m²; the same arrays at every call
 */
export function panelPoints(mesh: RingMesh, j: number, count: number, crowded: boolean): PanelPoints {
  let ofMesh = known.get(mesh);
  if (!ofMesh) {
    ofMesh = [];
    known.set(mesh, ofMesh);
  }
  const panels = (ofMesh[2 * count + (crowded ? 1 : 0)] ??= []);
  return (panels[j] ??= pointsOf(mesh, j, count, crowded));
}

function pointsOf(mesh: RingMesh, j: number, count: number, crowded: boolean): PanelPoints {
  const rule = gaussLegendre(count);
  const r = new Float64Array(count);
  const z = new Float64Array(count);
  const weight = new Float64Array(count);
  const along = new Float64Array(count);
  const r1 = mesh.nodeR[j]!;
  const z1 = mesh.nodeZ[j]!;
  const dr = mesh.nodeR[j + 1]! - r1;
  const dz = mesh.nodeZ[j + 1]! - z1;
  const length = mesh.length[j]!;
  let sum = 0;
  let moment = 0;
  for (let k = 0; k < count; k++) {
    const t = 0.5 * (1 + rule.x[k]!);
    const s = crowded ? t * t * (3 - 2 * t) : t;
    const ds = crowded ? 6 * t * (1 - t) : 1;
    r[k] = r1 + s * dr;
    z[k] = z1 + s * dz;
    weight[k] = Math.PI * r[k]! * length * rule.w[k]! * ds;
    along[k] = s * length;
    sum += weight[k]!;
    moment += weight[k]! * along[k]!;
  }
  for (let k = 0; k < count; k++) {
    along[k] = along[k]! - moment / sum;
    // A few crowded points miss the area of an annulus by a rounding or, on one, by the rule's error.
    weight[k] = (weight[k]! * mesh.area[j]!) / sum;
  }
  return { r, z, weight, along };
}

/** Folds the response to a density that grows along each panel (`odd`, m; rows × source.n) into `block` (1). */
export function addSlopes(block: Float64Array, odd: Float64Array, source: RingMesh): void {
  const n = source.n;
  const rows = block.length / n;
  const { before, here, after } = source.slope;
  for (let i = 0; i < rows; i++) {
    const row = i * n;
    for (let j = 0; j < n; j++) {
      const response = odd[row + j]!;
      block[row + j] = block[row + j]! + response * here[j]!;
      if (before[j] !== 0) block[row + j - 1] = block[row + j - 1]! + response * before[j]!;
      if (after[j] !== 0) block[row + j + 1] = block[row + j + 1]! + response * after[j]!;
    }
  }
}

/** Slope of the density (A/m) on panel j, A/m²; `offset` is the index at which this mesh's densities start. */
export function slopeAt(mesh: RingMesh, density: Float64Array, offset: number, j: number): number {
  const { before, here, after } = mesh.slope;
  let slope = here[j]! * density[offset + j]!;
  if (before[j] !== 0) slope += before[j]! * density[offset + j - 1]!;
  if (after[j] !== 0) slope += after[j]! * density[offset + j + 1]!;
  return slope;
}

/** From a point at radius r and height z to panel j, m. */
export function distanceToPanel(
  nodeR: Float64Array,
  nodeZ: Float64Array,
  j: number,
  r: number,
  z: number,
): number {
  const r1 = nodeR[j]!;
  const z1 = nodeZ[j]!;
  const dr = nodeR[j + 1]! - r1;
  const dz = nodeZ[j + 1]! - z1;
  const t = Math.min(1, Math.max(0, ((r - r1) * dr + (z - z1) * dz) / (dr * dr + dz * dz)));
  const du = r - r1 - t * dr;
  const dv = z - z1 - t * dz;
  return Math.sqrt(du * du + dv * dv);
}
