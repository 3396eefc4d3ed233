/** |B| at the strings' height over a pickup, and B at single places. */
import { insideOutline } from '../../shape/outline.ts';
import { stringArc } from '../../shape/stringCourse.ts';
import type { BuiltPickup } from '../magnetics/build/build.ts';
import { chargeField } from '../magnetics/charges/chargeField.ts';
import { MU0 } from '../numerics/constants.ts';
import type { Vector } from '../numerics/vector.ts';
import type { StringAbove } from '../magnetics/overPickup/stringLine.ts';
import { fieldOfBody } from './fieldOfBody.ts';
import { addBodyField, emptyNodeField, lattice } from './lattice.ts';
import { boxAround, outlineOf } from './outline.ts';
import { insideBody } from './sources.ts';
import type { FieldSources } from './sources.ts';
import type { PlanPicture, ProbeReading } from './types.ts';

/** Half of what the plan shows along the strings and at least across them, and beyond the outermost body, m. */
const HALF_X = 0.024;
const HALF_Y = 0.04;
const ASIDE = 0.01;
const STEP = 1e-3;
const COARSE = 3;
/** Within this of a body, seen from above, its field is taken at every node, m. */
const NEAR = 7e-3;

/** What a string's height depends on. */
export type SurfaceString = Pick<StringAbove, 'y' | 'outerDiameter'>;

/**
 * Height of the surface on which the strings' axes lie, m, at any place across; beyond the outer strings it goes on level.
 */
export function stringSurface(build: BuiltPickup, strings: readonly SurfaceString[]): (y: number) => number {
  const sorted = strings.toSorted((a, b) => a.y - b.y);
  const bass = sorted[0];
  const treble = sorted.at(-1);
  if (!bass || !treble) return () => 0.5 * (build.gapBass + build.gapTreble);
  const underside = stringArc(build, build.fretboardRadius, [bass.y, treble.y]);
  return (y) => {
    const held = Math.min(treble.y, Math.max(bass.y, y));
    return underside(held) + 0.5 * diameterAt(sorted, held);
  };
}

/** Outer diameter at a place across, straight between neighbouring strings, m. */
function diameterAt(sorted: readonly SurfaceString[], y: number): number {
  const right = sorted.findIndex((string) => string.y >= y);
  if (right <= 0) return sorted.at(right)!.outerDiameter;
  const a = sorted[right - 1]!;
  const b = sorted[right]!;
  return a.outerDiameter + ((b.outerDiameter - a.outerDiameter) * (y - a.y)) / (b.y - a.y);
}

/**
 * |B| in steps of 1 mm over 48 mm along the strings and 80 mm across, more where the poles reach farther, T.
 *
 * @param height of the surface over a place across, both m; see stringSurface
 * Digits: 1 % of the largest |B|.
 */
export function planPicture(sources: FieldSources, height: (y: number) => number): PlanPicture {
  const outermost = Math.max(0, ...sources.bodies.map(({ y }) => Math.abs(y)));
  const halfY = Math.max(HALF_Y, STEP * Math.ceil((outermost + ASIDE) / STEP));
  const nodes = lattice([-HALF_X, HALF_X], [-halfY, halfY], STEP, COARSE);
  const { u0, v0, step, nu, nv } = nodes;
  const heights = Float64Array.from({ length: nv + 3 * COARSE }, (_, j) => height(v0 + (j - COARSE) * step));
  const field = emptyNodeField(nodes);
  sources.bodies.forEach((body, b) => {
    const { left, right } = boxAround(body);
    const half = body.kind === 'box' ? 0.5 * body.mesh.size.y : body.mesh.radius;
    const surface = (u: number, v: number, out: Vector): void => {
      out.x = u;
      out.y = v;
      out.z = heights[Math.round((v - v0) / step) + COARSE]!;
    };
    const near = (u: number, v: number): boolean =>
      u > left - NEAR && u < right + NEAR && Math.abs(v - body.y) < half + NEAR;
    addBodyField(field, nodes, surface, fieldOfBody(sources, b), COARSE, near);
  });
  const values = Float32Array.from(field.x, (x, k) => MU0 * Math.hypot(x, field.y[k]!, field.z[k]!));
  return { x0: u0, y0: v0, step, nx: nu, ny: nv, values };
}

/** B at a point in the pickup's frame (m), T, inside a body too; as exact as the charges are. */
export function probeReading(sources: FieldSources, x: number, y: number, z: number): ProbeReading {
  const B: Vector = { x: 0, y: 0, z: 0 };
  chargeField(sources.coupling, sources.density, x, y, z, B, sources.second);
  const within = sources.bodies.findIndex((body) => {
    const outline = outlineOf(body, y);
    return outline !== null && insideOutline(outline, x, z);
  });
  if (within >= 0) insideBody(sources, within, z, B);
  else {
    B.x *= MU0;
    B.y *= MU0;
    B.z *= MU0;
  }
  return { x, y, z, bx: B.x, by: B.y, bz: B.z };
}
