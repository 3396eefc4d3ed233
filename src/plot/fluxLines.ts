/** Flux lines: curves that run along a plane field from body to body, or to the edge of the picture. */
import { FieldSampler, type PlaneField, type Vector2 } from './planeField.ts';

export interface FluxLinesOptions {
  /** Length of a step along the line, m; half of the lattice's step unless given. */
  readonly step?: number;
  /** Longest line, m; twice round the picture unless given. */
  readonly longest?: number;
  /**
   * A line that ends at a body takes the place of a start of that body not farther away than this, m; twelve of the
   * lattice's steps unless given.
   */
  readonly reach?: number;
}

/** Points of a line, u and v in turn, m, in the direction of the field. */
export type FluxLine = Float64Array;

/**
 * Lines from starts on the outlines of bodies, given as u, v and 1 where the field leaves the body or −1 where it enters.
 * First those that leave are followed forwards; where one ends at a body, the nearest start there that enters is its end
 * and starts no line. Those left over are followed backwards. Method: classical fourth-order Runge–Kutta steps of equal
 * length along the field's direction [DLMF] 3.7.
 */
export function fluxLines(
  field: PlaneField,
  starts: ArrayLike<number>,
  options: FluxLinesOptions = {},
): readonly FluxLine[] {
  const { step = field.step / 2, reach = 12 * field.step } = options;
  const longest = options.longest ?? 4 * field.step * (field.nu + field.nv);
  const sampler = new FieldSampler(field);
  const most = Math.ceil(longest / step);
  const entering: Entry[] = [];
  const lines: FluxLine[] = [];
  for (let k = 0; k + 2 < starts.length; k += 3) {
    if (starts[k + 2]! < 0) entering.push(entry(sampler, starts[k]!, starts[k + 1]!, step));
  }
  for (let k = 0; k + 2 < starts.length; k += 3) {
    if (starts[k + 2]! < 0) continue;
    const { points, body } = walk(sampler, starts[k]!, starts[k + 1]!, step, most);
    lines.push(Float64Array.from(points));
    if (body >= 0) takeNearest(entering, body, points.at(-2)!, points.at(-1)!, reach);
  }
  for (const { u, v } of entering) {
    const { points } = walk(sampler, u, v, -step, most);
    const forwards = new Float64Array(points.length);
    for (let i = 0; i < points.length; i += 2) {
      forwards[i] = points[points.length - 2 - i]!;
      forwards[i + 1] = points[points.length - 1 - i]!;
    }
    lines.push(forwards);
  }
  return lines;
}

interface Entry {
  readonly u: number;
  readonly v: number;
  /** Which body is entered; −1 when that can't be told, which then counts for any. */
  readonly body: number;
}

function entry(sampler: FieldSampler, u: number, v: number, step: number): Entry {
  const known = direction(sampler, u, v, k1);
  return { u, v, body: known ? sampler.bodyAt(u + step * k1.u, v + step * k1.v) : -1 };
}

function takeNearest(places: Entry[], body: number, u: number, v: number, reach: number): void {
  let best = reach;
  let found = -1;
  places.forEach((place, i) => {
    if (place.body >= 0 && place.body !== body) return;
    const away = Math.hypot(place.u - u, place.v - v);
    if (away > best) return;
    best = away;
    found = i;
  });
  if (found >= 0) places.splice(found, 1);
}

const k1: Vector2 = { u: 0, v: 0 };
const k2: Vector2 = { u: 0, v: 0 };
const k3: Vector2 = { u: 0, v: 0 };
const k4: Vector2 = { u: 0, v: 0 };

/** Halvings of the last step: a body's surface or the edge is met to a hundredth of a step. */
const HALVINGS = 7;

function walk(
  sampler: FieldSampler,
  u: number,
  v: number,
  step: number,
  most: number,
): { points: number[]; body: number } {
  const points = [u, v];
  for (let i = 0; i < most; i++) {
    if (!direction(sampler, u, v, k1)) return { points, body: -1 };
    if (!takeStep(sampler, u, v, step)) break;
    u += k4.u;
    v += k4.v;
    points.push(u, v);
    if (i === most - 1) return { points, body: -1 };
  }
  // Straight on, as far as there is a field.
  let length = 0;
  let part = step;
  for (let i = 0; i < HALVINGS; i++) {
    part *= 0.5;
    if (direction(sampler, u + (length + part) * k1.u, v + (length + part) * k1.v, k2)) length += part;
  }
  points.push(u + length * k1.u, v + length * k1.v);
  const beyond = length + 2 * part;
  return { points, body: sampler.bodyAt(u + beyond * k1.u, v + beyond * k1.v) };
}

/** The whole step into k4, whose beginning k1 is known; false when the field ends on the way. */
function takeStep(sampler: FieldSampler, u: number, v: number, step: number): boolean {
  const half = 0.5 * step;
  if (!direction(sampler, u + half * k1.u, v + half * k1.v, k2)) return false;
  if (!direction(sampler, u + half * k2.u, v + half * k2.v, k3)) return false;
  if (!direction(sampler, u + step * k3.u, v + step * k3.v, k4)) return false;
  k4.u = (step / 6) * (k1.u + 2 * k2.u + 2 * k3.u + k4.u);
  k4.v = (step / 6) * (k1.v + 2 * k2.v + 2 * k3.v + k4.v);
  return direction(sampler, u + k4.u, v + k4.v, k2);
}

function direction(sampler: FieldSampler, u: number, v: number, out: Vector2): boolean {
  if (!sampler.at(u, v, out)) return false;
  const size = Math.hypot(out.u, out.v);
  if (!(size > 0)) return false;
  out.u /= size;
  out.v /= size;
  return true;
}
