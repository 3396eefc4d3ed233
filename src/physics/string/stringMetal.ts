/** What of a string is magnetic: the core, and the wrap where it is of steel or nickel. */
import type { SteelLaw } from './steelLaw.ts';
import { acrossOfWrap, alongOfWrap, type WrapMaterial } from './woundSteel.ts';

/** Lengths in m; every M is a moment per length over the core's section. */
export interface StringMetal {
  /** Of the core. */
  readonly radius: number;
  /** Radius at which the flux that runs along the string leaves it. */
  readonly reach: number;
  /** M along the string against the field inside. */
  readonly law: SteelLaw;
  /** M across the string for a field H across it. */
  readonly across: number;
}

/**
 * M = 2H across: the limit of a cylinder of high permeability in a transverse field. At µr 100 the cylinder alone takes
 * 2 % less, and the pole's answer to the string, which is left out, gives about as much back (see the tests).
 */
export const ACROSS_GAIN = 2;

/** A plain string. @param radius m; @param susceptibility at small fields; @param saturation A/m; Infinity: linear */
export function plainMetal(radius: number, susceptibility: number, saturation: number): StringMetal {
  return { radius, reach: radius, law: [{ susceptibility, saturation, gaps: 0 }], across: ACROSS_GAIN };
}

/**
 * @param core as plainMetal gives it; @param outer radius of the wound string, m
 * @param wrap its metal; the layer is one of round wire
 */
export function woundMetal(core: StringMetal, outer: number, wrap: WrapMaterial): StringMetal {
  const { radius, law } = core;
  const [steel] = law;
  const ratio = outer / radius;
  const part = alongOfWrap(ratio, wrap);
  if (!part) return core;
  const across = acrossOfWrap(ratio, 1 + steel.susceptibility, wrap.permeability);
  return {
    radius,
    // As thick as the plain string that takes as much across.
    reach: radius * Math.sqrt(across),
    law: [steel, part],
    across: ACROSS_GAIN * across,
  };
}
