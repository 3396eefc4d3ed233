/** Demagnetisation curves of alnico and the linear stand-in at a body's working point. */
import { MU0 } from '../../numerics/constants.ts';
import type { MagnetMaterial } from './materials.ts';

/**
 * Shape factor a of B = Br (1 − h)/(1 − a h), h = −H/Hc, that gives the catalogue's energy product.
 *
 * @param fullness (BH)max / (Br Hc), 0.25 (a straight line, a = 0) to 1 (a rectangle, a = 1)
 * Source: the two-parameter hyperbola of [Parker1990] ch. 2: a = (2√γ − 1)/γ.
 */
function curveShape(fullness: number): number {
  return (2 * Math.sqrt(fullness) - 1) / fullness;
}

/**
 * B (T) at H (A/m, −Hc ≤ H ≤ 0) on the curve; beyond either end along its tangent.
 *
 * @param strength share of full magnetisation, above 0 to 1. By convention it shrinks the curve along both axes, so that
 *   a magnet standing alone gives this share of its field: what a maker measures when he knocks a magnet down.
 */
export function curveFluxDensity(material: MagnetMaterial, strength: number, H: number): number {
  const { remanence, coercivity, energyProduct, recoil } = material;
  const Br = strength * remanence;
  if (H >= 0) return Br + MU0 * recoil * H;
  const a = curveShape(energyProduct / (remanence * coercivity));
  const h = -H / (strength * coercivity);
  if (h > 1) return (Br * (1 - h)) / (1 - a);
  return (Br * (1 - h)) / (1 - a * h);
}

/** A linear law B = µ0 µ H + Br. */
export interface LinearLaw {
  readonly mu: number;
  /** T. */
  readonly remanence: number;
  /** Relative permeability of every zone of a box of steel that saturates, from the lowest up; of which `mu` is a mean. */
  readonly zones?: readonly number[];
}

/**
 * The chord from the remanence to the point of the curve that lies on the load line B = slope · H.
 *
 * @param slope mean B over mean H of the body, T·m/A, below 0
 * @param strength as for curveFluxDensity
 * A chord and not the recoil line: the tips of an open rod sit past the knee, and the chord follows them (by itself
 * within 2 % from 1 mm on for alnico 5 and 4 % for alnico 2; the recoil line is up to 37 % off). Rods go on from there
 * to their zones, see rodOnCurve; bars of alnico stay with it.
 */
export function chordLaw(material: MagnetMaterial, strength: number, slope: number): LinearLaw {
  const Br = strength * material.remanence;
  if (material.law === 'straight') return { mu: material.recoil, remanence: Br };
  const a = curveShape(material.energyProduct / (material.remanence * material.coercivity));
  // Br (1 − h) = −slope Hc h (1 − a h), the smaller root; p = −slope Hc / Br.
  const Hc = strength * material.coercivity;
  const p = (-slope * Hc) / Br;
  const b = 1 + p;
  const h = 2 / (b + Math.sqrt(Math.max(0, b * b - 4 * a * p)));
  return chordTo(material, strength, -Hc * h);
}

/**
 * The chord to the curve's point at H, whatever its sign: beyond the remanence it is the recoil line, beyond the
 * coercivity it stays the chord to that. (A magnet driven so far is being demagnetised, which no law of one value
 * describes; MagnetSolution's working points tell.) No chord is flatter than the recoil line, as no magnet is; the hyperbola of
 * alnico 5 is, close to the remanence.
 */
export function chordTo(material: MagnetMaterial, strength: number, H: number): LinearLaw {
  const Br = strength * material.remanence;
  if (H >= 0 || material.law === 'straight') return { mu: material.recoil, remanence: Br };
  const within = Math.max(H, -strength * material.coercivity);
  const mu = (curveFluxDensity(material, strength, within) - Br) / (MU0 * within);
  return { mu: Math.max(material.recoil, mu), remanence: Br };
}
