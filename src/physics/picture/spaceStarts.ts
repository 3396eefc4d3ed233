/** Where flux lines in space leave the bodies: each stands for an equal share of flux, so that lines are dense where B is strong. */
import type { Body, BoxBody, RingBody } from '../magnetics/bodies/body.ts';
import type { RingMesh } from '../magnetics/bodies/ringMesh.ts';
import { insideOf, type Solid } from '../../shape/solid.ts';
import type { Vector } from '../numerics/vector.ts';
import type { FieldAt } from './trace.ts';

/** Lines start on a surface this far outside the bodies, round about their edges, where single panels don't show; m. */
const OFF = 1.5e-4;
/** Where normals turn by less than this from one panel to the next, rad, there is no edge. */
const EDGE = 0.02;
/** Flux that meets another body within this goes from metal to metal, and no line is drawn for it; m. */
const GAP = 6e-4;
/** Samples round a pole, and the longest edge of one on a box, m. */
const SECTORS = 20;
const CELL = 1.5e-3;
/** From one start to the next the place across the rows goes on by this share of what they measure: no rings form. */
const GOLDEN = 0.5 * (Math.sqrt(5) - 1);

/** A piece of such a surface: its place, and the flux that leaves there, Wb; below 0 where it enters. */
export interface SurfaceSample extends Readonly<Vector> {
  readonly flux: number;
}

/** Samples side by side, and what they measure across, m, and all together, m². */
interface Row {
  readonly samples: readonly SurfaceSample[];
  readonly width: number;
  readonly area: number;
}

/** A surface as rows that follow each other; `closed`: each goes round. */
interface Face {
  readonly rows: readonly Row[];
  readonly closed: boolean;
}

/** What leaves every body into the air, row by row; fluxes in Wb. */
export interface LeavingFlux {
  readonly faces: readonly Face[];
  /** Of all that leaves, Wb. */
  readonly total: number;
}

/**
 * The flux through surfaces OFF outside the bodies, Wb, by samples.
 *
 * @param bodies with the solids that they are, both in the same order
 * @param field B, T
 */
export function leavingFlux(bodies: readonly Body[], solids: readonly Solid[], field: FieldAt): LeavingFlux {
  const insides = solids.map(insideOf);
  const b: Vector = { x: 0, y: 0, z: 0 };
  const sampleOf =
    (own: number): Sampler =>
    (x, y, z, nx, ny, nz, area) => {
      const at = { x: x + OFF * nx, y: y + OFF * ny, z: z + OFF * nz };
      const [gx, gy, gz] = [x + GAP * nx, y + GAP * ny, z + GAP * nz];
      const metal = insides.some(
        (inside, i) => i !== own && (inside(at.x, at.y, at.z) || inside(gx, gy, gz)),
      );
      if (metal) return { ...at, flux: 0 };
      b.x = 0;
      b.y = 0;
      b.z = 0;
      field(at.x, at.y, at.z, b);
      return { ...at, flux: (b.x * nx + b.y * ny + b.z * nz) * area };
    };
  const faces = bodies.flatMap((body, i) =>
    body.kind === 'ring' ? [roundFace(body, sampleOf(i))] : boxFaces(body, sampleOf(i)),
  );
  let total = 0;
  for (const { rows } of faces) for (const row of rows) total += leaving(row.samples);
  return { faces, total };
}

/** Place on the body, outward normal, area that it stands for OFF outside. */
type Sampler = (
  x: number,
  y: number,
  z: number,
  nx: number,
  ny: number,
  nz: number,
  area: number,
) => SurfaceSample;

/** From the middle of the top down to the middle of the bottom. */
function roundFace({ mesh, x, y, z }: RingBody, sample: Sampler): Face {
  const rows: Row[] = [];
  const row = (r: number, up: number, nr: number, nz: number, width: number): void => {
    const area = 2 * Math.PI * (r + OFF * nr) * width;
    const samples = Array.from({ length: SECTORS }, (_, k) => {
      const angle = ((k + 0.5) / SECTORS) * 2 * Math.PI;
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      return sample(x + r * c, y + r * s, z + up, nr * c, nr * s, nz, area / SECTORS);
    });
    rows.push({ samples, width, area });
  };
  for (let j = mesh.n - 1; j >= 0; j--) {
    const r = 0.5 * (mesh.nodeR[j]! + mesh.nodeR[j + 1]!);
    row(r, 0.5 * (mesh.nodeZ[j]! + mesh.nodeZ[j + 1]!), mesh.normalR[j]!, mesh.normalZ[j]!, mesh.length[j]!);
    if (j === 0) continue;
    // About a convex edge: further down the normal points more outwards, and then downwards.
    const turn = turnAt(mesh, j);
    if (turn < EDGE) continue;
    const pieces = Math.ceil(turn / (0.25 * Math.PI));
    const from = Math.atan2(mesh.normalZ[j]!, mesh.normalR[j]!);
    for (let i = 0; i < pieces; i++) {
      const angle = from - ((i + 0.5) / pieces) * turn;
      row(mesh.nodeR[j]!, mesh.nodeZ[j]!, Math.cos(angle), Math.sin(angle), (OFF * turn) / pieces);
    }
  }
  return { rows, closed: true };
}

/** By how much the outward normal turns at node j of a mesh, m apart or not, rad; above 0 about a convex edge. */
function turnAt({ normalR, normalZ }: RingMesh, j: number): number {
  const [r1, z1, r2, z2] = [normalR[j]!, normalZ[j]!, normalR[j - 1]!, normalZ[j - 1]!];
  return Math.atan2(z1 * r2 - r1 * z2, r1 * r2 + z1 * z2);
}

const AXES = ['x', 'y', 'z'] as const;

/** Rows run along the longer edge. */
function boxFaces({ mesh: { size }, ...centre }: BoxBody, sample: Sampler): readonly Face[] {
  return AXES.flatMap((normal) => {
    const [a, c] = AXES.filter((axis) => axis !== normal) as ['x' | 'y', 'y' | 'z'];
    const [along, across] = size[a] > size[c] ? [a, c] : [c, a];
    const us = cells(size[along]);
    const vs = cells(size[across]);
    return [1, -1].map((side): Face => {
      const rows = vs.map((v): Row => {
        const samples = us.map((u) => {
          const at = { x: centre.x, y: centre.y, z: centre.z };
          at[normal] += 0.5 * side * size[normal];
          at[along] += u.place;
          at[across] += v.place;
          const n = { x: 0, y: 0, z: 0 };
          const level = Math.sqrt(1 - u.lean * u.lean - v.lean * v.lean);
          n[normal] = side * level;
          n[along] = u.lean;
          n[across] = v.lean;
          return sample(at.x, at.y, at.z, n.x, n.y, n.z, u.width * v.width);
        });
        return { samples, width: v.width, area: v.width * us.reduce((sum, { width }) => sum + width, 0) };
      });
      return { rows, closed: false };
    });
  });
}

/** Of an edge cut into cells: their middle, their width, and how far their normal leans outwards; about both ends half the bend. */
function cells(
  edge: number,
): readonly { readonly place: number; readonly width: number; readonly lean: number }[] {
  const count = Math.max(1, Math.ceil(edge / CELL));
  const flat = Array.from({ length: count }, (_, i) => ({
    place: ((i + 0.5) / count - 0.5) * edge,
    width: edge / count,
    lean: 0,
  }));
  const bend = (side: 1 | -1) => ({
    place: 0.5 * side * edge,
    width: (OFF * Math.PI) / 4,
    lean: side * Math.sin(Math.PI / 8),
  });
  return [bend(-1), ...flat, bend(1)];
}

const leaving = (samples: readonly SurfaceSample[]): number =>
  samples.reduce((sum, { flux }) => sum + Math.max(0, flux), 0);

/**
 * Starts, m, one for every `share` of flux (Wb) that leaves: rows are taken together until they are as wide as their starts stand
 * apart; along them the starts divide the flux evenly, and across them they lie as the multiples of the golden section do. What
 * is left over goes on to the next.
 */
export function startsFor({ faces }: Pick<LeavingFlux, 'faces'>, share: number): readonly Readonly<Vector>[] {
  const starts: Vector[] = [];
  let left = 0;
  for (const { rows, closed } of faces) {
    let from = 0;
    let [width, area, flux] = [0, 0, 0];
    rows.forEach((row, i) => {
      width += row.width;
      area += row.area;
      flux += leaving(row.samples);
      const last = i === rows.length - 1;
      if (!last && (flux <= 0 || width * width * flux < share * area)) return;
      const wanted = flux / share + left;
      const count = Math.max(0, Math.round(wanted));
      left = wanted - count;
      if (count > 0) {
        const turn = closed ? (starts.length * GOLDEN) % 1 : 0.5;
        starts.push(...dividing(rows.slice(from, i + 1), count, turn, starts.length));
      }
      from = i + 1;
      [width, area, flux] = [0, 0, 0];
    });
  }
  return starts;
}

/** So many places that divide the flux of some rows evenly, the first after this share of a part; `had`: how many there are. */
function dividing(rows: readonly Row[], count: number, first: number, had: number): Vector[] {
  const columns = rows[0]!.samples.map((_, k) => rows.map(({ samples }) => samples[k]!));
  const fluxes = columns.map(leaving);
  const all = fluxes.reduce((a, c) => a + c, 0);
  const found: Vector[] = [];
  let passed = 0;
  let next = first > 0 ? first : Number.EPSILON;
  fluxes.forEach((flux, k) => {
    while (flux > 0 && found.length < count && passed + flux >= (next / count) * all) {
      const t = ((next / count) * all - passed) / flux;
      found.push(between(columns, k, t, (0.5 + (had + found.length) * GOLDEN) % 1));
      next++;
    }
    passed += flux;
  });
  return found;
}

/** In column k at these shares of its width, and of its flux from row to row. */
function between(columns: readonly (readonly SurfaceSample[])[], k: number, t: number, q: number): Vector {
  const column = columns[k]!;
  const wanted = q * leaving(column);
  let passed = 0;
  let at = column.findIndex(({ flux }) => (passed += Math.max(0, flux)) >= wanted && flux > 0);
  if (at < 0) at = column.length - 1;
  const here = column[at]!;
  // Towards the neighbour on that side, as far as it belongs to the same row and is on the same side of the body.
  const beside = columns[t < 0.5 ? k - 1 : k + 1]?.[at];
  if (!beside || !(beside.flux > 0)) return { x: here.x, y: here.y, z: here.z };
  const by = Math.abs(t - 0.5);
  return {
    x: here.x + by * (beside.x - here.x),
    y: here.y + by * (beside.y - here.y),
    z: here.z + by * (beside.z - here.z),
  };
}
