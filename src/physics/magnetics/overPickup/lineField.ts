/** Field and gradient along a string, as far as reach and pull need them. */
import type { ChargeCloud, Line } from '../charges/chargeCloud.ts';
import { coilField, coilGradient } from '../coil/winding.ts';
import type { Filaments } from '../coil/winding.ts';

/**
 * H (A/m) and derivatives (A/m², A/m³) at points of a line; x runs along it. Components and derivatives missing here
 * follow from curl H = 0 and div H = 0.
 */
export interface LineField {
  readonly Hx: Float64Array;
  readonly Hy: Float64Array;
  readonly Hz: Float64Array;
  readonly zHx: Float64Array;
  readonly zHz: Float64Array;
  readonly yHz: Float64Array;
  readonly yHx: Float64Array;
  readonly yHy: Float64Array;
  /** ∂²Hz/∂z² and ∂²Hy/∂z². */
  readonly zzHz: Float64Array;
  readonly zzHy: Float64Array;
}

const PARTS = ['Hx', 'Hy', 'Hz', 'zHx', 'zHz', 'yHz', 'yHx', 'yHy', 'zzHz', 'zzHy'] as const;
/** Those without the second derivatives. */
const FIRST_PARTS = PARTS.slice(0, 8);

/** A field of zeros, A/m, at a number of points. */
export function emptyLineField(length: number): LineField {
  const field: Partial<Record<keyof LineField, Float64Array>> = {};
  for (const part of PARTS) field[part] = new Float64Array(length);
  return field as LineField;
}

const sum = new Float64Array(10);

/**
 * Field of set `s` of a cloud at every x (m), added to what is there (A/m, A/m², A/m³).
 *
 * Source: Coulomb's law and its derivatives.
 */
export function addCloudField(
  cloud: ChargeCloud,
  s: number,
  line: Line,
  x: Float64Array,
  to: LineField,
): void {
  const { count, x: px, y: py, z: pz, q } = cloud;
  const base = s * cloud.capacity;
  for (let i = 0; i < x.length; i++) {
    const at = x[i]!;
    let hx = 0;
    let hy = 0;
    let hz = 0;
    let zx = 0;
    let zz = 0;
    let yz = 0;
    let yx = 0;
    let yy = 0;
    let zzz = 0;
    let zzy = 0;
    for (let p = 0; p < count; p++) {
      const dx = at - px[p]!;
      const dy = line.y - py[p]!;
      const dz = line.z - pz[p]!;
      const i2 = 1 / (dx * dx + dy * dy + dz * dz);
      const w = q[base + p]! * i2 * Math.sqrt(i2);
      const w3 = -3 * w * i2;
      const wz = w3 * dz;
      const wy = w3 * dy;
      const w15 = -5 * i2 * wz * dz;
      hx += w * dx;
      hy += w * dy;
      hz += w * dz;
      zx += wz * dx;
      zz += w + wz * dz;
      yz += wz * dy;
      yx += wy * dx;
      yy += w + wy * dy;
      zzz += dz * (3 * w3 + w15);
      zzy += dy * (w3 + w15);
    }
    to.Hx[i] = to.Hx[i]! + hx;
    to.Hy[i] = to.Hy[i]! + hy;
    to.Hz[i] = to.Hz[i]! + hz;
    to.zHx[i] = to.zHx[i]! + zx;
    to.zHz[i] = to.zHz[i]! + zz;
    to.yHz[i] = to.yHz[i]! + yz;
    to.yHx[i] = to.yHx[i]! + yx;
    to.yHy[i] = to.yHy[i]! + yy;
    to.zzHz[i] = to.zzHz[i]! + zzz;
    to.zzHy[i] = to.zzHy[i]! + zzy;
  }
}

/**
 * Field of the first set of a cloud after the magnets', and of the second where there is one, in one pass; their second
 * derivatives are not asked for and stay zero. @param rows how many of them, 1 or 2
 *
 * Source: as addCloudField.
 */
export function coilCloudFields(
  cloud: ChargeCloud,
  rows: number,
  line: Line,
  x: Float64Array,
): readonly LineField[] {
  const { count, x: px, y: py, z: pz, q, capacity } = cloud;
  const fields = Array.from({ length: rows }, () => emptyLineField(x.length));
  const first = capacity;
  // A coil that is missing is summed as the first one over again: one loop for both.
  const second = rows > 1 ? 2 * capacity : first;
  const sums = new Float64Array(16);
  for (let i = 0; i < x.length; i++) {
    const at = x[i]!;
    let hx0 = 0;
    let hy0 = 0;
    let hz0 = 0;
    let zx0 = 0;
    let zz0 = 0;
    let yz0 = 0;
    let yx0 = 0;
    let yy0 = 0;
    let hx1 = 0;
    let hy1 = 0;
    let hz1 = 0;
    let zx1 = 0;
    let zz1 = 0;
    let yz1 = 0;
    let yx1 = 0;
    let yy1 = 0;
    for (let p = 0; p < count; p++) {
      const dx = at - px[p]!;
      const dy = line.y - py[p]!;
      const dz = line.z - pz[p]!;
      const i2 = 1 / (dx * dx + dy * dy + dz * dz);
      const i3 = i2 * Math.sqrt(i2);
      const wz = -3 * i2 * i3 * dz;
      const wy = -3 * i2 * i3 * dy;
      const zx = wz * dx;
      const zz = i3 + wz * dz;
      const yz = wz * dy;
      const yx = wy * dx;
      const yy = i3 + wy * dy;
      const a = q[first + p]!;
      const b = q[second + p]!;
      hx0 += a * i3 * dx;
      hy0 += a * i3 * dy;
      hz0 += a * i3 * dz;
      zx0 += a * zx;
      zz0 += a * zz;
      yz0 += a * yz;
      yx0 += a * yx;
      yy0 += a * yy;
      hx1 += b * i3 * dx;
      hy1 += b * i3 * dy;
      hz1 += b * i3 * dz;
      zx1 += b * zx;
      zz1 += b * zz;
      yz1 += b * yz;
      yx1 += b * yx;
      yy1 += b * yy;
    }
    sums.set([hx0, hy0, hz0, zx0, zz0, yz0, yx0, yy0, hx1, hy1, hz1, zx1, zz1, yz1, yx1, yy1]);
    fields.forEach((field, r) => FIRST_PARTS.forEach((part, k) => (field[part][i] = sums[8 * r + k]!)));
  }
  return fields;
}

/**
 * H alone of every set of a cloud at the same points, `raise` above the line it was made for: Hx, Hy and Hz of set s at
 * 3s, 3s + 1 and 3s + 2; at most three sets.
 */
export function cloudFields(
  cloud: ChargeCloud,
  line: Line,
  raise: number,
  x: Float64Array,
): readonly Float64Array[] {
  const { count, x: px, y: py, z: pz, q, capacity, sets } = cloud;
  const out = Array.from({ length: 3 * sets }, () => new Float64Array(x.length));
  // The sets that are missing are summed as the first one over again: one loop for all.
  const second = sets > 1 ? capacity : 0;
  const third = sets > 2 ? 2 * capacity : 0;
  for (let i = 0; i < x.length; i++) {
    const at = x[i]!;
    let x0 = 0;
    let y0 = 0;
    let z0 = 0;
    let x1 = 0;
    let y1 = 0;
    let z1 = 0;
    let x2 = 0;
    let y2 = 0;
    let z2 = 0;
    for (let p = 0; p < count; p++) {
      const dx = at - px[p]!;
      const dy = line.y - py[p]!;
      const dz = line.z + raise - pz[p]!;
      const i2 = 1 / (dx * dx + dy * dy + dz * dz);
      const i3 = i2 * Math.sqrt(i2);
      const a = i3 * q[p]!;
      const b = i3 * q[second + p]!;
      const c = i3 * q[third + p]!;
      x0 += a * dx;
      y0 += a * dy;
      z0 += a * dz;
      x1 += b * dx;
      y1 += b * dy;
      z1 += b * dz;
      x2 += c * dx;
      y2 += c * dy;
      z2 += c * dz;
    }
    const sums = [x0, y0, z0, x1, y1, z1, x2, y2, z2];
    out.forEach((values, k) => (values[i] = sums[k]!));
  }
  return out;
}

/** H alone of a coil in air for one ampere-turn, `raise` above the line; added to Hx, Hy, Hz. */
export function addCoilFields(
  coil: Filaments,
  line: Line,
  raise: number,
  x: Float64Array,
  to: readonly [Float64Array, Float64Array, Float64Array],
): void {
  const c = Math.cos(line.turn);
  const s = Math.sin(line.turn);
  const h = { x: 0, y: 0, z: 0 };
  const [hx, hy, hz] = to;
  for (let i = 0; i < x.length; i++) {
    coilField(coil, x[i]! * c - line.y * s, x[i]! * s + line.y * c, line.z + raise, h);
    hx[i] = hx[i]! + c * h.x + s * h.y;
    hy[i] = hy[i]! + c * h.y - s * h.x;
    hz[i] = hz[i]! + h.z;
  }
}

/** Adds one field to another at the same points. */
export function addLineField(from: LineField, to: LineField): void {
  for (const part of PARTS) {
    const sum = to[part];
    from[part].forEach((value, i) => (sum[i] = sum[i]! + value));
  }
}

/** Field (A/m) of a coil in air for one ampere-turn at every x (m), added; its second derivatives are left as they are. */
export function addCoilField(coil: Filaments, line: Line, x: Float64Array, to: LineField): void {
  const c = Math.cos(line.turn);
  const s = Math.sin(line.turn);
  for (let i = 0; i < x.length; i++) {
    coilGradient(coil, x[i]! * c - line.y * s, x[i]! * s + line.y * c, line.z, sum);
    const [hx, hy, hz, zx, zz, yz, yx, yy] = sum as unknown as [
      number,
      number,
      number,
      number,
      number,
      number,
      number,
      number,
    ];
    // Turn vectors and tensors into the line's frame; zHy = yHz, xHx = −yHy − zHz.
    const xx = -yy - zz;
    to.Hx[i] = to.Hx[i]! + c * hx + s * hy;
    to.Hy[i] = to.Hy[i]! + c * hy - s * hx;
    to.Hz[i] = to.Hz[i]! + hz;
    to.zHx[i] = to.zHx[i]! + c * zx + s * yz;
    to.zHz[i] = to.zHz[i]! + zz;
    to.yHz[i] = to.yHz[i]! + c * yz - s * zx;
    to.yHx[i] = to.yHx[i]! + (c * c - s * s) * yx + c * s * (yy - xx);
    to.yHy[i] = to.yHy[i]! + s * s * xx + c * c * yy - 2 * c * s * yx;
  }
}

/**
 * The same field on another set of points by a natural cubic spline.
 *
 * @param x m, ascending; @param to points within x's range, m
 * Source: [deBoor2001] ch. IV.
 */
export function resample(field: LineField, x: Float64Array, to: Float64Array): LineField {
  const out = emptyLineField(to.length);
  for (const part of PARTS) spline(x, field[part], to, out[part]);
  return out;
}

/** A natural cubic spline's values at `to`, in any unit; see resample. */
export function spline(x: Float64Array, y: Float64Array, to: Float64Array, out: Float64Array): void {
  const n = x.length;
  const second = new Float64Array(n);
  const work = new Float64Array(n);
  for (let i = 1; i < n - 1; i++) {
    const before = x[i]! - x[i - 1]!;
    const after = x[i + 1]! - x[i]!;
    const pivot = 2 * (before + after) - before * work[i - 1]!;
    work[i] = after / pivot;
    const bend = (y[i + 1]! - y[i]!) / after - (y[i]! - y[i - 1]!) / before;
    second[i] = (6 * bend - before * second[i - 1]!) / pivot;
  }
  second[n - 1] = 0;
  for (let i = n - 2; i > 0; i--) second[i] = second[i]! - work[i]! * second[i + 1]!;
  let k = 0;
  for (let i = 0; i < to.length; i++) {
    const at = to[i]!;
    while (k < n - 2 && x[k + 1]! < at) k++;
    const h = x[k + 1]! - x[k]!;
    const b = (at - x[k]!) / h;
    const a = 1 - b;
    out[i] =
      a * y[k]! +
      b * y[k + 1]! +
      ((a * a * a - a) * second[k]! + (b * b * b - b) * second[k + 1]!) * ((h * h) / 6);
  }
}
