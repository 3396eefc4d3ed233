/** A flux line in space: followed along B from a place outside the bodies to the body that it ends at, or until it is lost. */
import { clearanceOf, insideOf, type Solid } from '../../shape/solid.ts';
import type { Vector } from '../numerics/vector.ts';

/** A field at a point (m); any unit: only its direction counts. */
export type FieldAt = (x: number, y: number, z: number, out: Vector) => void;

/** Where lines are followed. */
export interface TraceSpace {
  readonly field: FieldAt;
  readonly solids: readonly Solid[];
}

/** Points x, y, z in turn, m. */
export interface TracedLine {
  readonly points: number[];
  /** Index of the solid that it ends at; −1 where it was lost: too far away, too long, or where there is no field. */
  readonly end: number;
}

/** What the two orders of a step may differ by, m. */
const TOLERANCE = 5e-6;
/** What a step may turn by, rad: the curve between its ends is then right to some 1e-6 m. */
const TURN = 0.6;
/** First step, and the longest beside a body, m; what is thinner than this could be stepped over. */
const BESIDE = 4e-4;
/** A step is not made shorter for its error, and not for a surface in its way, m: the rest of the way to it is straight. */
const SHORTEST = 1e-4;
const LAST = 2e-5;
const LONGEST_STEP = 0.02;
/** Beyond this distance from the pickup, or this long, a line is lost; m. */
const LOST = 0.3;
const LONGEST = 1;
/** The place where a line meets a surface is found along it to within this, m. */
const MET = 1e-6;
/** Between the points that are handed out a line turns by no more than this, rad. */
const BENT = 0.1;

/** Stages of the pair of orders five and four [Dormand1980], table 2; the last stage is the next step's first. */
const A: readonly (readonly number[])[] = [
  [],
  [1 / 5],
  [3 / 40, 9 / 40],
  [44 / 45, -56 / 15, 32 / 9],
  [19372 / 6561, -25360 / 2187, 64448 / 6561, -212 / 729],
  [9017 / 3168, -355 / 33, 46732 / 5247, 49 / 176, -5103 / 18656],
  [35 / 384, 0, 500 / 1113, 125 / 192, -2187 / 6784, 11 / 84],
];
/** Fifth order less fourth. */
const ERROR = [71 / 57600, 0, -71 / 16695, 71 / 1920, -17253 / 339200, 22 / 525, -1 / 40];

const b: Vector = { x: 0, y: 0, z: 0 };

/**
 * Follows a line from a place (m) outside the bodies, along the field or against it. The step adapts to the difference of two
 * orders, and never reaches farther than the nearest body but for BESIDE; inside a body the field is never asked for.
 *
 * @param way 1: along the field; −1: against it
 * Digits: 0.05 mm on a line 10 cm long, beside the field's own error. Source: [Dormand1980].
 */
export function traceLine({ field, solids }: TraceSpace, from: Readonly<Vector>, way: 1 | -1): TracedLine {
  const insides = solids.map(insideOf);
  const clearances = solids.map(clearanceOf);
  const clear = (x: number, y: number, z: number): number => {
    let least = Infinity;
    for (const of of clearances) least = Math.min(least, of(x, y, z));
    return least;
  };
  const bodyAt = (x: number, y: number, z: number): number => insides.findIndex((inside) => inside(x, y, z));
  const direction = (x: number, y: number, z: number, out: Float64Array, at: number): boolean => {
    b.x = 0;
    b.y = 0;
    b.z = 0;
    field(x, y, z, b);
    const size = way * Math.sqrt(b.x * b.x + b.y * b.y + b.z * b.z);
    if (!(Math.abs(size) > 0)) return false;
    out[at] = b.x / size;
    out[at + 1] = b.y / size;
    out[at + 2] = b.z / size;
    return true;
  };

  const k = new Float64Array(21);
  let { x, y, z } = from;
  const points = [x, y, z];
  let length = 0;
  let step = BESIDE;
  if (!direction(x, y, z, k, 0)) return { points, end: -1 };
  while (length < LONGEST && x * x + y * y + z * z < LOST * LOST) {
    const h = Math.min(step, LONGEST_STEP, Math.max(BESIDE, clear(x, y, z)));
    let [nx, ny, nz] = [x, y, z];
    let hit = -1;
    for (let stage = 1; stage < 7 && hit < 0; stage++) {
      [nx, ny, nz] = [x, y, z];
      A[stage]!.forEach((a, s) => {
        nx += h * a * k[3 * s]!;
        ny += h * a * k[3 * s + 1]!;
        nz += h * a * k[3 * s + 2]!;
      });
      hit = bodyAt(nx, ny, nz);
      if (hit < 0 && !direction(nx, ny, nz, k, 3 * stage)) return { points, end: -1 };
    }
    if (hit >= 0 && h > LAST) {
      step = 0.5 * h;
      continue;
    }
    if (hit >= 0) {
      const inside = insides[hit]!;
      const t = metAt((s) => inside(x + s * k[0]!, y + s * k[1]!, z + s * k[2]!), h);
      points.push(x + t * k[0]!, y + t * k[1]!, z + t * k[2]!);
      return { points, end: hit };
    }
    const off = h * Math.hypot(sum(k, 0), sum(k, 1), sum(k, 2));
    const angle = turned(k);
    const fit = Math.min((TOLERANCE / Math.max(off, 1e-12)) ** 0.2, TURN / Math.max(angle, 1e-9));
    // Where the field itself has a kink, as beside an edge, the shortest step has to do.
    if (fit < 1 && h > SHORTEST) {
      step = Math.max(SHORTEST, h * Math.max(0.2, 0.9 * fit));
      continue;
    }
    handOut(points, hermite([x, y, z], [nx, ny, nz], k, h), angle);
    [x, y, z] = [nx, ny, nz];
    length += h;
    k.copyWithin(0, 18, 21);
    step = h * Math.min(4, Math.max(1, 0.9 * fit));
  }
  return { points, end: -1 };
}

/** The error along one axis for a step of one, from the stages. */
function sum(k: Float64Array, axis: number): number {
  let all = 0;
  for (let s = 0; s < 7; s++) all += ERROR[s]! * k[3 * s + axis]!;
  return all;
}

/** Angle between the directions at both ends of a step, rad. */
function turned(k: Float64Array): number {
  const cosine = k[0]! * k[18]! + k[1]! * k[19]! + k[2]! * k[20]!;
  return Math.acos(Math.min(1, Math.max(-1, cosine)));
}

type Triple = readonly [number, number, number];
type Bow = (t: number) => Triple;

/** The cubic with the places and directions at both ends of a step. */
function hermite(p: Triple, q: Triple, k: Float64Array, h: number): Bow {
  const from = [k[0]!, k[1]!, k[2]!];
  const to = [k[18]!, k[19]!, k[20]!];
  return (t) => {
    const s = 1 - t;
    const [p0, p1, m0, m1] = [(1 + 2 * t) * s * s, t * t * (3 - 2 * t), h * t * s * s, -h * t * t * s];
    const on = (i: 0 | 1 | 2): number => p0 * p[i] + p1 * q[i] + m0 * from[i]! + m1 * to[i]!;
    return [on(0), on(1), on(2)];
  };
}

/** How far it is straight on to where a body begins, which is met about so far away, m. */
function metAt(inside: (way: number) => boolean, about: number): number {
  let [out, within] = [0, 2 * about];
  while (within - out > MET) {
    const way = 0.5 * (out + within);
    if (inside(way)) within = way;
    else out = way;
  }
  return out;
}

/** Adds points of the bow, so many that the line looks bent. */
function handOut(points: number[], bow: Bow, angle: number): void {
  const pieces = Math.max(1, Math.ceil(angle / BENT));
  for (let i = 1; i <= pieces; i++) points.push(...bow(i / pieces));
}
