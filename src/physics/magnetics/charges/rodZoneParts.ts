/** Zones of an alnico rod, and the charges and fields that their extra magnetisation makes; see rodZones. */
import { gaussLegendre } from '../../numerics/quadrature.ts';
import { discFlux, ringField } from '../kernels/ringKernel.ts';
import type { RingField } from '../kernels/ringKernel.ts';
import type { RingMesh } from '../bodies/ringMesh.ts';
import { addSlopes, panelPoints } from '../bodies/ringPoints.ts';

/** Column limits as shares of the rod's radius: narrow ones at the rim of a tip, where the field is steepest. */
const COLUMNS = [0, 0.5, 0.75, 0.9, 1] as const;
const MIDDLE_COLUMNS = [0, 0.5, 0.85, 1] as const;
/**
 * A tip is what lies within so many radii of an end. No slice is higher than a law's share of the radius, or than this of its
 * distance from the nearer end: far from its ends a needle is all alike.
 */
const TIP = 1.2;
const FAR_SLICE = 0.12;
/** Points across an annulus of charge, and along a panel seen from inside. */
const ANNULUS_POINTS = 10;
const PANEL_POINTS = 6;

/** One slice of one column, m. */
export interface Zone {
  readonly bottom: number;
  readonly top: number;
  /** Radii of the column; the rod itself may be narrower, see annuliOf. */
  readonly inner: number;
  readonly outer: number;
  /** Where its H is taken. */
  readonly r: number;
  readonly z: number;
  /** m³. */
  readonly volume: number;
}

/** Slices between the heights of the mesh's nodes, those of a plain side cut once more; columns up to the radius there. @param slice a share, see ZoneLaw */
export function cut(mesh: RingMesh, slice: number): readonly Zone[] {
  const zones: Zone[] = [];
  for (let i = 0; i < mesh.n; i++) {
    const bottom = mesh.nodeZ[i]!;
    const height = mesh.nodeZ[i + 1]! - bottom;
    if (!(height > 0)) continue;
    const upright = mesh.nodeR[i] === mesh.nodeR[i + 1];
    const highest = Math.max(slice * mesh.radius, FAR_SLICE * fromEnd(mesh, bottom + 0.5 * height));
    const parts = upright ? Math.ceil(height / highest - 1e-9) : 1;
    const heights = Array.from({ length: parts }, (_, k) => bottom + (height * k) / parts);
    heights.push(mesh.nodeZ[i + 1]!);
    const local = 0.5 * (mesh.nodeR[i]! + mesh.nodeR[i + 1]!);
    for (let k = 0; k < parts; k++) addSlice(zones, mesh, heights[k]!, heights[k + 1]!, local);
  }
  return zones;
}

/** Distance of a height from the nearer end, m. */
const fromEnd = (mesh: RingMesh, z: number): number => Math.min(z - mesh.nodeZ[0]!, mesh.nodeZ[mesh.n]! - z);

function addSlice(zones: Zone[], mesh: RingMesh, bottom: number, top: number, radius: number): void {
  const z = 0.5 * (bottom + top);
  const columns = fromEnd(mesh, z) < TIP * mesh.radius ? COLUMNS : MIDDLE_COLUMNS;
  for (let column = 0; column + 1 < columns.length; column++) {
    const inner = columns[column]! * mesh.radius;
    const outer = columns[column + 1]! * mesh.radius;
    const to = Math.min(radius, outer);
    if (to - inner < 1e-3 * mesh.radius) continue;
    zones.push({
      bottom,
      top,
      inner,
      outer,
      r: Math.sqrt(0.5 * (inner * inner + to * to)),
      z,
      volume: Math.PI * (to * to - inner * inner) * (top - bottom),
    });
  }
}

/** Rings of charge in a horizontal plane inside the rod: height and radii, m; weights are areas, m². */
export interface Annulus {
  readonly z: number;
  readonly r: Float64Array;
  readonly weight: Float64Array;
}

/** Faces of all zones inside the rod, and which of them every zone has; those on the rod's surface are panels. */
export interface Faces {
  readonly annuli: readonly Annulus[];
  readonly of: readonly (readonly { readonly face: number; readonly sign: 1 | -1 }[])[];
}

/** The rod's radius just beside an inner height, m. */
function radiusBetween(mesh: RingMesh, z: number): number {
  for (let i = 0; i <= mesh.n; i++) if (mesh.nodeZ[i]! >= z && mesh.nodeR[i]! > 0) return mesh.nodeR[i]!;
  return 0;
}

/** Two zones one above the other share a face. */
export function facesOf(mesh: RingMesh, zones: readonly Zone[]): Faces {
  const rule = gaussLegendre(ANNULUS_POINTS);
  const lowest = mesh.nodeZ[0]!;
  const highest = mesh.nodeZ[mesh.n]!;
  const annuli: Annulus[] = [];
  const known = new Map<string, number>();
  const face = (z: number, from: number, to: number): number => {
    const key = `${z} ${from} ${to}`;
    let number = known.get(key);
    if (number === undefined) {
      number = annuli.length;
      known.set(key, number);
      const r = rule.x.map((t) => from + 0.5 * (to - from) * (1 + t));
      annuli.push({ z, r, weight: r.map((a, k) => Math.PI * a * (to - from) * rule.w[k]!) });
    }
    return number;
  };
  const of = zones.map((zone) =>
    ([-1, 1] as const).flatMap((sign) => {
      const z = sign < 0 ? zone.bottom : zone.top;
      const to = Math.min(radiusBetween(mesh, z), zone.outer);
      return z <= lowest || z >= highest || !(to > zone.inner)
        ? []
        : [{ face: face(z, zone.inner, to), sign }];
    }),
  );
  return { annuli, of };
}

/** n·M on every panel, mesh.n values, for a magnetisation of 1 A/m along z in the zone; A/m. */
export function surfaceLoad(mesh: RingMesh, zone: Zone): Float64Array {
  const load = new Float64Array(mesh.n);
  const { inner: from, outer: to } = zone;
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

/** Mean outward normal field on every panel of a face's charge of 1 A/m, screened by the permeability. */
export function annulusLoad(mesh: RingMesh, { z, r, weight }: Annulus, mu: number): Float64Array {
  const load = new Float64Array(mesh.n);
  for (let k = 0; k < r.length; k++) {
    const q = weight[k]! / mu;
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
  return load;
}

const mode0: RingField = { radial: 0, axial: 0, azimuthal: 0 };
const mode1: RingField = { radial: 0, axial: 0, azimuthal: 0 };

/**
 * H along z at (r, z) in the rod's frame (m) of a face's charge of 1 A/m, screened by the relative permeability `mu`.
 *
 * Source: charge in a permeable body [Brown1962]; the rings' field as in ringField.
 */
export function annulusField(annulus: Annulus, mu: number, r: number, z: number): number {
  let h = 0;
  for (let k = 0; k < annulus.r.length; k++) {
    ringField(r, z - annulus.z, annulus.r[k]!, mode0, mode1);
    h += (annulus.weight[k]! / mu) * mode0.axial;
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
