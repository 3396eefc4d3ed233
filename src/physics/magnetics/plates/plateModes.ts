/**
 * Eddy currents in thin plates as a few loops of resistance and inductance: R ψ + s L ψ = −s m I, ψ the stream function.
 * L does not depend on the metal, R only through ρ/t, so that what is costly depends on the geometry alone and is kept.
 *
 * Valid while a plate is thin against its skin depth: 0.5 mm of brass (2 mm at 4 kHz, 0.9 mm at 20 kHz), nickel
 * silver (4.3 and 1.9 mm) or copper (1 and 0.47 mm, there a few per cent short). Plates that touch are taken as apart:
 * a cover soldered to its base plate at two points lets no loop through that it had not before.
 */
import {
  addToProfile,
  emptyProfile,
  factorProfile,
  solveProfile,
  symmetricEigen,
  type ProfileFactor,
} from '../../numerics/symmetric.ts';
import { dot } from '../../numerics/vector.ts';
import { multiply } from '../../numerics/multiply.ts';
import { cornerShares, GAUSS, panelPair, panelsOf, type Panels } from './panelPair.ts';
import { unknownAt, type PlateMesh } from './plateMesh.ts';

/** What depends on the geometry alone. */
export interface Plates {
  readonly mesh: PlateMesh;
  readonly panels: Panels;
  /** Mean of K over a panel from ψ at its corners: x, y, z of each corner's share, 1/m. */
  readonly current: Float64Array;
  /** µ0/4π ∬ 1/r of every two panels, less and plus that with the image across y = 0; panelCount², row-major, H·m². */
  readonly less: Float64Array;
  readonly more: Float64Array;
}

/**
 * All about plates that takes long, two n × n matrices of panel pairs included; neither metal nor thickness counts.
 *
 * Source: inductance of surface currents, Neumann's double integral (textbook).
 */
export function platesOf(mesh: PlateMesh): Plates {
  const panels = panelsOf(mesh);
  const n = panels.count;
  const less = new Float64Array(n * n);
  const more = new Float64Array(n * n);
  for (let p = 0; p < n; p++) {
    for (let q = 0; q <= p; q++) {
      const own = 1e-7 * panelPair(panels, p, q, 1);
      const image = 1e-7 * panelPair(panels, p, q, -1);
      less[p * n + q] = less[q * n + p] = own - image;
      more[p * n + q] = more[q * n + p] = own + image;
    }
  }
  return { mesh, panels, current: currentsOf(panels), less, more };
}

/** −(1/A) ∮ ψ dl, ψ linear along the edges. Source: Stokes's theorem. */
function currentsOf({ count, corner, area }: Panels): Float64Array {
  const current = new Float64Array(12 * count);
  for (let p = 0; p < count; p++) {
    for (let c = 0; c < 4; c++) {
      const before = 12 * p + 3 * ((c + 3) % 4);
      const after = 12 * p + 3 * ((c + 1) % 4);
      for (let k = 0; k < 3; k++) {
        current[12 * p + 3 * c + k] = (-0.5 * (corner[after + k]! - corner[before + k]!)) / area[p]!;
      }
    }
  }
  return current;
}

/** L ψ for the whole of the plates, H·A, of several ψ on the unknowns. */
function linkage(
  { mesh, panels, current, less, more }: Plates,
  psis: readonly Float64Array[],
): readonly Float64Array[] {
  const n = panels.count;
  const K = psis.map((psi) => {
    const parts = AXES.map(() => new Float64Array(n));
    forCorners(mesh, (p, c, unknown) => {
      const value = psi[unknown]!;
      for (const k of AXES) parts[k]![p] = parts[k]![p]! + value * current[12 * p + 3 * c + k]!;
    });
    return parts;
  });
  const A = psis.map(() => AXES.map(() => new Float64Array(n)));
  for (const k of AXES) {
    // An image turns the same way round its normal, so that its K along y is the same and the others change sign.
    const matrix = k === 1 ? more : less;
    multiply(
      matrix,
      K.map((parts) => parts[k]!),
      A.map((parts) => parts[k]!),
    );
  }
  return A.map((parts) => {
    const out = new Float64Array(mesh.unknowns);
    forCorners(mesh, (p, c, unknown) => {
      let sum = 0;
      for (const k of AXES) sum += parts[k]![p]! * current[12 * p + 3 * c + k]!;
      out[unknown] = out[unknown]! + 2 * sum;
    });
    return out;
  });
}

const AXES = [0, 1, 2] as const;

function forCorners(mesh: PlateMesh, each: (panel: number, corner: number, unknown: number) => void): void {
  for (let p = 0; p < mesh.panelCount; p++) {
    for (let c = 0; c < 4; c++) {
      const unknown = unknownAt(mesh, p, c);
      if (unknown >= 0) each(p, c, unknown);
    }
  }
}

/**
 * R of the whole of the plates, factored.
 * @param square resistance of a square of each plate, ρ/t, Ω
 * Source: linear triangles, the mean of a panel's two ways of being cut in two.
 */
export function resistanceFactor(plates: Plates, square: readonly number[]): ProfileFactor {
  const { mesh, panels } = plates;
  const first = Int32Array.from({ length: mesh.unknowns }, (_, i) => i);
  for (let p = 0; p < mesh.panelCount; p++) {
    const own = [0, 1, 2, 3].map((c) => unknownAt(mesh, p, c)).filter((u) => u >= 0);
    const least = Math.min(...own);
    for (const unknown of own) first[unknown] = Math.min(first[unknown]!, least);
  }
  const profile = emptyProfile(first);
  for (let p = 0; p < mesh.panelCount; p++) {
    const each = 2 * 0.5 * square[mesh.plate[p]!]!;
    for (const triangle of CUTS) addTriangle(profile, plates.mesh, panels, p, triangle, each);
  }
  factorProfile(profile);
  return profile;
}

const CUTS = [
  [0, 1, 2],
  [0, 2, 3],
  [0, 1, 3],
  [1, 2, 3],
] as const;

function addTriangle(
  to: ProfileFactor,
  mesh: PlateMesh,
  { corner, area }: Panels,
  p: number,
  triangle: readonly [number, number, number],
  scale: number,
): void {
  const edge = triangle.map((_, i) =>
    [0, 1, 2].map((k) => {
      const from = triangle[(i + 1) % 3]!;
      const at = triangle[(i + 2) % 3]!;
      return corner[12 * p + 3 * at + k]! - corner[12 * p + 3 * from + k]!;
    }),
  );
  const [a, b] = edge as [number[], number[]];
  const twice = Math.hypot(
    a[1]! * b[2]! - a[2]! * b[1]!,
    a[2]! * b[0]! - a[0]! * b[2]!,
    a[0]! * b[1]! - a[1]! * b[0]!,
  );
  // Of a triangle that was entered as a panel of four corners, one cut is nothing.
  if (!(twice > 1e-9 * area[p]!)) return;
  triangle.forEach((ci, i) => {
    const ui = unknownAt(mesh, p, ci);
    triangle.forEach((cj, j) => {
      const uj = unknownAt(mesh, p, cj);
      if (ui < 0 || uj < 0 || uj > ui) return;
      const product = edge[i]!.reduce((sum, value, k) => sum + value * edge[j]![k]!, 0);
      addToProfile(to, ui, uj, (scale * product) / (2 * twice));
    });
  });
}

/** Loops of 1 Ω each that answer as the plates do. */
export interface PlateModes {
  /** L/R of every loop, s, the slowest first. */
  readonly tau: Float64Array;
  /** ψ on the unknowns of each loop for one ampere in it. */
  readonly shape: readonly Float64Array[];
}

/** How often R⁻¹ L is applied; three leave 3e-3 of a copper cover's share at 20 kHz, and less elsewhere. */
const STEPS = 3;
/** A direction of which so little is new is nothing but rounding. */
const NOTHING_NEW = 1e-7;

/**
 * The loops that these sources drive: Ritz vectors of the Krylov space of R⁻¹L, so that a source's share in the coil's
 * impedance has its first 2·STEPS moments, and each loop by itself is a passive circuit.
 *
 * @param sources fluxes through the hats of the unknowns, Wb/A
 * Source: block Lanczos with full orthogonalisation, [Golub1996] § 9.2; moments by Gauss's quadrature, ibid. § 9.1.
 */
export function plateModes(
  plates: Plates,
  factor: ProfileFactor,
  sources: readonly Float64Array[],
  steps = STEPS,
): PlateModes {
  const basis: Float64Array[] = [];
  const heavy: Float64Array[] = [];
  const linked: Float64Array[] = [];
  let block: readonly Float64Array[] = sources;
  for (let step = 0; step < steps; step++) {
    const from = basis.length;
    for (const source of block) {
      const vector = source.slice();
      solveProfile(factor, vector);
      addOrthogonal(basis, heavy, vector, source.slice());
    }
    linked.push(...linkage(plates, basis.slice(from)));
    block = linked.slice(from);
  }
  const n = basis.length;
  const reduced = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < n; j++) {
      reduced[i * n + j] = 0.5 * (dot(basis[i]!, linked[j]!) + dot(basis[j]!, linked[i]!));
    }
  }
  const turned = symmetricEigen(reduced, n);
  const order = Array.from({ length: n }, (_, k) => k).sort(
    (a, b) => reduced[b * n + b]! - reduced[a * n + a]!,
  );
  return {
    tau: Float64Array.from(order, (k) => Math.max(0, reduced[k * n + k]!)),
    shape: order.map((k) => {
      const shape = new Float64Array(plates.mesh.unknowns);
      basis.forEach((vector, i) => addTo(shape, vector, turned[i * n + k]!));
      return shape;
    }),
  };
}

/** Adds a vector and its product with R, made orthonormal in R; or nothing when it is not new. */
function addOrthogonal(
  basis: Float64Array[],
  heavy: Float64Array[],
  vector: Float64Array,
  product: Float64Array,
): void {
  const whole = dot(vector, product);
  // Twice is enough.
  for (let round = 0; round < 2; round++) {
    basis.forEach((other, k) => {
      const share = dot(heavy[k]!, vector);
      addTo(vector, other, -share);
      addTo(product, heavy[k]!, -share);
    });
  }
  const left = dot(vector, product);
  if (!(left > NOTHING_NEW ** 2 * whole)) return;
  const scale = 1 / Math.sqrt(left);
  basis.push(vector.map((value) => value * scale));
  heavy.push(product.map((value) => value * scale));
}

function addTo(to: Float64Array, from: Float64Array, scale: number): void {
  for (let i = 0; i < to.length; i++) to[i] = to[i]! + scale * from[i]!;
}

/** B·n at a point, T. */
export type NormalField = (x: number, y: number, z: number, nx: number, ny: number, nz: number) => number;

/** The same of several sources at once, each in its place in `out`. */
export type NormalFields = (
  x: number,
  y: number,
  z: number,
  nx: number,
  ny: number,
  nz: number,
  out: Float64Array,
) => void;

const SHARES = GAUSS.map(([u, v]) => cornerShares(u, v));

/**
 * Flux through the hat of every unknown of the whole of the plates, Wb, from B·n at the panels' points; one for each of
 * so many sources.
 * @param skip panels to leave out
 */
export function fluxOn(
  { mesh, panels }: Plates,
  sources: number,
  normalFields: NormalFields,
  skip?: Uint8Array,
): readonly Float64Array[] {
  const out = Array.from({ length: sources }, () => new Float64Array(mesh.unknowns));
  const { point, normal, weight } = panels;
  const B = new Float64Array(sources);
  for (let p = 0; p < panels.count; p++) {
    if (skip?.[p]) continue;
    for (let g = 0; g < 4; g++) {
      const at = 12 * p + 3 * g;
      normalFields(
        point[at]!,
        point[at + 1]!,
        point[at + 2]!,
        normal[3 * p]!,
        normal[3 * p + 1]!,
        normal[3 * p + 2]!,
        B,
      );
      for (let c = 0; c < 4; c++) {
        const unknown = unknownAt(mesh, p, c);
        if (unknown < 0) continue;
        const share = 2 * weight[4 * p + g]! * SHARES[g]![c]!;
        out.forEach((flux, s) => (flux[unknown] = flux[unknown]! + share * B[s]!));
      }
    }
  }
  return out;
}
