/** How bars and round poles act on each other. */
import type { BoxBody, RingBody } from '../bodies/body.ts';
import type { BoxMesh } from '../bodies/boxMesh.ts';
import { addFaceSlopes, POINTS_FROM, rectangleAt } from './boxPoint.ts';
import { balanceColumns } from './fluxBalance.ts';
import { HarmonicSums } from './poleHarmonics.ts';
import type { Circle, NearHarmonics } from './poleHarmonics.ts';
import type { RingMesh } from '../bodies/ringMesh.ts';
import { panelPoints } from '../bodies/ringPoints.ts';

/** H at the point of the last call for densities 1, u′ and v′. */
const h = new Float64Array(9);

/** Angles t − crowding sin t, from `towards` on; the trapezoidal rule in t stays exact to many digits. */
function circle(count: number, crowding = 0, towards = 0): Circle {
  const t = Float64Array.from({ length: count }, (_, k) => (2 * Math.PI * (k + 0.5)) / count);
  const angle = t.map((at) => towards + at - crowding * Math.sin(at));
  return {
    cos: angle.map(Math.cos),
    sin: angle.map(Math.sin),
    weight: t.map((at) => (1 - crowding * Math.cos(at)) / count),
  };
}

/** Equal steps, kept for the few counts there are. */
const circles = new Map<number, Circle>();

function evenCircle(count: number): Circle {
  let known = circles.get(count);
  if (!known) {
    known = circle(count);
    circles.set(count, known);
  }
  return known;
}

/** Points around a ring of radius a whose nearest part is `gap` from a rectangle. */
function pointsAround(a: number, gap: number): number {
  const wanted = 1 + Math.log(1e-2) / Math.log(a / (a + gap));
  return 2 * Math.ceil(0.5 * Math.min(16, Math.max(4, wanted)));
}

/** Distance from a point (relative to the box's centre) to rectangle j, m. */
function distanceToRectangle(mesh: BoxMesh, j: number, x: number, y: number, z: number): number {
  const axis = mesh.axis[j]!;
  const a = mesh.halfU[j]!;
  const b = mesh.halfV[j]!;
  const half0 = axis === 0 ? 0 : axis === 2 ? a : b;
  const half1 = axis === 1 ? 0 : axis === 0 ? a : b;
  const half2 = axis === 2 ? 0 : axis === 1 ? a : b;
  const dx = Math.max(0, Math.abs(x - mesh.centre[3 * j]!) - half0);
  const dy = Math.max(0, Math.abs(y - mesh.centre[3 * j + 1]!) - half1);
  const dz = Math.max(0, Math.abs(z - mesh.centre[3 * j + 2]!) - half2);
  return Math.sqrt(dx * dx + dy * dy + dz * dz);
}

/** What a bar and a pole do to each other, row-major; toRing and toBox are good until the next pair is asked for. */
export interface BoxRingBlocks {
  /** 3 ring.n × box.n: normal field on the rings (uniform, cos, sin) of unit density on the rectangles. */
  readonly toRing: Float64Array;
  /** box.n × 3 ring.n: mean normal field on the rectangles of unit densities on the rings. */
  readonly toBox: Float64Array;
  /** What the pole's further harmonics give back to the bar; null when they are far apart. */
  readonly harmonics: NearHarmonics | null;
}

/** A rectangle this near to a ring, in radii of the pole and beyond half the ring's length, is met at many points. */
const NEAR = 0.4;
/**
 * How many. Around: a mean distance in mean edges of those rectangles, crowding towards a bar beside; across: points an
 * edge, beyond two. Twice as many of both move the field of touching poles by 0.2 %.
 */
const AROUND = 0.7;
const LEAST_AROUND = 8;
const MOST_AROUND = 48;
const TOWARDS_BAR = 0.6;
const ACROSS = 2;
const MOST_ACROSS = 6;
/** A ring's points lie this share of the radius below its surface, so that one in a face has the bar outside. */
const BELOW = 1e-9;

/**
 * Both directions at once, 1 (A/m for each A/m): the flux of a charge through a rectangle is the rectangle's field at the charge.
 * @param plain rings whose further harmonics are left out: those of a flat end on steel
 * Source: [EngelHerbert2005] for the closed form; reciprocity of Coulomb's law.
 */
export function boxRingBlocks(box: BoxBody, ring: RingBody, plain: readonly number[] = []): BoxRingBlocks {
  const sums = new PairSums(box, ring);
  const { mesh } = ring;
  const nb = box.mesh.n;
  const gaps = gapsBetween(box, ring);
  const isNear = (i: number, j: number): boolean =>
    gaps[i * nb + j]! < NEAR * mesh.radius + 0.5 * mesh.length[i]!;
  const near: number[] = [];
  for (let j = 0; j < nb; j++) {
    let i = 0;
    while (i < mesh.n && !isNear(i, j)) i++;
    if (i < mesh.n) near.push(j);
  }
  const points = near.length === 0 ? null : new NearPoints(box, ring, near);
  for (let i = 0; i < mesh.n; i++) {
    addFar(sums, mesh, i, gaps, isNear);
    points?.add(
      sums,
      i,
      near.filter((j) => isNear(i, j)),
      !plain.includes(i),
    );
  }
  return { ...sums.done(), harmonics: points?.harmonics.done() ?? null };
}

/** Ring i and the rectangles that are not near: their distance decides how finely the ring is taken. */
function addFar(
  sums: PairSums,
  mesh: RingMesh,
  i: number,
  gaps: Float64Array,
  isNear: (i: number, j: number) => boolean,
): void {
  const nb = gaps.length / mesh.n;
  const rim = Math.max(mesh.nodeR[i]!, mesh.nodeR[i + 1]!);
  const coarse = panelPoints(mesh, i, 1, false);
  const fine = panelPoints(mesh, i, 2, false);
  for (let j = 0; j < nb; j++) {
    if (isNear(i, j)) continue;
    const gap = gaps[i * nb + j]!;
    const points = mesh.length[i]! > 0.3 * gap ? fine : coarse;
    const around = evenCircle(pointsAround(rim, gap));
    for (let p = 0; p < points.r.length; p++)
      sums.add(i, j, points.r[p]!, points.z[p]!, points.along[p]!, points.weight[p]!, around, null);
  }
}

/** ring.n × box.n: about how far every ring is from every rectangle, m; below 0 where it goes round one. */
function gapsBetween(box: BoxBody, ring: RingBody): Float64Array {
  const { mesh } = ring;
  const nb = box.mesh.n;
  const gaps = new Float64Array(mesh.n * nb);
  for (let i = 0; i < mesh.n; i++) {
    const middle = 0.5 * (mesh.nodeZ[i]! + mesh.nodeZ[i + 1]!) + ring.z - box.z;
    const rim = Math.max(mesh.nodeR[i]!, mesh.nodeR[i + 1]!);
    for (let j = 0; j < nb; j++) {
      gaps[i * nb + j] = distanceToRectangle(box.mesh, j, ring.x - box.x, ring.y - box.y, middle) - rim;
    }
  }
  return gaps;
}

type Five = [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];

/** Kept from pair to pair: a dozen poles would leave megabytes behind. */
let room = new Float64Array(0);

/** Five stretches of zeros; those of the last call are no longer good. */
function zeros(size: number): Five {
  if (room.length < 5 * size) room = new Float64Array(5 * size);
  return [0, 1, 2, 3, 4].map((k) => room.subarray(k * size, (k + 1) * size).fill(0)) as Five;
}

/** The blocks while they are summed. */
class PairSums {
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
   * A ring of points on panel i and rectangle j.
   * @param weight area of the ring of radius r at height z, m²; along: its place on the panel, m
   * @param each is told the normal field of density 1 at every point, and the flux of its charge through the rectangle
   *   over its area
   */
  add(
    i: number,
    j: number,
    r: number,
    z: number,
    along: number,
    weight: number,
    around: Circle,
    each: ((a: number, normal: number, flux: number) => void) | null,
  ): void {
    const { mesh, bar, toRing, toBox, oddU, oddV, oddBox, ox, oy } = this;
    const { cos, sin } = around;
    const nb = bar.n;
    const nr = mesh.n;
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
      if (each) each(a, normal / w, flux);
    }
    const once = weight / mesh.area[i]!;
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
    balanceColumns(toBox, columns, bar.area);
    return { toRing, toBox };
  }
}

/** The many points of the rings that are close to a bar, and the harmonics that only they need. */
class NearPoints {
  readonly harmonics: HarmonicSums;
  /** Where the bar is seen from the pole, rad; null for a pole over or under it. */
  private readonly towards: number | null;
  private readonly circles = new Map<number, Circle>();

  /** @param near all rectangles that are near any ring */
  constructor(
    private readonly box: BoxBody,
    private readonly ring: RingBody,
    near: readonly number[],
  ) {
    const { x, y } = box.mesh.size;
    const dx = beyond(box.x - ring.x, 0.5 * x);
    const dy = beyond(box.y - ring.y, 0.5 * y);
    this.towards = Math.hypot(dx, dy) > 0.5 * ring.mesh.radius ? Math.atan2(dy, dx) : null;
    this.harmonics = new HarmonicSums(box.mesh, near);
  }

  add(sums: PairSums, i: number, close: readonly number[], harmonic: boolean): void {
    if (close.length === 0) return;
    const { mesh } = this.ring;
    const edge = this.meanEdge(close);
    const around = this.circle(Math.max(mesh.nodeR[i]!, mesh.nodeR[i + 1]!) / edge);
    const across = Math.min(MOST_ACROSS, 2 + Math.floor((ACROSS * mesh.length[i]!) / edge));
    const points = panelPoints(mesh, i, across, false);
    const below = BELOW * mesh.radius;
    for (let p = 0; p < across; p++) {
      const r = points.r[p]! - below * mesh.normalR[i]!;
      const z = points.z[p]! - below * mesh.normalZ[i]!;
      if (harmonic) this.harmonics.begin(close, around);
      for (let n = 0; n < close.length; n++) {
        const each = (a: number, normal: number, flux: number): void =>
          this.harmonics.set(n, a, normal, flux);
        const [along, weight] = [points.along[p]!, points.weight[p]!];
        sums.add(i, close[n]!, r, z, along, weight, around, harmonic ? each : null);
      }
      if (harmonic) this.harmonics.end();
    }
  }

  /** @param radii of the ring, in edges of the rectangles */
  private circle(radii: number): Circle {
    const wanted = Math.min(MOST_AROUND, Math.max(LEAST_AROUND, (2 * Math.PI * radii) / AROUND));
    const count = 2 * Math.ceil(0.5 * wanted);
    let known = this.circles.get(count);
    if (!known) {
      known = this.towards === null ? circle(count) : circle(count, TOWARDS_BAR, this.towards);
      this.circles.set(count, known);
    }
    return known;
  }

  /** Of some rectangles along the horizontal, by area: slivers at the bar's edges hardly count, m. */
  private meanEdge(rectangles: readonly number[]): number {
    const { area, axis, halfU, halfV } = this.box.mesh;
    let whole = 0;
    let steps = 0;
    for (const j of rectangles) {
      const half = axis[j] === 0 ? halfU[j]! : axis[j] === 1 ? halfV[j]! : Math.min(halfU[j]!, halfV[j]!);
      whole += area[j]!;
      steps += area[j]! / (2 * half);
    }
    return whole / steps;
  }
}

/** What is left of a distance along an axis beyond a half edge, with its sign. */
const beyond = (distance: number, half: number): number =>
  Math.sign(distance) * Math.max(0, Math.abs(distance) - half);

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
