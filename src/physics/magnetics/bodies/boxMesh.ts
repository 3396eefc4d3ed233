/** Bar magnets: boxes whose faces are cut into rectangles. */
import { cutFaces } from './boxCuts.ts';
import type { BoxZones } from './boxZones.ts';
import type { CutFace, Neighbour } from './boxCuts.ts';
import type { Vector } from '../../numerics/vector.ts';

/** Slope of rectangle j: before σ[j − stride] + here σ[j] + after σ[j + stride], per metre. */
export interface FaceSlope {
  readonly stride: Int32Array;
  readonly before: Float64Array;
  readonly here: Float64Array;
  readonly after: Float64Array;
}

/** Rectangles of a box centred at its own origin; axes count 0, 1, 2 for x, y, z. */
export interface BoxMesh {
  readonly n: number;
  readonly size: Readonly<Vector>;
  /** Axis of the outward normal, and its sign. */
  readonly axis: Int8Array;
  readonly sign: Int8Array;
  /** Centres, three numbers a rectangle, m. */
  readonly centre: Float64Array;
  /** Half edges along the two axes that follow the normal's in the order x, y, z, x, y; m. */
  readonly halfU: Float64Array;
  readonly halfV: Float64Array;
  /** m². */
  readonly area: Float64Array;
  /**
   * The density is taken as linear in both directions over each rectangle; its slopes are three-point differences as
   * in RingMesh, the neighbours standing `stride` apart.
   */
  readonly slopeU: FaceSlope;
  readonly slopeV: FaceSlope;
  /** m³. */
  readonly volume: number;
  /** Of steel that saturates; null for all other boxes, whose rectangles all lie on the surface. */
  readonly zones: BoxZones | null;
}

/** The number of a box's rectangles that lie on its surface, the first ones; 1. */
export const onSurface = ({ n, zones }: BoxMesh): number => zones?.sheets ?? n;

/**
 * @param size full edges, m, all above 0
 * @param fineness multiplies the divisions along each edge
 * @param neighbours poles that the faces they are close to are cut for
 * @throws RangeError when an edge is not above 0
 */
export function boxMesh(
  size: Readonly<Vector>,
  fineness = 1,
  neighbours: readonly Neighbour[] = [],
): BoxMesh {
  for (const edge of [size.x, size.y, size.z]) {
    if (!(edge > 0)) throw new RangeError(`A bar's edges must be above 0; got ${edge} m.`);
  }
  return meshOfFaces(size, cutFaces(size, fineness, neighbours));
}

/** @param faces of cutFaces, for the same size */
export function meshOfFaces(size: Readonly<Vector>, faces: readonly CutFace[]): BoxMesh {
  const full = [size.x, size.y, size.z] as const;
  const axis: number[] = [];
  const sign: number[] = [];
  const centre: number[] = [];
  const halfU: number[] = [];
  const halfV: number[] = [];
  const slopeU = new SlopeList();
  const slopeV = new SlopeList();
  for (const { normal, side, u: cutsU, v: cutsV, breaksU, breaksV, at: share = 0.5 * side } of faces) {
    const u = (normal + 1) % 3;
    const v = (normal + 2) % 3;
    for (let i = 1; i < cutsU.length; i++) {
      for (let j = 1; j < cutsV.length; j++) {
        const at = [0, 0, 0];
        at[normal] = share * full[normal]!;
        at[u] = 0.5 * full[u]! * (cutsU[i]! + cutsU[i - 1]!);
        at[v] = 0.5 * full[v]! * (cutsV[j]! + cutsV[j - 1]!);
        axis.push(normal);
        sign.push(side);
        centre.push(...at);
        slopeU.push(cutsU, i, full[u]!, cutsV.length - 1, breaksU);
        slopeV.push(cutsV, j, full[v]!, 1, breaksV);
        halfU.push(0.5 * full[u]! * (cutsU[i]! - cutsU[i - 1]!));
        halfV.push(0.5 * full[v]! * (cutsV[j]! - cutsV[j - 1]!));
      }
    }
  }
  return {
    n: axis.length,
    size,
    axis: Int8Array.from(axis),
    sign: Int8Array.from(sign),
    centre: Float64Array.from(centre),
    halfU: Float64Array.from(halfU),
    halfV: Float64Array.from(halfV),
    area: Float64Array.from(halfU, (half, i) => 4 * half * halfV[i]!),
    slopeU: slopeU.done(),
    slopeV: slopeV.done(),
    volume: size.x * size.y * size.z,
    zones: zonesOf(
      size.z,
      faces.flatMap(({ at }) => at ?? []),
      axis.length,
      faces.reduce((sum, { at, u, v }) => sum + (at === undefined ? (u.length - 1) * (v.length - 1) : 0), 0),
      (j) => centre[3 * j + 2]!,
    ),
  };
}

/** @param inner ends of zones, as shares of the height; @param heightOf a rectangle's middle, m */
function zonesOf(
  height: number,
  inner: readonly number[],
  n: number,
  sheets: number,
  heightOf: (j: number) => number,
): BoxZones | null {
  if (inner.length === 0) return null;
  const ends = Float64Array.from([-0.5, ...inner, 0.5], (share) => share * height);
  const zone = new Int8Array(n);
  const beyond = new Int8Array(n).fill(-1);
  for (let j = 0; j < n; j++) {
    // A sheet's own height is an end: a little lower is in the zone below.
    const z = heightOf(j) - (j < sheets ? 0 : 1e-9 * height);
    while (zone[j]! < inner.length && z > ends[zone[j]! + 1]!) zone[j] = zone[j]! + 1;
    if (j >= sheets) beyond[j] = zone[j]! + 1;
  }
  return { count: inner.length + 1, sheets, zone, beyond, ends };
}

class SlopeList {
  private readonly rows: (readonly [number, number, number, number])[] = [];

  /** Adds the division that ends at cuts[i], of a face whose edge is `edge` long; the slope stays on its side of a break. */
  push(cuts: Float64Array, i: number, edge: number, stride: number, breaks?: ReadonlySet<number>): void {
    const back = i > 1 && !breaks?.has(i - 1) ? 0.5 * edge * (cuts[i]! - cuts[i - 2]!) : 0;
    const on = i < cuts.length - 1 && !breaks?.has(i) ? 0.5 * edge * (cuts[i + 1]! - cuts[i - 1]!) : 0;
    if (back > 0 && on > 0) {
      this.rows.push([
        stride,
        -on / (back * (back + on)),
        (on - back) / (back * on),
        back / (on * (back + on)),
      ]);
    } else if (on > 0) this.rows.push([stride, 0, -1 / on, 1 / on]);
    else if (back > 0) this.rows.push([stride, -1 / back, 1 / back, 0]);
    else this.rows.push([stride, 0, 0, 0]);
  }

  done(): FaceSlope {
    const column = (k: 1 | 2 | 3): Float64Array => Float64Array.from(this.rows, (row) => row[k]);
    return {
      stride: Int32Array.from(this.rows, (row) => row[0]),
      before: column(1),
      here: column(2),
      after: column(3),
    };
  }
}
