/**
 * How rings about one common axis act on each other: the mean normal field on ring i of a unit charge density on
 * ring j. Mode 0 counts flux through discs, which makes flux conservation exact; mode 1 integrates the kernel.
 */
import { gaussLegendre } from '../../numerics/quadrature.ts';
import { discFlux, ringField } from './ringKernel.ts';
import type { RingField } from './ringKernel.ts';
import type { RingMesh } from '../bodies/ringMesh.ts';
import { addSlopes, panelPoints } from '../bodies/ringPoints.ts';
import type { PanelPoints } from '../bodies/ringPoints.ts';

/** Quadrature points on a source panel. */
const SOURCE_POINTS = 8;
/** Points on a target panel, mode 1. */
const TARGET_POINTS = 4;
/** A source point is moved off its surface by this share of the body's radius, to say on which side it lies. */
const OFF_SURFACE = 1e-9;

/**
 * Mode 0: entry (i, j) is the mean outward normal field on ring i of `target` for density 1 on ring j of `source`;
 * on the diagonal of a body with itself the principal value.
 *
 * @param rise height of the source's frame above the target's, m
 * @param itself whether both meshes are one body; otherwise they are two that do not overlap (they may touch)
 * @returns target.n × source.n, row-major. Σ_i A_i K_ij is A_j/2 within a body and 0 between two, to rounding.
 */
export function ringBlock0(target: RingMesh, source: RingMesh, rise: number, itself: boolean): Float64Array {
  const block = new Float64Array(target.n * source.n);
  const odd = new Float64Array(target.n * source.n);
  const through = new Float64Array(target.n + 1);
  const throughOdd = new Float64Array(target.n + 1);
  // Outside its own body, so that nothing is enclosed; inside it when another body may touch that surface.
  const off = (itself ? 1 : -1) * OFF_SURFACE * source.radius;
  for (let j = 0; j < source.n; j++) {
    const points = panelPoints(source, j, SOURCE_POINTS, true);
    through.fill(0);
    throughOdd.fill(0);
    for (let k = 0; k < SOURCE_POINTS; k++) {
      const a = points.r[k]! + off * source.normalR[j]!;
      const z = points.z[k]! + off * source.normalZ[j]! + rise;
      const weight = points.weight[k]!;
      for (let i = 1; i < target.n; i++) {
        const flux = weight * discFlux(target.nodeR[i]!, target.nodeZ[i]! - z, a);
        through[i] = through[i]! + flux;
        throughOdd[i] = throughOdd[i]! + flux * points.along[k]!;
      }
    }
    for (let i = 0; i < target.n; i++) {
      block[i * source.n + j] = (through[i]! - through[i + 1]!) / target.area[i]!;
      odd[i * source.n + j] = (throughOdd[i]! - throughOdd[i + 1]!) / target.area[i]!;
    }
    // The flux was counted just inside the charged surface, half the density below the principal value.
    if (itself) block[j * source.n + j] = block[j * source.n + j]! + 0.5;
  }
  addSlopes(block, odd, source);
  return block;
}

const field0: RingField = { radial: 0, axial: 0, azimuthal: 0 };
const field1: RingField = { radial: 0, axial: 0, azimuthal: 0 };

/**
 * Mode 1, densities cos φ on both, 1: as `ringBlock0`, with the kernel's own integrable singularity on the diagonal.
 * @param rise m
 */
export function ringBlock1(target: RingMesh, source: RingMesh, rise: number, itself: boolean): Float64Array {
  const block = new Float64Array(target.n * source.n);
  const odd = new Float64Array(target.n * source.n);
  const onSource = Array.from({ length: source.n }, (_, j) => panelPoints(source, j, SOURCE_POINTS, true));
  for (let i = 0; i < target.n; i++) {
    const points = panelPoints(target, i, TARGET_POINTS, false);
    for (let j = 0; j < source.n; j++) {
      total.even = 0;
      total.odd = 0;
      for (let k = 0; k < TARGET_POINTS; k++) {
        const r = points.r[k]!;
        const z = points.z[k]!;
        if (itself && i === j) addPanelOnItself(target, i, r, z, points.along[k]!, points.weight[k]!);
        else addPanelOnPoint(onSource[j]!, target, i, r, z - rise, points.weight[k]!);
      }
      block[i * source.n + j] = total.even / target.area[i]!;
      odd[i * source.n + j] = total.odd / target.area[i]!;
    }
  }
  addSlopes(block, odd, source);
  return block;
}

/** Sums of the pair at hand: for density 1, and for a density equal to the distance from the panel's centre. */
const total = { even: 0, odd: 0 };

function addPanelOnPoint(
  source: PanelPoints,
  target: RingMesh,
  i: number,
  r: number,
  z: number,
  weight: number,
): void {
  for (let k = 0; k < source.r.length; k++) {
    ringField(r, z - source.z[k]!, source.r[k]!, field0, field1);
    const normal = target.normalR[i]! * field1.radial + target.normalZ[i]! * field1.axial;
    const share = weight * source.weight[k]! * normal;
    total.even += share;
    total.odd += share * source.along[k]!;
  }
}

/** The logarithm at the point itself is met by splitting the panel there and squaring the variable on both sides. */
function addPanelOnItself(
  mesh: RingMesh,
  i: number,
  r: number,
  z: number,
  along: number,
  weight: number,
): void {
  if (mesh.normalR[i] === 0) return; // A flat ring has no normal field in its own plane.
  const rule = gaussLegendre(SOURCE_POINTS);
  for (const end of [0, 1]) {
    const dr = mesh.nodeR[i + end]! - r;
    const dz = mesh.nodeZ[i + end]! - z;
    const length = Math.hypot(dr, dz);
    const sense = end === 1 ? 1 : -1;
    for (let k = 0; k < SOURCE_POINTS; k++) {
      const t = 0.5 * (1 + rule.x[k]!);
      const a = r + t * t * dr;
      ringField(r, -t * t * dz, a, field0, field1);
      const normal = mesh.normalR[i]! * field1.radial + mesh.normalZ[i]! * field1.axial;
      const share = weight * 2 * Math.PI * a * length * rule.w[k]! * t * normal;
      total.even += share;
      total.odd += share * (along + sense * t * t * length);
    }
  }
}
