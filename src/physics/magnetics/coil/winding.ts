/** A coil as a grid of filaments: field, gradient and scalar potential for one ampere-turn. */
import { gaussLegendre } from '../../numerics/quadrature.ts';
import type { Rule } from '../../numerics/quadrature.ts';
import type { Vector } from '../../numerics/vector.ts';

/**
 * The window that the wire fills: a racetrack of two straight sides and two half circles, or a ring when `straight`
 * is 0. Metres.
 */
export interface WindingWindow {
  readonly x: number;
  readonly y: number;
  /** Length of the straight sides, along y. */
  readonly straight: number;
  /** From the centre line to the innermost and the outermost turn. */
  readonly inner: number;
  readonly outer: number;
  readonly bottom: number;
  readonly top: number;
}

/** A winding as closed thin wires; m. Values that stand once a filament come in its order. */
export interface Filaments {
  readonly window: WindingWindow;
  /** Filaments, each a closed polygon of `corners` corners that runs anticlockwise seen from above. */
  readonly count: number;
  readonly corners: number;
  /** x, y of every corner of every filament. */
  readonly at: Float64Array;
  readonly radius: Float64Array;
  readonly z: Float64Array;
  /** Share of the ampere-turn that each filament carries; they sum to 1. */
  readonly share: Float64Array;
  /** Size of a filament's cell, radial and axial, m. */
  readonly cell: { readonly width: number; readonly height: number };
}

/**
 * Cells of the inductance: as many as the usual winding needs, more along a tall one, so that none is tall against the coil's radius,
 * and fewer across a thin one, so that none is thin against its height.
 */
function cellsOf({ inner, outer, top, bottom }: WindingWindow): readonly [radial: number, axial: number] {
  const height = top - bottom;
  const along = (share: number): number =>
    Math.min(MOST_AXIAL, Math.max(6, Math.ceil(height / (share * inner))));
  const axial = along(0.7);
  const radial = Math.min(4, Math.floor((2 * axial * (outer - inner)) / height));
  return radial > 1 ? [radial, axial] : [1, along(0.2)];
}

/** A coil of 0.5 mm of radius and 30 mm of height has so many. */
const MOST_AXIAL = 80;

/**
 * Equal cells with a filament in the middle of each, as the inductance needs them.
 *
 * @param radial axial numbers of filaments across and along the window; by its proportions where none is given
 * @param arc straight pieces a half circle
 * @throws RangeError when the window is empty
 */
export function cellFilaments(
  window: WindingWindow,
  radial = cellsOf(window)[0],
  axial = cellsOf(window)[1],
  arc = 12,
): Filaments {
  return build(window, midpoints(radial), midpoints(axial), arc);
}

/** Filaments at Gauss points, as the field outside the window needs them. Arguments as for cellFilaments. */
export function fieldFilaments(window: WindingWindow, radial = 2, axial = 3, arc = 12): Filaments {
  return build(window, gaussLegendre(radial), gaussLegendre(axial), arc);
}

function midpoints(count: number): Rule {
  return {
    x: Float64Array.from({ length: count }, (_, k) => (2 * k + 1) / count - 1),
    w: new Float64Array(count).fill(2 / count),
  };
}

function build(window: WindingWindow, across: Rule, along: Rule, arc: number): Filaments {
  const radial = across.x.length;
  const axial = along.x.length;
  const width = window.outer - window.inner;
  const height = window.top - window.bottom;
  if (!(width > 0 && height > 0 && window.inner > 0 && window.straight >= 0)) {
    throw new RangeError(
      `A winding window must have room; got ${width} m by ${height} m around a radius of ${window.inner} m.`,
    );
  }
  const count = radial * axial;
  const corners = 2 * (arc + 1);
  const at = new Float64Array(2 * corners * count);
  const radius = new Float64Array(count);
  const z = new Float64Array(count);
  const share = new Float64Array(count);
  // Corners a little outside the circle, so that the polygon encloses the circle's area.
  const step = Math.PI / arc;
  const swell = Math.sqrt(step / Math.sin(step));
  for (let f = 0; f < count; f++) {
    const r = window.inner + 0.5 * width * (1 + across.x[f % radial]!);
    radius[f] = r;
    const level = Math.floor(f / radial);
    z[f] = window.bottom + 0.5 * height * (1 + along.x[level]!);
    share[f] = 0.25 * across.w[f % radial]! * along.w[level]!;
    for (let k = 0; k < corners; k++) {
      const end = k <= arc ? 0.5 : -0.5;
      const angle = k <= arc ? k * step : (k - 1) * step;
      at[2 * (f * corners + k)] = window.x + r * swell * Math.cos(angle);
      at[2 * (f * corners + k) + 1] = window.y + end * window.straight + r * swell * Math.sin(angle);
    }
  }
  return {
    window,
    count,
    corners,
    at,
    radius,
    z,
    share,
    cell: { width: width / radial, height: height / axial },
  };
}

/**
 * H (A/m per ampere-turn) of the coil in air.
 * Source: Biot–Savart for a straight piece, [HansonHirshman2002] eq. 9. Digits: 1e-12 away from the wire.
 */
export function coilField(coil: Filaments, x: number, y: number, z: number, out: Vector): void {
  const { count, corners, at } = coil;
  out.x = 0;
  out.y = 0;
  out.z = 0;
  for (let f = 0; f < count; f++) {
    let hx = 0;
    let hy = 0;
    let hz = 0;
    const share = coil.share[f]!;
    const az = coil.z[f]! - z;
    const az2 = az * az;
    const first = 2 * f * corners;
    let ax = at[first + 2 * corners - 2]! - x;
    let ay = at[first + 2 * corners - 1]! - y;
    let a = Math.sqrt(ax * ax + ay * ay + az2);
    for (let k = 0; k < corners; k++) {
      const bx = at[first + 2 * k]! - x;
      const by = at[first + 2 * k + 1]! - y;
      const b = Math.sqrt(bx * bx + by * by + az2);
      const ab = a * b;
      const s = (a + b) / (ab * (ab + ax * bx + ay * by + az2));
      const lx = bx - ax;
      const ly = by - ay;
      hx -= s * ly;
      hy += s * lx;
      hz += s * (ax * ly - ay * lx);
      ax = bx;
      ay = by;
      a = b;
    }
    // hx and hy of this filament still lack its height; it is the same for all its pieces.
    out.x += share * hx * az;
    out.y += share * hy * az;
    out.z += share * hz;
  }
  const scale = 1 / (4 * Math.PI);
  out.x *= scale;
  out.y *= scale;
  out.z *= scale;
}

/**
 * Field and gradient at once, A/m and A/m² per ampere-turn; adds to nothing, overwrites out:
 * out = [Hx, Hy, Hz, ∂zHx, ∂zHz, ∂yHz, ∂yHx, ∂yHy]; the rest follows from curl H = 0 and div H = 0.
 */
export function coilGradient(coil: Filaments, x: number, y: number, z: number, out: Float64Array): void {
  const { count, corners, at } = coil;
  out.fill(0, 0, 8);
  for (let f = 0; f < count; f++) {
    const az = coil.z[f]! - z;
    const share = coil.share[f]!;
    const first = 2 * f * corners;
    let ax = at[first + 2 * corners - 2]! - x;
    let ay = at[first + 2 * corners - 1]! - y;
    let a = Math.sqrt(ax * ax + ay * ay + az * az);
    for (let k = 0; k < corners; k++) {
      const bx = at[first + 2 * k]! - x;
      const by = at[first + 2 * k + 1]! - y;
      const b = Math.sqrt(bx * bx + by * by + az * az);
      const iD = 1 / (a * b + ax * bx + ay * by + az * az);
      const ia = 1 / a;
      const ib = 1 / b;
      const s = (ia + ib) * iD;
      const lx = bx - ax;
      const ly = by - ay;
      const ia3 = ia * ia * ia;
      const ib3 = ib * ib * ib;
      const ratioB = b * ia + 1;
      const ratioA = a * ib + 1;
      // Change of s as the point moves along y and along z.
      const sy = iD * (ay * ia3 + by * ib3 + s * (ay * ratioB + by * ratioA));
      const sz = iD * az * (ia3 + ib3 + s * (ratioB + ratioA));
      const turn = share * (ax * ly - ay * lx);
      const wx = share * lx;
      const wy = share * ly;
      out[0] = out[0]! - s * az * wy;
      out[1] = out[1]! + s * az * wx;
      out[2] = out[2]! + s * turn;
      out[3] = out[3]! + s * wy - sz * az * wy;
      out[4] = out[4]! + sz * turn;
      out[5] = out[5]! + s * wx + sy * turn;
      out[6] = out[6]! - sy * az * wy;
      out[7] = out[7]! + sy * az * wx;
      ax = bx;
      ay = by;
      a = b;
    }
  }
  const scale = 1 / (4 * Math.PI);
  for (let k = 0; k < 8; k++) out[k] = out[k]! * scale;
}

/**
 * Scalar potential ψ (H = −∇ψ) per ampere-turn: solid angle over 4π, the mean over all filaments.
 *
 * @param threaded whether the body at hand runs through the coil. ψ is then made continuous inside the coil
 *   instead of outside it: below a filament the full angle is added.
 * Source: [Jackson1999] problem 5.1; triangles by [VanOosterom1983] eq. 8.
 */
export function coilPotential(coil: Filaments, x: number, y: number, z: number, threaded: boolean): number {
  const { count, corners, at, window } = coil;
  const cx = window.x - x;
  const cy = window.y - y;
  const plane = cx * cx + cy * cy;
  let sum = 0;
  for (let f = 0; f < count; f++) {
    const az = coil.z[f]! - z;
    const az2 = az * az;
    const c = Math.sqrt(plane + az2);
    const first = 2 * f * corners;
    let ax = at[first + 2 * corners - 2]! - x;
    let ay = at[first + 2 * corners - 1]! - y;
    let a = Math.sqrt(ax * ax + ay * ay + az2);
    // What a corner has with the middle serves the pieces on both sides of it.
    let ac = ax * cx + ay * cy + az2;
    let across = ax * cy - ay * cx;
    let re = 1;
    let im = 0;
    for (let k = 0; k < corners; k++) {
      const bx = at[first + 2 * k]! - x;
      const by = at[first + 2 * k + 1]! - y;
      const b = Math.sqrt(bx * bx + by * by + az2);
      const bc = bx * cx + by * cy + az2;
      const beyond = bx * cy - by * cx;
      const triple = az * (ax * by - ay * bx + beyond - across);
      const bottom = a * b * c + (ax * bx + ay * by + az2) * c + bc * a + ac * b;
      // Half a triangle's solid angle is the argument of bottom + j triple. All have one sign and add up to less than
      // half a turn, so that one arc tangent of the product will do.
      const unit = 1 / (Math.abs(bottom) + Math.abs(triple));
      const turned = (re * bottom - im * triple) * unit;
      im = (re * triple + im * bottom) * unit;
      re = turned;
      ac = bc;
      across = beyond;
      ax = bx;
      ay = by;
      a = b;
    }
    // Negative seen from above (az < 0).
    const angle = Math.atan2(im, re);
    const whole = threaded && az > 0 ? 1 : 0;
    sum += coil.share[f]! * (whole - angle / (2 * Math.PI));
  }
  return sum;
}
