/** What coils, their cores and a moving string send through thin plates. */
import { MU0 } from '../../numerics/constants.ts';
import type { Coupling } from '../charges/assemble.ts';
import type { Filaments } from '../coil/winding.ts';
import { coilField } from '../coil/winding.ts';
import type { Line } from '../charges/chargeCloud.ts';
import { cornerShares, GAUSS, stretch, type Panels } from './panelPair.ts';
import { gaussLegendre } from '../../numerics/quadrature.ts';
import { throughHole } from './plateHole.ts';
import { panelPoints } from '../bodies/ringPoints.ts';
import { fluxOn, type NormalField, type NormalFields, type Plates } from './plateModes.ts';
import { unknownAt, type PlateHole, type PlateShape } from './plateMesh.ts';

const SHARES = GAUSS.map(([u, v]) => cornerShares(u, v));

/** Flux of one ampere-turn through the hats of all unknowns, Wb/A, the coil in air. */
export function coilFlux(plates: Plates, coil: Filaments): Float64Array {
  const h = { x: 0, y: 0, z: 0 };
  return fluxOn(plates, 1, (x, y, z, nx, ny, nz, out) => {
    coilField(coil, x, y, z, h);
    out[0] = MU0 * (h.x * nx + h.y * ny + h.z * nz);
  })[0]!;
}

/**
 * Points around a ring that stand for it: near an end of its pole, where a plate may be close, and between or for what is
 * farther from the axis than so many radii.
 */
const AROUND_END = 14;
const AROUND = 6;
const END = 3e-3;
const FAR = 3;

/** A body's charges as points: x, y, z and A·m over 4π. */
interface Points {
  readonly at: Float64Array;
  readonly charge: readonly Float64Array[];
}

/** The same of a pole seen from afar, beyond `reach` of its axis at (x, y), m; a bar is always near. */
interface BodyPoints {
  readonly x: number;
  readonly y: number;
  readonly reach: number;
  readonly near: Points;
  readonly far: Points;
}

/** One set of charges for each of the densities, at the same points. */
function chargePoints(coupling: Coupling, densities: readonly Float64Array[]): readonly BodyPoints[] {
  return coupling.bodies.map((body, b) => {
    const near = pointsOfBody(coupling, b, densities, false);
    if (body.kind === 'box') return { x: 0, y: 0, reach: Infinity, near, far: near };
    const far = pointsOfBody(coupling, b, densities, true);
    return { x: body.x, y: body.y, reach: FAR * body.mesh.radius, near, far };
  });
}

function pointsOfBody(
  coupling: Coupling,
  b: number,
  densities: readonly Float64Array[],
  fromAfar: boolean,
): Points {
  const at: number[] = [];
  const charge: number[][] = densities.map(() => []);
  const scale = 1 / (4 * Math.PI);
  const body = coupling.bodies[b]!;
  const from = coupling.offsets[b]!;
  const { n } = body.mesh;
  const ends = body.kind === 'ring' && [Math.min(...body.mesh.nodeZ), Math.max(...body.mesh.nodeZ)];
  for (let i = 0; i < n; i++) {
    if (body.kind === 'box') {
      const { centre, area } = body.mesh;
      at.push(body.x + centre[3 * i]!, body.y + centre[3 * i + 1]!, body.z + centre[3 * i + 2]!);
      densities.forEach((density, set) => charge[set]!.push(scale * area[i]! * density[from + i]!));
      continue;
    }
    // One point across a panel: there its slope does not count.
    const { r, z, weight } = panelPoints(body.mesh, i, 1, false);
    const [lowest, highest] = ends as [number, number];
    const atEnd = Math.min(z[0]! - lowest, highest - z[0]!) < END;
    const around = atEnd && !fromAfar ? AROUND_END : AROUND;
    for (let k = 0; k < around; k++) {
      const angle = (2 * Math.PI * (k + 0.5)) / around;
      const c = Math.cos(angle);
      const s = Math.sin(angle);
      at.push(body.x + r[0]! * c, body.y + r[0]! * s, body.z + z[0]!);
      densities.forEach((density, set) => {
        const [even, along, across] = [0, 1, 2].map((mode) => density[from + mode * n + i]!);
        charge[set]!.push(((scale * weight[0]!) / around) * (even! + along! * c + across! * s));
      });
    }
  }
  return { at: Float64Array.from(at), charge: charge.map((values) => Float64Array.from(values)) };
}

/** Flux of the charges that one ampere-turn makes on the cores, Wb/A, for each of the densities. */
export function coreFlux(
  plates: Plates,
  shapes: readonly PlateShape[],
  coupling: Coupling,
  densities: readonly Float64Array[],
): readonly Float64Array[] {
  const points = chargePoints(coupling, densities);
  const inHole = holePanels(plates);
  const fields: NormalFields = (...where) => pointFields(points, ...where);
  const all = fluxOn(plates, densities.length, fields, inHole);
  const B = new Float64Array(densities.length);
  return all.map((flux, s) => {
    const field: NormalField = (...where) => {
      fields(...where, B);
      return B[s]!;
    };
    shapes.forEach((shape, plate) => {
      for (const hole of shape.holes) {
        const unknown = unknownOf(plates, plate, hole, shape.top);
        flux[unknown] = flux[unknown]! + throughHole(coupling.bodies, field, shape, hole);
      }
    });
    return flux;
  });
}

/** B·n at a point from each set of charges, one or two; T. */
function pointFields(
  bodies: readonly BodyPoints[],
  x: number,
  y: number,
  z: number,
  nx: number,
  ny: number,
  nz: number,
  out: Float64Array,
): void {
  out.fill(0);
  for (const body of bodies) {
    const aside = (x - body.x) ** 2 + (y - body.y) ** 2;
    addPointFields(aside > body.reach ** 2 ? body.far : body.near, x, y, z, nx, ny, nz, out);
  }
}

function addPointFields(
  { at, charge }: Points,
  x: number,
  y: number,
  z: number,
  nx: number,
  ny: number,
  nz: number,
  out: Float64Array,
): void {
  // A set that is missing is summed as the first one over again: one loop for both.
  const first = charge[0]!;
  const second = charge[charge.length - 1]!;
  let a = 0;
  let b = 0;
  for (let p = 0, i = 0; p < first.length; p++, i += 3) {
    const dx = x - at[i]!;
    const dy = y - at[i + 1]!;
    const dz = z - at[i + 2]!;
    const i2 = 1 / (dx * dx + dy * dy + dz * dz);
    const along = i2 * Math.sqrt(i2) * (dx * nx + dy * ny + dz * nz);
    a += first[p]! * along;
    b += second[p]! * along;
  }
  out[0] = out[0]! + MU0 * a;
  if (charge.length > 1) out[1] = out[1]! + MU0 * b;
}

/** Panels whose corners are all one unknown. */
function holePanels({ mesh }: Plates): Uint8Array {
  return Uint8Array.from({ length: mesh.panelCount }, (_, p) => {
    const own = [0, 1, 2, 3].map((c) => unknownAt(mesh, p, c));
    return own[0]! >= 0 && own.every((unknown) => unknown === own[0]) ? 1 : 0;
  });
}

function unknownOf({ mesh }: Plates, plate: number, { x, y }: PlateHole, z: number): number {
  let found = -1;
  let least = Infinity;
  for (let p = 0; p < mesh.panelCount; p++) {
    if (mesh.plate[p] !== plate) continue;
    for (let c = 0; c < 4; c++) {
      const node = mesh.panels[4 * p + c]!;
      if (Math.abs(mesh.z[node]! - z) > 1e-9) continue;
      const away = Math.hypot(mesh.x[node]! - x, mesh.y[node]! - y);
      if (away < least) {
        least = away;
        found = mesh.unknown[node]!;
      }
    }
  }
  return found;
}

/** A moving string as dipoles: places, moments, and what a movement upwards changes in the moments, A·m² and A·m. */
export interface StringSource {
  readonly count: number;
  /** x, y, z each. */
  readonly at: Float64Array;
  readonly moment: Float64Array;
  readonly change: Float64Array;
}

/** Spacing of the dipoles within this distance of the middle, and beyond it, m. */
const CLOSE = { step: 1.5e-3, reach: 24e-3 };
const WIDE_STEP = 7e-3;

/**
 * @param line the string; its moments per length and their change are given at its samples, along it, across it and up
 */
export function stringSource(
  line: Line,
  x: Float64Array,
  moment: readonly [Float64Array, Float64Array, Float64Array],
  change: readonly [Float64Array, Float64Array, Float64Array],
): StringSource {
  const places: number[] = [];
  for (let at = x[0]!; ; at += Math.abs(at) < CLOSE.reach ? CLOSE.step : WIDE_STEP) {
    places.push(at);
    if (at >= x[x.length - 1]!) break;
  }
  const count = places.length;
  const c = Math.cos(line.turn);
  const s = Math.sin(line.turn);
  const out = {
    count,
    at: new Float64Array(3 * count),
    moment: new Float64Array(3 * count),
    change: new Float64Array(3 * count),
  };
  places.forEach((at, k) => {
    out.at.set([at * c - line.y * s, at * s + line.y * c, line.z], 3 * k);
  });
  const step = x[1]! - x[0]!;
  // Each sample goes to its two neighbours, so that sum and first moment stay.
  let k = 0;
  for (let i = 0; i < x.length; i++) {
    while (k + 2 < count && places[k + 1]! < x[i]!) k++;
    const t = (x[i]! - places[k]!) / (places[k + 1]! - places[k]!);
    for (const [from, to] of [
      [moment, out.moment],
      [change, out.change],
    ] as const) {
      const [a, b, up] = [from[0][i]!, from[1][i]!, from[2][i]!];
      const turned = [a * c - b * s, a * s + b * c, up];
      for (let j = 0; j < 3; j++) {
        to[3 * k + j] = to[3 * k + j]! + (1 - t) * step * turned[j]!;
        to[3 * k + 3 + j] = to[3 * k + 3 + j]! + t * step * turned[j]!;
      }
    }
  }
  return out;
}

/** Nearer than this, in sizes of a panel, many points stand for it, farther than that its middle, otherwise four. */
const MANY_WITHIN = 1.2;
const ONE_BEYOND = 10;
const MANY = gaussLegendre(6);

/** Points of a panel: x, y, z and the four corners' shares with the weight in them, 7 numbers each. */
type PointList = Float64Array;
const POINT = 7;

interface PanelPointLists {
  readonly one: PointList[];
  readonly four: PointList[];
  readonly many: (PointList | null)[];
}

/** Points of the panels of the last plates; many of a panel are only made where a string comes close. */
const pointsKept = new WeakMap<Panels, PanelPointLists>();

function pointsOf(panels: Panels): PanelPointLists {
  let points = pointsKept.get(panels);
  if (!points) {
    const four = Array.from({ length: panels.count }, (_, p) => fourPoints(panels, p));
    points = { one: four.map(middleOf), four, many: Array<PointList | null>(panels.count).fill(null) };
    pointsKept.set(panels, points);
  }
  return points;
}

/** Change of the flux through the hats of all unknowns as the string moves upwards, Wb/m: dipoles by reciprocity. */
export function stringFluxOn({ mesh, panels }: Plates, source: StringSource): Float64Array {
  const out = new Float64Array(mesh.unknowns);
  const { centre, size } = panels;
  const { one, four, many } = pointsOf(panels);
  const share = new Float64Array(4);
  for (let p = 0; p < panels.count; p++) {
    share.fill(0);
    const near2 = (MANY_WITHIN * size[p]!) ** 2;
    const far2 = (ONE_BEYOND * size[p]!) ** 2;
    for (let flip = 1; flip >= -1; flip -= 2) {
      for (let i = 0; i < source.count; i++) {
        const dx = source.at[3 * i]! - centre[3 * p]!;
        const dy = source.at[3 * i + 1]! - flip * centre[3 * p + 1]!;
        const dz = source.at[3 * i + 2]! - centre[3 * p + 2]!;
        const d2 = dx * dx + dy * dy + dz * dz;
        const points = d2 > far2 ? one[p]! : d2 > near2 ? four[p]! : (many[p] ??= manyPoints(panels, p));
        addDipole(source, i, points, panels.normal, 3 * p, flip, share);
      }
    }
    for (let c = 0; c < 4; c++) {
      const unknown = unknownAt(mesh, p, c);
      if (unknown >= 0) out[unknown] = out[unknown]! + share[c]!;
    }
  }
  return out;
}

/** The four that a panel has. */
function fourPoints({ point, weight }: Panels, p: number): PointList {
  return Float64Array.from(
    SHARES.flatMap((shares, g) => {
      const at = 12 * p + 3 * g;
      const w = weight[4 * p + g]!;
      return [point[at]!, point[at + 1]!, point[at + 2]!, ...shares.map((share) => w * share)];
    }),
  );
}

/** Their mean place, with all their shares. */
function middleOf(four: PointList): PointList {
  const middle = new Float64Array(POINT);
  let whole = 0;
  for (let k = 0; k < four.length; k += POINT) {
    const weight = four[k + 3]! + four[k + 4]! + four[k + 5]! + four[k + 6]!;
    whole += weight;
    for (let i = 0; i < 3; i++) middle[i] = middle[i]! + weight * four[k + i]!;
    for (let i = 3; i < POINT; i++) middle[i] = middle[i]! + four[k + i]!;
  }
  for (let i = 0; i < 3; i++) middle[i] = middle[i]! / whole;
  return middle;
}

/** Six by six, for what hangs closely over a panel. */
function manyPoints({ corner, area }: Panels, p: number): PointList {
  const points: number[][] = [];
  let sum = 0;
  MANY.x.forEach((u, i) =>
    MANY.x.forEach((v, j) => {
      const shares = cornerShares(0.5 + 0.5 * u, 0.5 + 0.5 * v);
      const at = [0, 1, 2].map((k) =>
        shares.reduce((total, share, c) => total + share * corner[12 * p + 3 * c + k]!, 0),
      );
      const w = MANY.w[i]! * MANY.w[j]! * stretch(corner, p, 0.5 + 0.5 * u, 0.5 + 0.5 * v);
      sum += w;
      points.push([...at, w, ...shares]);
    }),
  );
  return Float64Array.from(
    points.flatMap(([x, y, z, w, ...shares]) => [
      x!,
      y!,
      z!,
      ...shares.map((share) => (w! * area[p]! * share) / sum),
    ]),
  );
}

/** Adds µ0 [m·∂z h + m′·h] for each corner, h the field of unit dipoles along the normal at the points of a panel. */
function addDipole(
  { at, moment, change }: StringSource,
  i: number,
  points: PointList,
  normal: Float64Array,
  n: number,
  flip: number,
  share: Float64Array,
): void {
  const nx = normal[n]!;
  const ny = flip * normal[n + 1]!;
  const nz = normal[n + 2]!;
  const mx = moment[3 * i]!;
  const my = moment[3 * i + 1]!;
  const mz = moment[3 * i + 2]!;
  const bx = change[3 * i]!;
  const by = change[3 * i + 1]!;
  const bz = change[3 * i + 2]!;
  const mn = mx * nx + my * ny + mz * nz;
  const bn = bx * nx + by * ny + bz * nz;
  for (let k = 0; k < points.length; k += POINT) {
    const dx = at[3 * i]! - points[k]!;
    const dy = at[3 * i + 1]! - flip * points[k + 1]!;
    const dz = at[3 * i + 2]! - points[k + 2]!;
    const i2 = 1 / (dx * dx + dy * dy + dz * dz);
    const nd = nx * dx + ny * dy + nz * dz;
    const md = mx * dx + my * dy + mz * dz;
    const bd = bx * dx + by * dy + bz * dz;
    const inside = nz * md + nd * mz + dz * mn - 5 * i2 * nd * dz * md + nd * bd;
    const value = 1e-7 * i2 * Math.sqrt(i2) * (3 * i2 * inside - bn);
    share[0] = share[0]! + value * points[k + 3]!;
    share[1] = share[1]! + value * points[k + 4]!;
    share[2] = share[2]! + value * points[k + 5]!;
    share[3] = share[3]! + value * points[k + 6]!;
  }
}
