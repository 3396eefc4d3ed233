/** Inductance of coils in air, per turn squared. */
import { MU0 } from '../../numerics/constants.ts';
import { gaussLegendre } from '../../numerics/quadrature.ts';
import type { Filaments } from './winding.ts';

/** Points on a piece of an arc, and on a straight side, which is many times longer. */
const ARC_POINTS = 3;
const SIDE_POINTS = 24;

/**
 * Mutual inductance of two coils, H per turn of one and turn of the other; of one coil with itself, its inductance
 * per turn squared.
 *
 * Filaments stand for cells of uniform current; a cell's distance from itself is its geometric mean distance
 * 0.2235 (w + h), and from those over and under it, where cells are thin, that of two pieces of one line.
 * Source: Neumann's double integral with the inner one in closed form; [Grover1946] ch. 3 for the mean distances.
 * Digits: 3e-3 for windows that are a quarter of the coil's radius and more, 1 % for a single layer (tests).
 */
export function mutualInductance(one: Filaments, other: Filaments): number {
  let sum = 0;
  const own = 0.2235 * (one.cell.width + one.cell.height);
  const thin = one.cell.height > THIN * one.cell.width;
  for (let f = 0; f < one.count; f++) {
    // Each pair of one coil's filaments counts twice.
    for (let g = one === other ? f : 0; g < other.count; g++) {
      const apart = other.z[g]! - one.z[f]!;
      const lift =
        one !== other
          ? apart
          : f === g
            ? own
            : thin && apart > 0
              ? meanDistance(apart, one.cell.height)
              : apart;
      sum += (one === other && f !== g ? 2 : 1) * linkage(one, f, other, g, lift);
    }
  }
  return (MU0 * sum) / (4 * Math.PI * one.count * other.count);
}

/** Cells higher than so many times their width have the mean distances of a line's pieces; others those of their middles. */
const THIN = 2.5;

/** Geometric mean distance of two pieces of one line, of one length, whose middles are `apart`; m. */
function meanDistance(apart: number, length: number): number {
  const twice = (x: number): number => (x === 0 ? 0 : 0.5 * x * x * Math.log(Math.abs(x)) - 0.75 * x * x);
  return Math.exp((twice(apart + length) - 2 * twice(apart) + twice(apart - length)) / length ** 2);
}

/**
 * ∮∮ dl·dl′/R of filament f with filament g, which lies `lift` above it. Of a coil with itself a quarter of the
 * circles and one straight side stand for the whole.
 */
function linkage(one: Filaments, f: number, other: Filaments, g: number, lift: number): number {
  const first = 2 * f * one.corners;
  let sum = 0;
  for (let k = 0; k < one.corners; k++) {
    const times = one === other ? likePieces(one.corners, k) : 1;
    if (times === 0) continue;
    const next = (k + 1) % one.corners;
    const x1 = one.at[first + 2 * k]!;
    const y1 = one.at[first + 2 * k + 1]!;
    const lx = one.at[first + 2 * next]! - x1;
    const ly = one.at[first + 2 * next + 1]! - y1;
    const long = Math.hypot(lx, ly) > one.radius[f]!;
    const rule = gaussLegendre(long ? SIDE_POINTS : ARC_POINTS);
    for (let p = 0; p < rule.x.length; p++) {
      const t = 0.5 * (1 + rule.x[p]!);
      sum += 0.5 * times * rule.w[p]! * alongPotential(other, g, x1 + t * lx, y1 + t * ly, lift, lx, ly);
    }
  }
  return sum;
}

/** How many pieces of a racetrack see a concentric one as piece k does; 0 where another stands for it. */
function likePieces(corners: number, k: number): number {
  const arc = corners / 2 - 1;
  if (k === arc) return 2;
  if (k > arc) return 0;
  return 2 * k < arc - 1 ? 4 : 2 * k === arc - 1 ? 2 : 0;
}

/** (lx, ly) · ∮ dl′/R of filament g at a point `lift` below it. */
function alongPotential(
  coil: Filaments,
  g: number,
  x: number,
  y: number,
  lift: number,
  lx: number,
  ly: number,
): number {
  const { corners, at } = coil;
  const first = 2 * g * corners;
  let ax = at[first + 2 * corners - 2]! - x;
  let ay = at[first + 2 * corners - 1]! - y;
  let a = Math.sqrt(ax * ax + ay * ay + lift * lift);
  let sum = 0;
  for (let k = 0; k < corners; k++) {
    const bx = at[first + 2 * k]! - x;
    const by = at[first + 2 * k + 1]! - y;
    const b = Math.sqrt(bx * bx + by * by + lift * lift);
    const dx = bx - ax;
    const dy = by - ay;
    const length = Math.sqrt(dx * dx + dy * dy);
    // A ring has no straight sides: those pieces are empty. ∫ dl/R = ln[(a + b + length)/(a + b − length)].
    if (length > 0) sum += ((dx * lx + dy * ly) / length) * Math.log((a + b + length) / (a + b - length));
    ax = bx;
    ay = by;
    a = b;
  }
  return sum;
}
