/** Closed form of the uniformly magnetised cylinder: the yardstick for the boundary elements. */
import { cel } from '../../../src/physics/numerics/elliptic.ts';

/** Cylindrical components; the field has no azimuthal part. */
export interface AxialField {
  radial: number;
  axial: number;
}

/** One end's share of both components, the bare formula: see `cylinderFluxDensity` for cases and source. */
function end(radius: number, r: number, z: number, out: AxialField): void {
  const outer = radius + r;
  const distance = Math.hypot(z, outer);
  const gamma = (radius - r) / outer;
  const kc = Math.hypot(z, radius - r) / distance;
  out.radial = (radius / distance) * cel(kc, 1, 1, -1);
  // On the cylinder's own radius the two sides differ by the surface current; their mean drops the jump.
  const turn = gamma === 0 ? cel(kc, 1, 1, 1) : cel(kc, gamma * gamma, 1, gamma);
  out.axial = (radius / outer) * (z / distance) * turn;
}

const upper: AxialField = { radial: 0, axial: 0 };
const lower: AxialField = { radial: 0, axial: 0 };

/**
 * Flux density of a cylinder magnetised uniformly along its axis, in the unit of `polarisation`.
 * The cylinder stands on the z axis with its centre at the origin.
 *
 * @param polarisation µ0 M, T
 * @param radius m, above 0
 * @param length m, above 0
 * @param r distance from the axis, m, ≥ 0
 * @param z height above the centre, m
 * @param out radial and axial component, T, inside as well as outside
 * Case 1, r = radius: the axial component is the mean of both sides. Case 2, on a rim: infinite (NaN).
 * Source: [DerbyOlbert2010] eqs. 3–6, an ideal solenoid of the same surface current. Digits: 1e-13.
 */
export function cylinderFluxDensity(
  polarisation: number,
  radius: number,
  length: number,
  r: number,
  z: number,
  out: AxialField,
): void {
  end(radius, r, z + 0.5 * length, upper);
  end(radius, r, z - 0.5 * length, lower);
  const scale = polarisation / Math.PI;
  out.radial = scale * (upper.radial - lower.radial);
  out.axial = scale * (upper.axial - lower.axial);
}
