/**
 * How fast a partial dies away: losses within the string and to the air by a published model, and losses through the
 * supports as a stated assumption.
 */
import type { SoundingString } from './note.ts';

/** Pa·s and kg/m³ of air near 20 °C. Source: [Issanchou2017]. */
const AIR_VISCOSITY = 1.8e-5;
const AIR_DENSITY = 1.2;
/** Viscoelastic and remaining ("thermal") losses of steel strings. Source: [Pate2014], [Issanchou2017] (from memory). */
const VISCOELASTIC_LOSS = 4.5e-3;
const REMAINING_LOSS = 2.03e-4;

/**
 * Mobility (real part of the admittance, m/s per N = s/kg) of the two supports together, for movement towards the top
 * and across it. ASSUMPTION, the same at every frequency: chosen so that open strings of a solid guitar take
 * about 9 to 20 s to fall by 60 dB in the first stage, as they do in practice, and so that the direction in which
 * neck and bridge are stiffer rings on as a second, slower stage.
 */
export const SUPPORT_MOBILITY = { towards: 3e-3, across: 1e-3 } as const;

/** Direction in which a string swings: towards the pickup or across it. */
export type Polarisation = keyof typeof SUPPORT_MOBILITY;

/**
 * Loss factor 1/Q of a steel string by itself at `frequency` (Hz): air, bending of the core, remaining losses,
 *
 *     1/Q = R/(2πµf) + 4π²µ E I δ f²/T² + 1/Q0,   R = 2πη + 2πd √(πηρf).
 *
 * Source: [Valette1993] as used by [Pate2014] and [Issanchou2017]. For a wound string d is its outer diameter and I
 * that of the core; the friction between core and wrap is not in the model.
 * Example: plain 0.330 mm, 247 Hz, 68.5 N → 1/1750.
 */
export function intrinsicLoss(string: SoundingString, frequency: number): number {
  const { diameter, linearDensity } = string.spec;
  const drag =
    2 * Math.PI * AIR_VISCOSITY +
    2 * Math.PI * diameter * Math.sqrt(Math.PI * AIR_VISCOSITY * AIR_DENSITY * frequency);
  const air = drag / (2 * Math.PI * linearDensity * frequency);
  const bending =
    (4 * Math.PI ** 2 * linearDensity * string.stiffness * VISCOELASTIC_LOSS * frequency ** 2) /
    string.tension ** 2;
  return air + bending + REMAINING_LOSS;
}

/**
 * Decay rate (1/s, of the amplitude: e^(−αt)) of a partial at `frequency` (Hz). The string's own part is π f/Q. At the
 * supports a wave loses 2 Z G of its amplitude per round trip (Z = √(Tµ) the string's impedance, G the mobility, ZG ≪ 1),
 * hence 2 f0 Z G more a second. Source of the second part: a resistive end of a string, textbook [Fletcher1998].
 */
export function decayRate(string: SoundingString, frequency: number, polarisation: Polarisation): number {
  const impedance = Math.sqrt(string.tension * string.spec.linearDensity);
  const support = 2 * string.frequency * impedance * SUPPORT_MOBILITY[polarisation];
  return Math.PI * frequency * intrinsicLoss(string, frequency) + support;
}

/** Time (s) to fall by 60 dB at a decay rate (1/s). */
export function fallTime(rate: number): number {
  return (3 * Math.LN10) / rate;
}
