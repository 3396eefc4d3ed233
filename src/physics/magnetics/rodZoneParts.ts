/** Zones of an alnico rod, and the charges and fields that their extra magnetisation makes; see rodZones. */
import { gaussLegendre } from '../numerics/quadrature.ts';
import { discFlux, ringField } from './ringKernel.ts';
import type { RingField } from './ringKernel.ts';
import type { RingMesh } from './ringMesh.ts';
import { addSlopes, panelPoints } from './ringPoints.ts';

/** Column limits as shares of the rod's radius: narrow ones at the rim, where the field is steepest. */
const COLUMNS = [0, 0.5, 0.75, 0.9, 1] as const;
/** Points across an annulus of charge, and along a panel seen from inside. */
const ANNULUS_POINTS = 10;
const PANEL_POINTS = 6;

/** One slice of one column, m. */
export interface Zone {
  readonly column: number;
  readonly bottom: number;
  readonly top: number;
  /** Where its H is taken. */
  readonly r: number;
  readonly z: number;
}

/** Rings of charge in a horizontal plane: height and radii, m; weights are areas, m², and `sign` that of the charge. */
export interface Annulus {
  readonly z: number;
  readonly sign: 1 | -1;
  readonly r: Float64Array;
  readonly weight: Float64Array;
}

/** Slices between the heights of the mesh's nodes, columns up to the radius there. */
export function cut(mesh: RingMesh): readonly Zone[] {
  const zones: Zone[] = [];
  for (let i = 0; i < mesh.n; i++) {
    const bottom = mesh.nodeZ[i]!;
    const top = mesh.nodeZ[i + 1]!;
    if (!(top > bottom)) continue;
    const local = 0.5 * (mesh.nodeR[i]! + mesh.nodeR[i + 1]!);
    for (let column = 0; column + 1 < COLUMNS.length; column++) {
      const from = COLUMNS[column]! * mesh.radius;
      const to = Math.min(local, COLUMNS[column + 1]! * mesh.radius);
      if (to - from < 1e-3 * mesh.radius) continue;
      zones.push({
        column,
        bottom,
        top,
        r: Math.sqrt(0.5 * (from * from + to * to)),
        z: 0.5 * (bottom + top),
      });
    }
  }
  return zones;
}

/** The rod's radius just beside an inner height, m. */
function radiusBetween(mesh: RingMesh, z: number): number {
  for (let i = 0; i <= mesh.n; i++) if (mesh.nodeZ[i]! >= z && mesh.nodeR[i]! > 0) return mesh.nodeR[i]!;
  return 0;
}

/** Charged faces of a zone inside the rod; those on its surface are panels. */
export function annuliOf(mesh: RingMesh, zone: Zone): readonly Annulus[] {
  const rule = gaussLegendre(ANNULUS_POINTS);
  const lowest = mesh.nodeZ[0]!;
  const highest = mesh.nodeZ[mesh.n]!;
  const list: Annulus[] = [];
  for (const [z, sign] of [
    [zone.bottom, -1],
    [zone.top, 1],
  ] as const) {
    if (z <= lowest || z >= highest) continue;
    const from = COLUMNS[zone.column]! * mesh.radius;
    const to = Math.min(radiusBetween(mesh, z), COLUMNS[zone.column + 1]! * mesh.radius);
    if (!(to > from)) continue;
    const r = rule.x.map((t) => from + 0.5 * (to - from) * (1 + t));
    list.push({ z, sign, r, weight: r.map((a, k) => Math.PI * a * (to - from) * rule.w[k]!) });
  }
  return list;
}

/** n·M on every panel, mesh.n values, for a magnetisation of 1 A/m along z in the zone; A/m. */
export function surfaceLoad(mesh: RingMesh, zone: Zone): Float64Array {
  const load = new Float64Array(mesh.n);
  const from = COLUMNS[zone.column]! * mesh.radius;
  const to = COLUMNS[zone.column + 1]! * mesh.radius;
  for (let i = 0; i < mesh.n; i++) {
    const r1 = mesh.nodeR[i]!;
    const r2 = mesh.nodeR[i + 1]!;
    const z1 = mesh.nodeZ[i]!;
    const z2 = mesh.nodeZ[i + 1]!;
    const here = z2 > z1 ? z1 === zone.bottom && z2 === zone.top : z1 === zone.bottom || z1 === zone.top;
    // A flat ring at the top closes the slice below it, one at the bottom the slice above.
    const closes = z2 > z1 || (mesh.normalZ[i]! > 0 ? z1 === zone.top : z1 === zone.bottom);
    if (!here || !closes || r1 === r2) continue;
    const low = Math.max(from, Math.min(r1, r2));
    const high = Math.min(to, Math.max(r1, r2));
    if (high > low)
      load[i] = (Math.sign(mesh.normalZ[i]!) * Math.PI * (high * high - low * low)) / mesh.area[i]!;
  }
  return load;
}

/** Mean outward normal field on every panel of a zone's inner faces; their charge is screened by the permeability. */
export function annulusLoad(mesh: RingMesh, annuli: readonly Annulus[], mu: number): Float64Array {
  const load = new Float64Array(mesh.n);
  for (const { z, sign, r, weight } of annuli) {
    for (let k = 0; k < r.length; k++) {
      const q = (sign * weight[k]!) / mu;
      let below = 0;
      for (let i = 0; i < mesh.n; i++) {
        const height = mesh.nodeZ[i + 1]! - z;
        // In the faces' own plane: seen from just below, so that the slice above holds the charge.
        const above =
          i + 1 === mesh.n
            ? 0
            : height === 0
              ? r[k]! < mesh.nodeR[i + 1]!
                ? -0.5
                : 0
              : discFlux(mesh.nodeR[i + 1]!, height, r[k]!);
        const encloses = mesh.nodeZ[i]! <= z && mesh.nodeZ[i + 1]! > z ? 1 : 0;
        load[i] = load[i]! + (q * (below - above + encloses)) / mesh.area[i]!;
        below = above;
      }
    }
  }
  return load;
}

const mode0: RingField = { radial: 0, axial: 0, azimuthal: 0 };
const mode1: RingField = { radial: 0, axial: 0, azimuthal: 0 };

/**
 * H along z at (r, z) in the rod's frame (m) of a zone's inner faces, A/m for a magnetisation of 1 A/m in the zone;
 * their charge is screened by the relative permeability `mu`.
 *
 * Source: charge in a permeable body [Brown1962]; the rings' field as in ringField.
 */
export function annulusField(annuli: readonly Annulus[], mu: number, r: number, z: number): number {
  let h = 0;
  for (const annulus of annuli) {
    for (let k = 0; k < annulus.r.length; k++) {
      ringField(r, z - annulus.z, annulus.r[k]!, mode0, mode1);
      h += ((annulus.sign * annulus.weight[k]!) / mu) * mode0.axial;
    }
  }
  return h;
}

/** zones × panels, row-major: H along z at every zone, A/m, of a density of 1 A/m on every panel. */
export function panelField(mesh: RingMesh, zones: readonly Zone[]): Float64Array {
  const even = new Float64Array(zones.length * mesh.n);
  const odd = new Float64Array(zones.length * mesh.n);
  for (let j = 0; j < mesh.n; j++) {
    const points = panelPoints(mesh, j, PANEL_POINTS, true);
    zones.forEach((zone, k) => {
      for (let p = 0; p < PANEL_POINTS; p++) {
        ringField(zone.r, zone.z - points.z[p]!, points.r[p]!, mode0, mode1);
        const share = points.weight[p]! * mode0.axial;
        even[k * mesh.n + j] = even[k * mesh.n + j]! + share;
        odd[k * mesh.n + j] = odd[k * mesh.n + j]! + share * points.along[p]!;
      }
    });
  }
  addSlopes(even, odd, mesh);
  return even;
}
