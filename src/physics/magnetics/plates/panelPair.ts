/** ∬ 1/r between flat panels, which is all that the inductance of thin plates needs. */
import type { PlateMesh } from './plateMesh.ts';

/** Panels of a mesh, prepared: corners, centres, sizes and points. */
export interface Panels {
  readonly count: number;
  /** x, y, z of four corners each, m, in the sense in which they run round the normal. */
  readonly corner: Float64Array;
  readonly centre: Float64Array;
  readonly normal: Float64Array;
  readonly area: Float64Array;
  /** Longest diagonal, m. */
  readonly size: Float64Array;
  /** Four points each, x, y, z, with the weights that add up to the area. */
  readonly point: Float64Array;
  readonly weight: Float64Array;
}

/** Gauss points of two on [0, 1]. */
const LOW = 0.5 - 0.5 / Math.sqrt(3);
/** Gauss points of two by two on the unit square, (u, v) in the order of the corners; of equal weight. */
export const GAUSS: readonly (readonly [number, number])[] = [
  [LOW, LOW],
  [1 - LOW, LOW],
  [1 - LOW, 1 - LOW],
  [LOW, 1 - LOW],
];

/** Shares of the four corners at (u, v) of a panel's own square. */
export const cornerShares = (u: number, v: number): readonly [number, number, number, number] => [
  (1 - u) * (1 - v),
  u * (1 - v),
  u * v,
  (1 - u) * v,
];

/**
 * Prepares the panels of a mesh for panelPair; none of them may be without area.
 *
 * @returns lengths in m, areas and weights in m²; normals by the right-hand rule round the corners
 */
export function panelsOf({ panelCount, panels, x, y, z }: PlateMesh): Panels {
  const out: Panels = {
    count: panelCount,
    corner: new Float64Array(12 * panelCount),
    centre: new Float64Array(3 * panelCount),
    normal: new Float64Array(3 * panelCount),
    area: new Float64Array(panelCount),
    size: new Float64Array(panelCount),
    point: new Float64Array(12 * panelCount),
    weight: new Float64Array(4 * panelCount),
  };
  for (let p = 0; p < panelCount; p++) {
    for (let c = 0; c < 4; c++) {
      const node = panels[4 * p + c]!;
      out.corner.set([x[node]!, y[node]!, z[node]!], 12 * p + 3 * c);
    }
    describe(out, p);
  }
  return out;
}

function describe(out: Panels, p: number): void {
  const at = (c: number, k: number): number => out.corner[12 * p + 3 * c + k]!;
  // Half the cross product of the diagonals is the area with its direction, for triangles as well.
  const d = [0, 1, 2].map((k) => at(2, k) - at(0, k));
  const e = [0, 1, 2].map((k) => at(3, k) - at(1, k));
  const n = [0, 1, 2].map((k) => {
    const i = (k + 1) % 3;
    const j = (k + 2) % 3;
    return 0.5 * (d[i]! * e[j]! - d[j]! * e[i]!);
  });
  const area = Math.hypot(...n);
  out.area[p] = area;
  out.size[p] = Math.max(Math.hypot(...d), Math.hypot(...e));
  for (let k = 0; k < 3; k++) out.normal[3 * p + k] = n[k]! / area;
  let sum = 0;
  GAUSS.forEach(([u, v], g) => {
    const shares = cornerShares(u, v);
    for (let k = 0; k < 3; k++) {
      out.point[12 * p + 3 * g + k] = shares.reduce((total, share, c) => total + share * at(c, k), 0);
    }
    out.weight[4 * p + g] = stretch(out.corner, p, u, v);
    sum += out.weight[4 * p + g]!;
  });
  for (let g = 0; g < 4; g++) {
    const weight = (out.weight[4 * p + g]! * area) / sum;
    out.weight[4 * p + g] = weight;
    for (let k = 0; k < 3; k++) {
      const to = 3 * p + k;
      out.centre[to] = out.centre[to]! + (weight / area) * out.point[12 * p + 3 * g + k]!;
    }
  }
}

/** Area of panel p for each of its own square's at (u, v), m². */
export function stretch(corner: Float64Array, p: number, u: number, v: number): number {
  const at = (c: number, k: number): number => corner[12 * p + 3 * c + k]!;
  const du = [0, 1, 2].map((k) => (1 - v) * (at(1, k) - at(0, k)) + v * (at(2, k) - at(3, k)));
  const dv = [0, 1, 2].map((k) => (1 - u) * (at(3, k) - at(0, k)) + u * (at(2, k) - at(1, k)));
  return Math.hypot(
    du[1]! * dv[2]! - du[2]! * dv[1]!,
    du[2]! * dv[0]! - du[0]! * dv[2]!,
    du[0]! * dv[1]! - du[1]! * dv[0]!,
  );
}

/**
 * ∫ dS/r over panel p as seen from a point, m.
 *
 * @param flip −1 for the panel's image across y = 0
 * Source: potential of a uniformly charged polygon, [Wilton1984] eq. 5. Digits: 1e-12.
 */
export function panelPotential(
  { corner, normal }: Panels,
  p: number,
  flip: 1 | -1,
  x: number,
  y: number,
  z: number,
): number {
  const nx = normal[3 * p]!;
  const ny = flip * normal[3 * p + 1]!;
  const nz = normal[3 * p + 2]!;
  const base = 12 * p;
  let ax = corner[base + 9]! - x;
  let ay = flip * corner[base + 10]! - y;
  let az = corner[base + 11]! - z;
  let a = Math.sqrt(ax * ax + ay * ay + az * az);
  const d = Math.abs(ax * nx + ay * ny + az * nz);
  let sum = 0;
  for (let c = 0; c < 4; c++) {
    const bx = corner[base + 3 * c]! - x;
    const by = flip * corner[base + 3 * c + 1]! - y;
    const bz = corner[base + 3 * c + 2]! - z;
    const b = Math.sqrt(bx * bx + by * by + bz * bz);
    const lx = bx - ax;
    const ly = by - ay;
    const lz = bz - az;
    const length = Math.sqrt(lx * lx + ly * ly + lz * lz);
    if (length > 0) {
      const i = 1 / length;
      // In the plane, outwards from the edge: its direction times the normal; an image runs the other way round.
      const out = flip * i * (ax * (ly * nz - lz * ny) + ay * (lz * nx - lx * nz) + az * (lx * ny - ly * nx));
      const from = i * (ax * lx + ay * ly + az * lz);
      const to = i * (bx * lx + by * ly + bz * lz);
      const near2 = out * out + d * d;
      if (near2 > 1e-24 * length * length) {
        // The form without cancellation on either side of the foot.
        const log = from + to >= 0 ? Math.log((b + to) / (a + from)) : Math.log((a - from) / (b - to));
        sum += out * log;
        if (d > 0) {
          sum -= d * (Math.atan2(out * to, near2 + d * b) - Math.atan2(out * from, near2 + d * a));
        }
      }
    }
    ax = bx;
    ay = by;
    az = bz;
    a = b;
  }
  return sum;
}

/** Distances, in mean sizes of two panels, up to which potentials and then four points each are used. */
const NEAR = 1.3;
const MIDDLE = 3;

/** ∬ dS dS'/r of two panels, or of one and the image of the other, m³. */
export function panelPair(panels: Panels, p: number, q: number, flip: 1 | -1): number {
  const { centre, area, size, point, weight } = panels;
  const dx = centre[3 * p]! - centre[3 * q]!;
  const dy = centre[3 * p + 1]! - flip * centre[3 * q + 1]!;
  const dz = centre[3 * p + 2]! - centre[3 * q + 2]!;
  const r = Math.sqrt(dx * dx + dy * dy + dz * dz);
  const mean = 0.5 * (size[p]! + size[q]!);
  if (r > MIDDLE * mean) return (area[p]! * area[q]!) / r;
  if (r > NEAR * mean) {
    let sum = 0;
    for (let i = 12 * p, wi = 4 * p; i < 12 * p + 12; i += 3, wi++) {
      for (let j = 12 * q, wj = 4 * q; j < 12 * q + 12; j += 3, wj++) {
        const ux = point[i]! - point[j]!;
        const uy = point[i + 1]! - flip * point[j + 1]!;
        const uz = point[i + 2]! - point[j + 2]!;
        sum += (weight[wi]! * weight[wj]!) / Math.sqrt(ux * ux + uy * uy + uz * uz);
      }
    }
    return sum;
  }
  if (p === q) return seen(panels, p, q, flip);
  return 0.5 * (seen(panels, p, q, flip) + seen(panels, q, p, flip));
}

/** Potential of q (or its image) at the points of p. */
function seen(panels: Panels, p: number, q: number, flip: 1 | -1): number {
  const { point, weight } = panels;
  let sum = 0;
  for (let i = 12 * p, w = 4 * p; i < 12 * p + 12; i += 3, w++) {
    sum += weight[w]! * panelPotential(panels, q, flip, point[i]!, point[i + 1]!, point[i + 2]!);
  }
  return sum;
}
