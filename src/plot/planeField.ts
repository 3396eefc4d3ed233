/**
 * A plane vector field on a square lattice around bodies, whose outlines it does not cross: inside them it has no value.
 * The lattice carries it a node beyond the outlines, so that between nodes it stays sharp where the body begins.
 */
import type { Lattice } from '../shape/lattice.ts';
import { insideOutline } from '../shape/outline.ts';

/** The field on its lattice; u runs right and v up in the plane's own frame. */
export interface PlaneField extends Lattice {
  /** Components at the nodes, row by row upwards, `nu` a row; NaN where there is none. */
  readonly bu: Float32Array;
  readonly bv: Float32Array;
  /** Closed outlines of the bodies, u and v of every corner in turn, m. */
  readonly outlines: readonly Float64Array[];
}

/** Components to the right and up. */
export interface Vector2 {
  u: number;
  v: number;
}

/** Looks a field up between its nodes; made once for many points. */
export class FieldSampler {
  private readonly field: PlaneField;
  private readonly boxes: readonly (readonly [number, number, number, number])[];

  constructor(field: PlaneField) {
    this.field = field;
    this.boxes = field.outlines.map(boundingBox);
  }

  /** Which body the point lies in; −1 for none. */
  bodyAt(u: number, v: number): number {
    const { outlines } = this.field;
    for (let k = 0; k < outlines.length; k++) {
      const [left, right, low, high] = this.boxes[k]!;
      if (u > left && u < right && v > low && v < high && insideOutline(outlines[k]!, u, v)) return k;
    }
    return -1;
  }

  /** The field at a point, by bilinear interpolation; false in a body and beyond the lattice. */
  at(u: number, v: number, out: Vector2): boolean {
    const { u0, v0, step, nu, nv, bu, bv } = this.field;
    const p = (u - u0) / step;
    const q = (v - v0) / step;
    if (!(p >= 0 && q >= 0 && p <= nu - 1 && q <= nv - 1)) return false;
    if (this.bodyAt(u, v) >= 0) return false;
    const i = Math.min(nu - 2, Math.floor(p));
    const j = Math.min(nv - 2, Math.floor(q));
    const s = p - i;
    const t = q - j;
    let weight = 0;
    let du = 0;
    let dv = 0;
    for (let c = 0; c < 4; c++) {
      const k = (j + (c >> 1)) * nu + i + (c & 1);
      const w = (c & 1 ? s : 1 - s) * (c & 2 ? t : 1 - t);
      // In a gap thinner than the lattice some nodes have no value; those that have one serve alone.
      if (w === 0 || Number.isNaN(bu[k]!)) continue;
      weight += w;
      du += w * bu[k]!;
      dv += w * bv[k]!;
    }
    if (weight === 0) return false;
    out.u = du / weight;
    out.v = dv / weight;
    return true;
  }
}

function boundingBox(outline: Float64Array): readonly [number, number, number, number] {
  let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let k = 0; k < outline.length; k += 2) {
    left = Math.min(left, outline[k]!);
    right = Math.max(right, outline[k]!);
    low = Math.min(low, outline[k + 1]!);
    high = Math.max(high, outline[k + 1]!);
  }
  return [left, right, low, high];
}
