/** How bars and round poles act on each other. */
import type { BoxBody, RingBody } from '../bodies/body.ts';
import { onSurface } from '../bodies/boxMesh.ts';
import type { BoxMesh } from '../bodies/boxMesh.ts';
import { PairSums } from './pairSums.ts';
import { HarmonicSums } from './poleHarmonics.ts';
import type { Circle, NearHarmonics } from './poleHarmonics.ts';
import type { RingMesh } from '../bodies/ringMesh.ts';
import { panelPoints } from '../bodies/ringPoints.ts';

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
const circles: Circle[] = [];

const evenCircle = (count: number): Circle => (circles[count] ??= circle(count));

/** Points around a ring that is far, from 4 on in steps of 2. */
const MOST_FAR_AROUND = 16;
/** Up to which a/(a + gap) each but the most serve: the first missed harmonic falls to a hundredth on the way. */
const SERVES = Float64Array.from({ length: 6 }, (_, k) => 0.01 ** (1 / (3 + 2 * k)));

/** Of a ring of radius a whose nearest part is `gap` from a rectangle. */
function pointsAround(a: number, gap: number): number {
  const share = a / (a + gap);
  let points = 4;
  while (points < MOST_FAR_AROUND && share > SERVES[(points - 4) >> 1]!) points += 2;
  return points;
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
  const surface = onSurface(box.mesh);
  const isNear = (i: number, j: number): boolean =>
    j < surface && gaps[i * nb + j]! < NEAR * mesh.radius + 0.5 * mesh.length[i]!;
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
    for (let p = 0; p < points.r.length; p++) sums.add(i, j, points, p, around, null, 0);
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

/** The many points of the rings that are close to a bar, and the harmonics that only they need. */
class NearPoints {
  readonly harmonics: HarmonicSums;
  /** Where the bar is seen from the pole, rad; null for a pole over or under it. */
  private readonly towards: number | null;
  private readonly circles: Circle[] = [];

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
    const onSurface = panelPoints(mesh, i, across, false);
    const below = BELOW * mesh.radius;
    const points = {
      ...onSurface,
      r: onSurface.r.map((r) => r - below * mesh.normalR[i]!),
      z: onSurface.z.map((z) => z - below * mesh.normalZ[i]!),
    };
    const harmonics = harmonic ? this.harmonics : null;
    for (let p = 0; p < across; p++) {
      harmonics?.begin(close, around);
      for (let n = 0; n < close.length; n++) sums.add(i, close[n]!, points, p, around, harmonics, n);
      harmonics?.end();
    }
  }

  /** @param radii of the ring, in edges of the rectangles */
  private circle(radii: number): Circle {
    const wanted = Math.min(MOST_AROUND, Math.max(LEAST_AROUND, (2 * Math.PI * radii) / AROUND));
    const count = 2 * Math.ceil(0.5 * wanted);
    return (this.circles[count] ??=
      this.towards === null ? circle(count) : circle(count, TOWARDS_BAR, this.towards));
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
