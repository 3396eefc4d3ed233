/**
 * A coil as sheets of current: layers that are wound evenly over the window's whole height. What steel close to the wire needs:
 * a few filaments along a tall coil are ripples to it that no mesh follows, a sheet is smooth.
 *
 * A sheet has the field of what it encloses, magnetised upwards by one ampere-turn over its height: charges on the two ends, and the
 * magnetisation itself inside.
 */
import type { Vector } from '../../numerics/vector.ts';
import type { Filaments, WindingWindow } from './winding.ts';

/** Layers as closed polygons, one like the other at every height; m. */
export interface CurrentSheets {
  readonly window: WindingWindow;
  readonly layers: number;
  readonly corners: number;
  /** x, y of every corner of every layer, anticlockwise seen from above. */
  readonly at: Float64Array;
  /** Of the edge that ends in every corner: its direction x, y and its length. */
  readonly edge: Float64Array;
  /** Share of the ampere-turn that each layer carries; they sum to 1. */
  readonly share: Float64Array;
}

const known = new WeakMap<Filaments, CurrentSheets>();

/** The layers of a coil that is given as filaments: those of its lowest level. */
export function sheetsOf(coil: Filaments): CurrentSheets {
  let sheets = known.get(coil);
  if (!sheets) {
    sheets = layersOf(coil);
    known.set(coil, sheets);
  }
  return sheets;
}

function layersOf({ window, count, corners, at, z, share }: Filaments): CurrentSheets {
  let layers = 1;
  while (layers < count && z[layers] === z[0]) layers++;
  const whole = share.subarray(0, layers).reduce((sum, part) => sum + part, 0);
  const edge = new Float64Array(3 * layers * corners);
  for (let l = 0; l < layers; l++) {
    for (let k = 0; k < corners; k++) {
      const [to, from] = [l * corners + k, l * corners + ((k + corners - 1) % corners)];
      const dx = at[2 * to]! - at[2 * from]!;
      const dy = at[2 * to + 1]! - at[2 * from + 1]!;
      const length = Math.hypot(dx, dy);
      // A ring has no straight sides: where they would be, two corners are one.
      edge.set(length > 0 ? [dx / length, dy / length, length] : [1, 0, 0], 3 * to);
    }
  }
  return {
    window,
    layers,
    corners,
    at: at.slice(0, 2 * layers * corners),
    edge,
    share: Float64Array.from(share.subarray(0, layers), (part) => part / whole),
  };
}

/** Whether a vertical line at (x, y), m in the pickup's frame, runs through the coil's opening. */
export function threads(window: WindingWindow, x: number, y: number): boolean {
  const beyond = Math.max(0, Math.abs(y - window.y) - 0.5 * window.straight);
  return Math.hypot(x - window.x, beyond) < window.inner;
}

/** Of a layer's two ends, charges of ± 1 a square metre, times 4π: φ (m), Hx, Hy, Hz. */
const ends = new Float64Array(4);

/** An angle below this is rounding, rad. */
const ROUNDING = 1e-6;

/**
 * The angle that a layer's end takes up seen from a point, from its sine and cosine (of any size): up to half of all directions.
 * @param within whether the point all but lies on the end, where the angle is half of all directions or nothing
 */
function seen(re: number, im: number, within: boolean): number {
  const angle = Math.atan2(im, re);
  if (angle < -ROUNDING || (within && angle < 1)) return angle + 2 * Math.PI;
  return Math.max(0, angle);
}

/** Both ends of a layer, from a point at (x, y), m in the pickup's frame, and `up` over the upper end, `down` over the lower one. */
function layerEnds(
  sheets: CurrentSheets,
  layer: number,
  x: number,
  y: number,
  up: number,
  down: number,
): void {
  const { window, corners, at, edge } = sheets;
  const [up2, down2] = [up * up, down * down];
  const [upOff, downOff] = [Math.abs(up), Math.abs(down)];
  const first = layer * corners;
  let ax = at[2 * (first + corners - 1)]! - x;
  let ay = at[2 * (first + corners - 1) + 1]! - y;
  let plane = ax * ax + ay * ay;
  let a = Math.sqrt(plane + up2);
  let c = Math.sqrt(plane + down2);
  let [potential, hx, hy] = [0, 0, 0];
  // What the edges add to either angle, as complex numbers that are multiplied.
  let [re, im, reDown, imDown] = [1, 0, 1, 0];
  for (let k = 0; k < corners; k++) {
    const to = first + k;
    const bx = at[2 * to]! - x;
    const by = at[2 * to + 1]! - y;
    plane = bx * bx + by * by;
    const b = Math.sqrt(plane + up2);
    const d = Math.sqrt(plane + down2);
    const length = edge[3 * to + 2]!;
    if (length > 0) {
      const tx = edge[3 * to]!;
      const ty = edge[3 * to + 1]!;
      // Outwards of an anticlockwise edge: (ty, −tx).
      const p = ax * ty - ay * tx;
      const p2 = p * p;
      const sa = ax * tx + ay * ty;
      const sb = bx * tx + by * ty;
      const log = Math.log(((a + b + length) * (c + d - length)) / ((a + b - length) * (c + d + length)));
      hx += ty * log;
      hy -= tx * log;
      potential += p * log;
      const [ra, rb] = [p2 + up2 + upOff * a, p2 + up2 + upOff * b];
      const [rc, rd] = [p2 + down2 + downOff * c, p2 + down2 + downOff * d];
      const ss = p2 * sa * sb;
      let [u, v] = [ra * rb + ss, p * (sb * ra - sa * rb)];
      let scale = 1 / (Math.abs(u) + Math.abs(v));
      let turned = (re * u - im * v) * scale;
      im = (re * v + im * u) * scale;
      re = turned;
      [u, v] = [rc * rd + ss, p * (sb * rc - sa * rd)];
      scale = 1 / (Math.abs(u) + Math.abs(v));
      turned = (reDown * u - imDown * v) * scale;
      imDown = (reDown * v + imDown * u) * scale;
      reDown = turned;
    }
    ax = bx;
    ay = by;
    a = b;
    c = d;
  }
  const inside = threads(window, x, y);
  const near = 0.1 * window.inner;
  const upper = seen(re, im, inside && upOff < near);
  const lower = seen(reDown, imDown, inside && downOff < near);
  ends[0] = potential - upOff * upper + downOff * lower;
  ends[1] = hx;
  ends[2] = hy;
  ends[3] = (up >= 0 ? upper : -upper) - (down >= 0 ? lower : -lower);
}

/**
 * H of the coil in air, A/m per ampere-turn, in its opening or outside it.
 * Source: equivalent magnetisation, [Jackson1999] § 5.10; charged polygons, [Wilton1984] eqs. 5 and 6.
 * Digits: 1e-12 off the edges of a sheet; filaments without number agree (tests).
 */
export function sheetField(sheets: CurrentSheets, x: number, y: number, z: number, out: Vector): void {
  const { window, layers, share } = sheets;
  const height = window.top - window.bottom;
  out.x = 0;
  out.y = 0;
  out.z = 0;
  for (let l = 0; l < layers; l++) {
    const part = share[l]! / (4 * Math.PI * height);
    layerEnds(sheets, l, x, y, z - window.top, z - window.bottom);
    out.x += part * ends[1]!;
    out.y += part * ends[2]!;
    out.z += part * ends[3]!;
  }
  if (z < window.top && z >= window.bottom && threads(window, x, y)) out.z += 1 / height;
}

/**
 * Scalar potential ψ (H = −∇ψ) per ampere-turn in air, in the coil's opening or outside it.
 *
 * @param threaded whether the body at hand runs through the coil. ψ is then continuous inside the coil instead of outside it
 * Source and digits as sheetField.
 */
export function sheetPotential(
  sheets: CurrentSheets,
  x: number,
  y: number,
  z: number,
  threaded: boolean,
): number {
  const { window, layers, share } = sheets;
  const height = window.top - window.bottom;
  let sum = threaded ? Math.min(1, Math.max(0, (window.top - z) / height)) : 0;
  for (let l = 0; l < layers; l++) {
    layerEnds(sheets, l, x, y, z - window.top, z - window.bottom);
    sum += (share[l]! / (4 * Math.PI * height)) * ends[0]!;
  }
  return sum;
}
