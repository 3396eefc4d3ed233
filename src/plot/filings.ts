/**
 * Iron filings: short strokes of equal length that lie along a field, the more and the heavier the stronger it is.
 * A stroke's place is its own and belongs to the field's frame: when the field changes strokes turn, come and go,
 * but never wander.
 */
import { FieldSampler, type PlaneField, type Vector2 } from './planeField.ts';

/** From the field's frame (m) to the screen (px): x = x0 + perU·u, y = y0 + perV·v. */
export interface ToScreen {
  readonly x0: number;
  readonly perU: number;
  readonly y0: number;
  readonly perV: number;
}

export interface FilingsOptions {
  readonly screen: ToScreen;
  /** What is seen, px. */
  readonly width: number;
  readonly height: number;
  /** Of a stroke, px. */
  readonly length?: number;
  /** Strokes on a thousand square pixels where the field is strongest. */
  readonly crowd?: number;
  /** At and below `weakest` strokes are rarest and thinnest, at and above `strongest` densest and darkest; T. */
  readonly weakest?: number;
  readonly strongest?: number;
}

export interface Filings {
  /** A stroke's start, control point and end (a parabola), px: six numbers each, in the order of their weight. */
  readonly strokes: Float32Array;
  /** Strokes of weight class k are those from `ends[k − 1]` (0 for the first) to before `ends[k]`. */
  readonly ends: Int32Array;
}

/** Classes of weight, thinnest first. */
export const WEIGHTS = 6;

/** Share of places that keep their stroke where the field is weakest: the paper is never bare. */
const RAREST = 0.13;
/** How far a place is moved at random, of the spacing of the places before it: enough to hide their regularity. */
const SCATTER = 0.42;
/** px; the most that scatter moves a place. */
const MOST_SCATTER = 9;

/**
 * Places follow an additive recurrence whose every beginning is spread evenly over the plane, so that thinning by rank
 * leaves an even density anywhere [Roberts2018]; the plastic number's powers are its steps.
 */
const STEP_U = 0.7548776662466927;
const STEP_V = 0.5698402909980532;

/**
 * The strokes of a picture: length 12 px, 70 on a thousand square pixels, 1 to 120 mT unless
 * given; 60,000 places at most.
 *
 * @param field T, places in m
 */
export function filings(field: PlaneField, options: FilingsOptions): Filings {
  const { screen, width, height, length = 12, crowd = 70, weakest = 1e-3, strongest = 0.12 } = options;
  const sampler = new FieldSampler(field);
  const wide = (field.nu - 1) * field.step;
  const high = (field.nv - 1) * field.step;
  const area = Math.abs(wide * screen.perU * high * screen.perV);
  const places = Math.min(60_000, Math.ceil((crowd * area) / 1000));
  const lists = Array.from({ length: WEIGHTS }, (): number[] => []);
  const b: Vector2 = { u: 0, v: 0 };
  const span = Math.log(strongest / weakest);
  for (let i = 0; i < places; i++) {
    // Spacing of the first i places on the screen, turned into the field's frame.
    const scatter = Math.min(MOST_SCATTER, SCATTER * Math.sqrt(area / (i + 1)));
    const u = field.u0 + wide * part(0.5 + i * STEP_U) + ((2 * noise(2 * i) - 1) * scatter) / screen.perU;
    const v = field.v0 + high * part(0.5 + i * STEP_V) + ((2 * noise(2 * i + 1) - 1) * scatter) / screen.perV;
    const x = screen.x0 + screen.perU * u;
    const y = screen.y0 + screen.perV * v;
    if (x < -length || x > width + length || y < -length || y > height + length) continue;
    if (!sampler.at(u, v, b)) continue;
    const strength = Math.hypot(b.u, b.v);
    const share = Math.min(1, Math.max(0, Math.log(strength / weakest) / span));
    const kept = RAREST + (1 - RAREST) * share ** 1.4;
    if (i >= kept * places || !(strength > 0)) continue;
    const weight = Math.min(WEIGHTS - 1, Math.floor(share * WEIGHTS));
    stroke(sampler, screen, u, v, b, 0.5 * length, lists[weight]!);
  }
  const ends = new Int32Array(WEIGHTS);
  let total = 0;
  lists.forEach((list, k) => (ends[k] = total += list.length / 6));
  const strokes = new Float32Array(6 * total);
  let at = 0;
  for (const list of lists) {
    strokes.set(list, at);
    at += list.length;
  }
  return { strokes, ends };
}

const beside: Vector2 = { u: 0, v: 0 };

/** Half a length forwards and backwards along the field, each by a midpoint step; then the parabola through all three. */
function stroke(
  sampler: FieldSampler,
  { x0, perU, y0, perV }: ToScreen,
  u: number,
  v: number,
  b: Vector2,
  half: number,
  to: number[],
): void {
  const x = x0 + perU * u;
  const y = y0 + perV * v;
  let ends = 0;
  const end = [0, 0, 0, 0];
  for (const way of [-1, 1]) {
    let sx = perU * b.u;
    let sy = perV * b.v;
    let size = (way * half) / Math.hypot(sx, sy);
    const mu = u + (0.5 * sx * size) / perU;
    const mv = v + (0.5 * sy * size) / perV;
    // At a body's surface or the picture's edge the stroke goes straight on.
    if (sampler.at(mu, mv, beside)) {
      const tx = perU * beside.u;
      const ty = perV * beside.v;
      const turned = Math.hypot(tx, ty);
      if (turned > 0) {
        sx = tx;
        sy = ty;
        size = (way * half) / turned;
      }
    }
    end[ends++] = x + sx * size;
    end[ends++] = y + sy * size;
  }
  const [ax, ay, bx, by] = end as [number, number, number, number];
  to.push(ax, ay, 2 * x - 0.5 * (ax + bx), 2 * y - 0.5 * (ay + by), bx, by);
}

const part = (value: number): number => value - Math.floor(value);

/** 0–1 for an index, always the same: an integer hash (finaliser of a 32-bit mixing function). */
function noise(index: number): number {
  let h = Math.imul(index + 1, 0x9e3779b1);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return ((h ^ (h >>> 16)) >>> 0) / 2 ** 32;
}
