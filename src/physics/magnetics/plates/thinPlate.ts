/** How thick a cover or a base plate may be where its currents are those of a plate without thickness. */
import { MU0 } from '../../numerics/constants.ts';

/**
 * Share of the skin depth up to which a plate may be thick. Against the exact plate [DoddDeeds1968] under a filament 2 mm
 * above, what it takes from the coil is 3–5 % off there at 0.3–0.5 mm, and 6–13 % at 0.7–2 mm, whose lower face is
 * farther from the coil as well.
 */
const THIN = 0.75;

/** Depth (m) to which currents of a frequency (Hz) enter a metal that is not magnetic: √(ρ/(π f µ0)). @param resistivity Ω·m */
function skinDepth(resistivity: number, frequency: number): number {
  return Math.sqrt(resistivity / (Math.PI * frequency * MU0));
}

/** Frequency (Hz) up to which a plate of this thickness (m) counts as thin. */
export function thinUpTo(resistivity: number, thickness: number): number {
  return (THIN ** 2 * resistivity) / (Math.PI * MU0 * thickness ** 2);
}

/** Thickness (m) up to which a plate counts as thin at a frequency (Hz). */
export function thinAt(resistivity: number, frequency: number): number {
  return THIN * skinDepth(resistivity, frequency);
}
