/**
 * Alnico rods beyond the chord. The tips of an open rod work past the knee of the curve and its middle before it, so
 * one linear law for the whole rod is 2 % (alnico 5) to 4 % (alnico 2) high near the tip. Here the rod is cut into zones,
 * slices times columns, each with a remanence of its own that puts it on the curve; recoil permeability does the rest.
 *
 * The result is a correction: surface charges to add to those of the chord, with the same field outside the rod. It is
 * computed for the rod alone; what its neighbours would change in a correction of a few per cent is left out.
 */
import { gaussLegendre } from '../numerics/quadrature.ts';
import { denseLu, denseSolve } from '../numerics/denseLu.ts';
import type { DenseLu } from '../numerics/denseLu.ts';
import { ringSelfBlocks } from './assemble.ts';
import { MU0 } from './constants.ts';
import { curveFluxDensity } from './demagnetisation.ts';
import type { LinearLaw } from './demagnetisation.ts';
import type { MagnetMaterial } from './materials.ts';
import { discFlux, ringField } from './ringKernel.ts';
import type { RingField } from './ringKernel.ts';
import type { RingMesh } from './ringMesh.ts';
import { addSlopes, panelPoints } from './ringPoints.ts';

/** Column limits as shares of the rod's radius: narrow ones at the rim, where the field is steepest. */
const COLUMNS = [0, 0.5, 0.75, 0.9, 1] as const;
/** Points across an annulus of charge, and along a panel seen from inside. */
const ANNULUS_POINTS = 10;
const PANEL_POINTS = 6;

/** One slice of one column. */
interface Zone {
  readonly column: number;
  readonly bottom: number;
  readonly top: number;
  /** Where its H is taken. */
  readonly r: number;
  readonly z: number;
}

/** Rings of charge in a horizontal plane. */
interface Annulus {
  readonly z: number;
  readonly sign: 1 | -1;
  readonly r: Float64Array;
  readonly weight: Float64Array;
}

const known = new WeakMap<RingMesh, Map<string, Float64Array>>();

/**
 * @param mesh of the rod, standing along z
 * @param chord the law that the charges to be corrected were solved with
 * @returns charges to add, one a ring, A/m, for a rod magnetised upwards
 * @throws RangeError when the zones' working points do not settle
 * Source: volume charge −∇·M over µ inside a linear body [Brown1962]; agreement with pointwise nonlinear finite elements
 * 0.3 % (tests).
 */
export function zoneCorrection(
  mesh: RingMesh,
  material: MagnetMaterial,
  charge: number,
  chord: LinearLaw,
): Float64Array {
  let ofMesh = known.get(mesh);
  if (!ofMesh) {
    ofMesh = new Map();
    known.set(mesh, ofMesh);
  }
  const onCurve = [
    material.remanence,
    material.coercivity,
    material.energyProduct,
    material.recoil,
    charge,
  ].join(' ');
  let curved = ofMesh.get(onCurve);
  if (!curved) {
    curved = zonedCharges(mesh, material, charge);
    ofMesh.set(onCurve, curved);
  }
  const linear = linearCharges(mesh, chord.mu, chord.remanence);
  return curved.map((value, i) => value - linear[i]!);
}

function bodyFactors(mesh: RingMesh, mu: number): DenseLu {
  const K = ringSelfBlocks(mesh)[0];
  const n = mesh.n;
  const a = Float64Array.from(K, (value) => -(mu - 1) * value);
  for (let i = 0; i < n; i++) a[i * n + i] = a[i * n + i]! + 0.5 * (mu + 1);
  return denseLu(a, n);
}

function linearCharges(mesh: RingMesh, mu: number, remanence: number): Float64Array {
  const b = Float64Array.from(mesh.normalZ, (nz) => (nz * remanence) / MU0);
  denseSolve(bodyFactors(mesh, mu), b);
  return b;
}

/** Surface charges with the outside field of the rod whose zones lie on the curve. */
function zonedCharges(mesh: RingMesh, material: MagnetMaterial, charge: number): Float64Array {
  const n = mesh.n;
  const mu = material.recoil;
  const zones = cut(mesh);
  const N = zones.length;
  const factors = bodyFactors(mesh, mu);
  const fromPanels = panelField(mesh, zones);
  const annuli = zones.map((zone) => annuliOf(mesh, zone));
  // Per unit of extra magnetisation in a zone: charges on the surface, normal field of the annuli, H at every zone.
  const surface: Float64Array[] = [];
  const normal: Float64Array[] = [];
  const response = new Float64Array(N * N);
  zones.forEach((zone, l) => {
    const flux = annulusLoad(mesh, annuli[l]!, mu);
    const b = surfaceLoad(mesh, zone);
    for (let i = 0; i < n; i++) b[i] = b[i]! + (mu - 1) * flux[i]!;
    denseSolve(factors, b);
    surface.push(b);
    normal.push(flux);
    zones.forEach((at, k) => {
      let h = annulusField(annuli[l]!, mu, at.r, at.z);
      for (let i = 0; i < n; i++) h += fromPanels[k * n + i]! * b[i]!;
      response[k * N + l] = h;
    });
  });
  const base = linearCharges(mesh, mu, charge * material.remanence);
  const H0 = new Float64Array(N);
  for (let k = 0; k < N; k++) {
    for (let i = 0; i < n; i++) H0[k] = H0[k]! + fromPanels[k * n + i]! * base[i]!;
  }
  const extra = settle(material, charge, H0, response);
  const sheet = new Float64Array(n);
  extra.forEach((M, l) => {
    for (let i = 0; i < n; i++) {
      base[i] = base[i]! + M * surface[l]![i]!;
      sheet[i] = sheet[i]! + M * normal[l]![i]!;
    }
  });
  // Surface charges with the annuli's field outside: their outer normal field (½ + K) τ must be the annuli's.
  const K = ringSelfBlocks(mesh)[0].slice();
  for (let i = 0; i < n; i++) K[i * n + i] = K[i * n + i]! + 0.5;
  denseSolve(denseLu(K, n), sheet);
  return base.map((value, i) => value + sheet[i]!);
}

/** The zones' extra magnetisation by Newton's method: M(H) of the curve less the recoil law. */
function settle(
  material: MagnetMaterial,
  charge: number,
  H0: Float64Array,
  response: Float64Array,
): Float64Array {
  const N = H0.length;
  const extra = new Float64Array(N);
  const goal = 1e-5 * charge * material.coercivity;
  const recoil = (H: number): number => MU0 * material.recoil * H + charge * material.remanence;
  const missing = (H: number): number => (curveFluxDensity(material, charge, H) - recoil(H)) / MU0;
  // A step for the slope, far below the coercivity and far above rounding.
  const small = 1e-4 * charge * material.coercivity;
  for (let round = 0; round < 60; round++) {
    const jacobian = new Float64Array(N * N);
    const rest = new Float64Array(N);
    let worst = 0;
    for (let k = 0; k < N; k++) {
      let H = H0[k]!;
      for (let l = 0; l < N; l++) H += response[k * N + l]! * extra[l]!;
      const slope = (missing(H + small) - missing(H - small)) / (2 * small);
      rest[k] = missing(H) - extra[k]!;
      worst = Math.max(worst, Math.abs(rest[k]!));
      for (let l = 0; l < N; l++) jacobian[k * N + l] = (k === l ? 1 : 0) - slope * response[k * N + l]!;
    }
    if (worst < goal) return extra;
    denseSolve(denseLu(jacobian, N), rest);
    for (let k = 0; k < N; k++) extra[k] = extra[k]! + rest[k]!;
  }
  throw new RangeError(
    'A rod’s zones must settle on its curve; they did not. Check its proportions and charge.',
  );
}

/** Slices between the heights of the mesh's nodes, columns up to the radius there. */
function cut(mesh: RingMesh): readonly Zone[] {
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
function annuliOf(mesh: RingMesh, zone: Zone): readonly Annulus[] {
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

/** n·M on every panel for a unit magnetisation along z in the zone. */
function surfaceLoad(mesh: RingMesh, zone: Zone): Float64Array {
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
function annulusLoad(mesh: RingMesh, annuli: readonly Annulus[], mu: number): Float64Array {
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

function annulusField(annuli: readonly Annulus[], mu: number, r: number, z: number): number {
  let h = 0;
  for (const annulus of annuli) {
    for (let k = 0; k < annulus.r.length; k++) {
      ringField(r, z - annulus.z, annulus.r[k]!, mode0, mode1);
      h += ((annulus.sign * annulus.weight[k]!) / mu) * mode0.axial;
    }
  }
  return h;
}

/** zones × panels: axial field at every zone of a unit density on every panel. */
function panelField(mesh: RingMesh, zones: readonly Zone[]): Float64Array {
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
