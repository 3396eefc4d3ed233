/**
 * Alnico rods beyond the chord. The tips of an open rod work past the knee of the curve and its middle before it, so
 * one linear law for the whole rod is 2 % (alnico 5) to 4 % (alnico 2) high near the tip. Here the rod is cut into zones,
 * slices times columns, each with a remanence of its own that puts it on the curve; recoil permeability does the rest.
 *
 * The result is a correction: surface charges to add to those of the chord, with the same field outside the rod. It is
 * computed for the rod alone; what its neighbours would change in a correction of a few per cent is left out.
 */
import { denseLu, denseSolve } from '../numerics/denseLu.ts';
import type { DenseLu } from '../numerics/denseLu.ts';
import { ringSelfBlocks } from './assemble.ts';
import { MU0 } from './constants.ts';
import { curveFluxDensity } from './demagnetisation.ts';
import type { LinearLaw } from './demagnetisation.ts';
import type { MagnetMaterial } from './materials.ts';
import type { RingMesh } from './ringMesh.ts';
import { annuliOf, annulusField, annulusLoad, cut, panelField, surfaceLoad } from './rodZoneParts.ts';

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
