/** Where the magnets' flux goes: how much of it up through the plane of the tops, how much leaks back below. */
import { MU0 } from '../../numerics/constants.ts';
import { gaussLegendre } from '../../numerics/quadrature.ts';
import type { Vector } from '../../numerics/vector.ts';
import type { Coupling } from '../charges/assemble.ts';
import { chargeField } from '../charges/chargeField.ts';
import { times } from '../charges/chargeSolver.ts';
import type { BodyMaterial } from '../materials/bodyMaterial.ts';
import type { Charges, PlacedBodies } from '../pickup/chargedPickup.ts';

/** Flux through a flat rectangle, Wb: against an axis and along it, both above 0, what enters there and leaves. */
export interface FluxThrough {
  readonly along: number;
  readonly against: number;
}

/** A rectangle across an axis (0, 1, 2 for x, y, z), from `low` to `high` along the two that follow it, m. */
export interface FluxWindow {
  readonly axis: 0 | 1 | 2;
  readonly at: number;
  readonly low: readonly [number, number];
  readonly high: readonly [number, number];
}

/** Points of the rule along each edge of a cell. */
const POINTS = 2;

/**
 * Flux of solved charges through a window, Wb, in cells of about `cell` m.
 * Digits: 2e-3 where the window is a cell or more from a pole's edge.
 */
export function fluxThrough(
  coupling: PlacedBodies,
  { density, second }: Pick<Charges, 'density' | 'second'>,
  { axis, at, low, high }: FluxWindow,
  cell: number,
): FluxThrough {
  const rule = gaussLegendre(POINTS);
  const counts = [0, 1].map((k) => Math.max(1, Math.ceil((high[k]! - low[k]!) / cell)));
  const edges = counts.map((count, k) => (high[k]! - low[k]!) / count);
  const nodes = counts.map((count, k) =>
    Array.from({ length: count * POINTS }, (_, i) => {
      const middle = low[k]! + edges[k]! * (Math.floor(i / POINTS) + 0.5);
      return { at: middle + 0.5 * edges[k]! * rule.x[i % POINTS]!, share: 0.5 * rule.w[i % POINTS]! };
    }),
  ) as [Node[], Node[]];
  const area = MU0 * edges[0]! * edges[1]!;
  const H: Vector = { x: 0, y: 0, z: 0 };
  const place: [number, number, number] = [0, 0, 0];
  let along = 0;
  let against = 0;
  place[axis] = at;
  for (const one of nodes[0]) {
    for (const other of nodes[1]) {
      place[(axis + 1) % 3] = one.at;
      place[(axis + 2) % 3] = other.at;
      chargeField(coupling, density, ...place, H, second);
      const flux = area * one.share * other.share * [H.x, H.y, H.z][axis]!;
      if (flux > 0) along += flux;
      else against -= flux;
    }
  }
  return { along, against };
}

interface Node {
  readonly at: number;
  readonly share: number;
}

/**
 * Flux that leaves the magnets through their own surfaces, Wb: of a magnet alone what goes through its neutral plane. Magnets end to end count
 * each for itself.
 *
 * Source: outer normal field at a charged surface, µ0 (Kσ + σ/2) [Jackson1999] § 5.9.
 */
export function magnetFlux(
  coupling: Coupling,
  materials: readonly BodyMaterial[],
  density: Float64Array,
): number {
  const normal = times(coupling, density);
  let leaves = 0;
  coupling.bodies.forEach(({ mesh }, b) => {
    const material = materials[b]!;
    if (material.kind === 'steel' || (material.kind === 'linear' && material.law.remanence === 0)) return;
    const at = coupling.offsets[b]!;
    for (let i = 0; i < mesh.n; i++) {
      const out = normal[at + i]! + 0.5 * density[at + i]!;
      if (out > 0) leaves += MU0 * mesh.area[i]! * out;
    }
  });
  return leaves;
}

/** How far beyond all bodies the plane of the tops is looked at, how far above them it lies, and in what cells; m. */
const BEYOND = 10e-3;
const ABOVE = 0.5e-3;
const CELL = 1e-3;

/**
 * Flux that goes up through the plane of the tops (0.5 mm above the highest body, clear of the poles' edges), Wb, that of the magnets, and
 * the first over the second. What goes up comes down: of the two the greater counts, for the other reaches farther than the plane is
 * looked at. Takes about a second: for a figure at rest.
 * Digits: 0.01 of the share.
 */
export function fluxShare(
  coupling: Coupling,
  materials: readonly BodyMaterial[],
  magnets: Pick<Charges, 'density' | 'second'>,
): { readonly up: number; readonly own: number; readonly share: number } {
  const { along, against } = fluxThrough(coupling, magnets, topPlane(coupling), CELL);
  const up = Math.max(along, against);
  const own = magnetFlux(coupling, materials, magnets.density);
  return { up, own, share: own > 0 ? up / own : 0 };
}

/** The plane of the tops as fluxShare looks at it. */
export function topPlane({ bodies }: Pick<PlacedBodies, 'bodies'>): FluxWindow {
  const low: [number, number] = [Infinity, Infinity];
  const high: [number, number] = [-Infinity, -Infinity];
  let top = -Infinity;
  for (const body of bodies) {
    const [x, y] =
      body.kind === 'box'
        ? [0.5 * body.mesh.size.x, 0.5 * body.mesh.size.y]
        : [body.mesh.radius, body.mesh.radius];
    low[0] = Math.min(low[0], body.x - x - BEYOND);
    low[1] = Math.min(low[1], body.y - y - BEYOND);
    high[0] = Math.max(high[0], body.x + x + BEYOND);
    high[1] = Math.max(high[1], body.y + y + BEYOND);
    const half = body.kind === 'box' ? 0.5 * body.mesh.size.z : body.mesh.nodeZ[body.mesh.n]!;
    top = Math.max(top, body.z + half);
  }
  return { axis: 2, at: top + ABOVE, low, high };
}
