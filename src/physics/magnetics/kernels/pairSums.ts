/** Sums of what a bar and a pole do to each other, a ring of points at a time; see boxRing. */
import type { BoxBody, RingBody } from '../bodies/body.ts';
import type { BoxMesh } from '../bodies/boxMesh.ts';
import { addFaceSlopes, GAUSS2, POINTS_FROM, rectangleAt } from './boxPoint.ts';
import { balanceBox, balanceColumns } from './fluxBalance.ts';
import type { Circle, HarmonicSums } from './poleHarmonics.ts';
import type { RingMesh } from '../bodies/ringMesh.ts';
import type { PanelPoints } from '../bodies/ringPoints.ts';

/** H at the point of the last call for densities 1, u′ and v′. */
const h = new Float64Array(9);

type Five = [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];

/** Kept from pair to pair: a dozen poles would leave megabytes behind. */
let room = new Float64Array(0);

/** Five stretches of zeros; those of the last call are no longer good. */
function zeros(size: number): Five {
  if (room.length < 5 * size) room = new Float64Array(5 * size);
  return [0, 1, 2, 3, 4].map((k) => room.subarray(k * size, (k + 1) * size).fill(0)) as Five;
}

/** The blocks while they are summed. */
export class PairSums {
  /** The pole's axis and height from the bar's centre, m. */
  readonly ox: number;
  readonly oy: number;
  readonly oz: number;
  private readonly mesh: RingMesh;
  private readonly bar: BoxMesh;
  private readonly toRing: Float64Array;
  private readonly toBox: Float64Array;
  private readonly oddU: Float64Array;
  private readonly oddV: Float64Array;
  private readonly oddBox: Float64Array;

  constructor(box: BoxBody, ring: RingBody) {
    this.ox = ring.x - box.x;
    this.oy = ring.y - box.y;
    this.oz = ring.z - box.z;
    this.mesh = ring.mesh;
    this.bar = box.mesh;
    const size = 3 * ring.mesh.n * box.mesh.n;
    const [toRing, toBox, oddU, oddV, oddBox] = zeros(size);
    this.toRing = toRing;
    this.toBox = toBox;
    this.oddU = oddU;
    this.oddV = oddV;
    this.oddBox = oddBox;
  }

  /**
   * A ring of points on panel i, at place p of its points, and rectangle j. (Numbers that are handed over one by one would be boxed.)
   * @param harmonics is told the normal field of density 1 at every point, and the flux of its charge through the rectangle over its
   *   area, as the n-th of its rectangles
   */
  add(
    i: number,
    j: number,
    points: PanelPoints,
    p: number,
    around: Circle,
    harmonics: HarmonicSums | null,
    n: number,
  ): void {
    if (!harmonics && this.isFar(j, points, p)) {
      this.addCharges(i, j, points, p, around);
      return;
    }
    const { mesh, bar, ox, oy } = this;
    const r = points.r[p]!;
    const z = points.z[p]!;
    const weight = points.weight[p]!;
    const { cos, sin } = around;
    const first = n * cos.length;
    const normalR = mesh.normalR[i]!;
    const nz = mesh.normalZ[i]!;
    const height = this.oz + z;
    const through = bar.axis[j]!;
    const perBox = (-bar.sign[j]! * weight) / bar.area[j]!;
    let even0 = 0;
    let even1 = 0;
    let even2 = 0;
    let u0 = 0;
    let u1 = 0;
    let u2 = 0;
    let v0 = 0;
    let v1 = 0;
    let v2 = 0;
    let flux0 = 0;
    let flux1 = 0;
    let flux2 = 0;
    for (let a = 0; a < cos.length; a++) {
      const c = cos[a]!;
      const s = sin[a]!;
      const w = around.weight[a]!;
      rectangleAt(bar, j, ox + r * c, oy + r * s, height, h, POINTS_FROM);
      const nx = w * normalR * c;
      const ny = w * normalR * s;
      const nw = w * nz;
      const normal = nx * h[0]! + ny * h[1]! + nw * h[2]!;
      even0 += normal;
      even1 += normal * c;
      even2 += normal * s;
      const normalU = nx * h[3]! + ny * h[4]! + nw * h[5]!;
      u0 += normalU;
      u1 += normalU * c;
      u2 += normalU * s;
      const normalV = nx * h[6]! + ny * h[7]! + nw * h[8]!;
      v0 += normalV;
      v1 += normalV * c;
      v2 += normalV * s;
      const flux = w * perBox * h[through]!;
      flux0 += flux;
      flux1 += flux * c;
      flux2 += flux * s;
      if (harmonics) {
        harmonics.normals[first + a] = normal / w;
        harmonics.fluxes[first + a] = flux;
      }
    }
    const once = weight / mesh.area[i]!;
    this.fold(i, j, once, even0, even1, even2, u0, u1, u2, v0, v1, v2);
    this.foldFlux(i, j, points.along[p]!, flux0, flux1, flux2);
  }

  /** Whether every point of such a ring is so far from rectangle j that four charges serve. */
  private isFar(j: number, points: PanelPoints, p: number): boolean {
    const { centre, halfU, halfV } = this.bar;
    const dx = this.ox - centre[3 * j]!;
    const dy = this.oy - centre[3 * j + 1]!;
    const dz = this.oz + points.z[p]! - centre[3 * j + 2]!;
    const nearest = Math.sqrt(dx * dx + dy * dy) - points.r[p]!;
    const edge = 2 * POINTS_FROM * Math.max(halfU[j]!, halfV[j]!);
    return nearest * nearest + dz * dz > edge * edge;
  }

  /** As add, of a rectangle that is far: the same sums, one of its four charges after the other. */
  private addCharges(i: number, j: number, points: PanelPoints, p: number, around: Circle): void {
    const { mesh, bar } = this;
    const r = points.r[p]!;
    const z = points.z[p]!;
    const weight = points.weight[p]!;
    const { cos, sin, weight: share } = around;
    const axis = bar.axis[j]!;
    const normalR = mesh.normalR[i]!;
    const normalZ = mesh.normalZ[i]!;
    const quarter = bar.area[j]! / (16 * Math.PI);
    const perBox = (-bar.sign[j]! * weight) / bar.area[j]!;
    const a = GAUSS2 * bar.halfU[j]!;
    const b = GAUSS2 * bar.halfV[j]!;
    const onX = axis === 0 ? 1 : 0;
    const onY = axis === 1 ? 1 : 0;
    const onZ = axis === 2 ? 1 : 0;
    const x = this.ox - bar.centre[3 * j]!;
    const y = this.oy - bar.centre[3 * j + 1]!;
    const height = this.oz + z - bar.centre[3 * j + 2]!;
    const once = weight / mesh.area[i]!;
    let flux0 = 0;
    let flux1 = 0;
    let flux2 = 0;
    for (let k = 0; k < 4; k++) {
      const su = k & 1 ? a : -a;
      const sv = k & 2 ? b : -b;
      const px = x - (axis === 0 ? 0 : axis === 1 ? sv : su);
      const py = y - (axis === 0 ? su : axis === 1 ? 0 : sv);
      const dz = height - (axis === 0 ? sv : axis === 1 ? su : 0);
      const rise = normalZ * dz;
      let even0 = 0;
      let even1 = 0;
      let even2 = 0;
      for (let l = 0; l < cos.length; l++) {
        const c = cos[l]!;
        const s = sin[l]!;
        const dx = px + r * c;
        const dy = py + r * s;
        const d2 = dx * dx + dy * dy + dz * dz;
        const scale = (share[l]! * quarter) / (d2 * Math.sqrt(d2));
        const normal = scale * (normalR * (dx * c + dy * s) + rise);
        even0 += normal;
        even1 += normal * c;
        even2 += normal * s;
        const flux = scale * (onX * dx + onY * dy + onZ * dz);
        flux0 += flux;
        flux1 += flux * c;
        flux2 += flux * s;
      }
      this.fold(
        i,
        j,
        once,
        even0,
        even1,
        even2,
        su * even0,
        su * even1,
        su * even2,
        sv * even0,
        sv * even1,
        sv * even2,
      );
    }
    this.foldFlux(i, j, points.along[p]!, perBox * flux0, perBox * flux1, perBox * flux2);
  }

  /** Adds to what the ring sees of densities 1, u′ and v′: uniform around it, in cos φ and in sin φ. */
  private fold(
    i: number,
    j: number,
    once: number,
    even0: number,
    even1: number,
    even2: number,
    u0: number,
    u1: number,
    u2: number,
    v0: number,
    v1: number,
    v2: number,
  ): void {
    const { toRing, oddU, oddV } = this;
    const nb = this.bar.n;
    const nr = this.mesh.n;
    const row = i * nb + j;
    const row1 = row + nr * nb;
    const row2 = row1 + nr * nb;
    toRing[row] = toRing[row]! + once * even0;
    toRing[row1] = toRing[row1]! + 2 * once * even1;
    toRing[row2] = toRing[row2]! + 2 * once * even2;
    oddU[row] = oddU[row]! + once * u0;
    oddU[row1] = oddU[row1]! + 2 * once * u1;
    oddU[row2] = oddU[row2]! + 2 * once * u2;
    oddV[row] = oddV[row]! + once * v0;
    oddV[row1] = oddV[row1]! + 2 * once * v1;
    oddV[row2] = oddV[row2]! + 2 * once * v2;
  }

  private foldFlux(i: number, j: number, along: number, flux0: number, flux1: number, flux2: number): void {
    const { toBox, oddBox } = this;
    const nr = this.mesh.n;
    const at = j * 3 * nr + i;
    toBox[at] = toBox[at]! + flux0;
    toBox[at + nr] = toBox[at + nr]! + flux1;
    toBox[at + 2 * nr] = toBox[at + 2 * nr]! + flux2;
    oddBox[at] = oddBox[at]! + along * flux0;
    oddBox[at + nr] = oddBox[at + nr]! + along * flux1;
    oddBox[at + 2 * nr] = oddBox[at + 2 * nr]! + along * flux2;
  }

  done(): { readonly toRing: Float64Array; readonly toBox: Float64Array } {
    const { mesh, bar, toRing, toBox } = this;
    const columns = 3 * mesh.n;
    foldSlopes(toBox, this.oddBox, mesh, bar.n);
    addFaceSlopes(toRing, this.oddU, this.oddV, bar);
    // Of the poles' three parts only the uniform one has a flux.
    balanceColumns(toRing.subarray(0, mesh.n * bar.n), bar.n, mesh.area);
    balanceBox(toBox, columns, bar, false);
    return { toRing, toBox };
  }
}

/** As addSlopes, for rows that hold three runs of ring densities. */
function foldSlopes(block: Float64Array, odd: Float64Array, mesh: RingMesh, rows: number): void {
  const n = mesh.n;
  const { before, here, after } = mesh.slope;
  for (let run = 0; run < 3 * rows; run++) {
    for (let j = 0; j < n; j++) {
      const at = run * n + j;
      const response = odd[at]!;
      block[at] = block[at]! + response * here[j]!;
      if (before[j] !== 0) block[at - 1] = block[at - 1]! + response * before[j]!;
      if (after[j] !== 0) block[at + 1] = block[at + 1]! + response * after[j]!;
    }
  }
}
