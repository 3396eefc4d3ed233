/**
 * What a layer of round wire does for a string's magnetisation, from the core's and the outer diameter and the metals:
 * across, how much more moment the string takes than its core alone; along, the moment that adds to the core's.
 * Lengths are in radii of the core; moments are those of the core's section.
 */
import { WRAP_FILL } from '../../shape/wrap.ts';
import type { SteelPart } from './steelLaw.ts';

/** A wrap's metal. */
export interface WrapMaterial {
  /** Relative, at small fields. */
  readonly permeability: number;
  /** Ms, A/m. */
  readonly saturation: number;
}

/** Gap between two turns over the wire's diameter (common practice: turns touch but for their roundness and plating). */
const TURN_GAP = 0.01;

/** The layer as so many shells of even permeability; with twice as many the answer moves by less than 2e-4. */
const SHELLS = 48;

/** Evenly spaced in θ, y = ½ w sin θ from the middle of the wire: thin at the layer's edges, where most changes. */
const angleOf = (i: number): number => Math.PI * (i / SHELLS - 0.5);
const radiusOf = (i: number, wire: number): number => 1 + 0.5 * wire * (1 + Math.sin(angleOf(i)));

/**
 * How far inside the outer diameter the layer seems to end for a field from outside, over the wire's diameter: between the
 * backs of its turns lies air. Fitted to finite elements, see acrossOfWrap.
 */
const HOLLOW = 0.061;

/**
 * Transverse moment of the wound string over that of its core alone.
 *
 * The turns carry flux round the string well, and in and out through what metal there is at each radius, a share
 * √(1 − (2y/w)²) of the wire's diameter at y from its middle: a pile of thin shells. With the potential f(r) cos φ and
 * Y = µ r f′/f, continuous from shell to shell, the moment is 2 (Y − 1)/(Y + 1) of what lies within.
 *
 * @param ratio outer diameter over core diameter, 1–6; 1 gives 1
 * @param core relative permeability of the core, above 1; @param wrap of the wrap, 1–200
 * Digits: within 1 % of finite elements (separate rings that touch the core, 1 % apart; tests/reference/wound-strings).
 * Saturation is left out: across, a cylinder takes hardly more than twice the field, 0.3 T where that is 0.15 T.
 * Example: 2.875, 100, 100 → 7.57; 2.875, 100, 20 → 6.95.
 */
export function acrossOfWrap(ratio: number, core: number, wrap: number): number {
  const wire = ratio - 1;
  if (!(wire > 0) || wrap === 1) return 1;
  let Y = core;
  for (let i = 0; i < SHELLS; i++) {
    const filled = Math.cos(angleOf(i + 0.5));
    const mu = 1 + ((wrap - 1) * filled) / (1 + TURN_GAP);
    // Inside a shell f = r + g/r but for a factor.
    const g = ((mu - Y) / (mu + Y)) * (radiusOf(i, wire) / radiusOf(i + 1, wire)) ** 2;
    Y = (mu * (1 - g)) / (1 + g);
  }
  const ends = ratio - (HOLLOW * wire * (wrap - 1)) / (wrap + 1);
  return ((ends * ends * (Y - 1)) / (Y + 1)) * ((core + 1) / (core - 1));
}

/** How the steel's share of a turn's reluctance grows with its permeability, as flux crowds towards the gap. Fitted. */
const CROWDING = 0.164;

/**
 * Share of a layer's reluctance that grows as its steel saturates, however small the steel's own is: where the flux crowds
 * towards the gap, the steel saturates first. Fitted to finite elements with saturation.
 */
const LEAST_STEEL = 0.4;

/** Reluctance of a gap over that of as much air as a pitch of the layer takes: 1/(π√(a/g)) [exact: two close cylinders]. */
const GAP = 1 / (Math.PI * Math.sqrt(0.5 / TURN_GAP));

/** Permeability along the string of a layer of rings side by side: gap and steel in series. */
const throughRings = (permeability: number): number =>
  1 / (GAP + (1 - GAP + CROWDING * Math.log(permeability)) / permeability);

/**
 * The wrap along the string, beside a core in the same field.
 *
 * Flux goes from turn to turn through the gaps, and along the wire of the helix, which leans by cos θ = p/√(p² + (2πr)²).
 *
 * @param ratio outer diameter over core diameter, above 1
 * @param metal of the wrap, relative permeability 1–200
 * @returns null for a wrap that is not magnetic
 * Digits: at small fields within 3 % of finite elements for rings, and for a helix; with saturation see the tests.
 * Example: 2.875 and µ 100, without the helix 1.11 of a core of µ 100, with it 1.22.
 */
export function alongOfWrap(ratio: number, { permeability, saturation }: WrapMaterial): SteelPart | null {
  if (!(ratio > 1) || !(permeability > 1)) return null;
  const wire = ratio - 1;
  const section = ratio * ratio - 1;
  const filled = WRAP_FILL / (1 + TURN_GAP);
  const layer = throughRings(permeability);
  const rings = layer - 1;
  const pitch = (1 + TURN_GAP) * wire;
  const round = Math.PI * (ratio + 1);
  const lean = pitch ** 2 / (pitch ** 2 + round ** 2);
  const ease = section * (rings + (filled * (permeability - 1) - rings) * lean);
  const most = section * filled * saturation;
  const steel = LEAST_STEEL + (1 - LEAST_STEEL) * (1 - GAP * layer);
  return { susceptibility: ease / steel, saturation: most, gaps: (1 - steel) / ease };
}
