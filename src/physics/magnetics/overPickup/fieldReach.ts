/**
 * Reach by reciprocity: how strongly a coil hears a small movement of the string at each place,
 *
 *     S_z = µ0 A [ M · ∂z h + m · ∂z H ],     S_y likewise,
 *
 * M what the magnets make of the string, m the small magnetisation that one ampere-turn in the coil adds to it.
 */
import { MU0 } from '../../numerics/constants.ts';
import type { LineField } from './lineField.ts';
import { magnetise, overSection, respond } from '../../string/magnetisation.ts';
import type { Magnetised, Wire } from '../../string/magnetisation.ts';

/** One turn's reach at the string's samples, Wb/m²: multiply by turns for volts per (m/s) and metre of string. */
export interface FieldReach {
  readonly z: Float64Array;
  readonly y: Float64Array;
}

/** The string in the magnets' field. */
export interface MagnetisedString {
  readonly wire: Wire;
  readonly state: Magnetised;
  /** M along, as the section's mean acts on a field given on the axis. */
  readonly along: Float64Array;
  readonly field: LineField;
}

/**
 * The string as the magnets make it.
 *
 * @param field of the magnets at the wire's samples, A/m; it must have died away at both ends
 * @throws RangeError as magnetise does
 */
export function magnetiseString(wire: Wire, field: LineField): MagnetisedString {
  const state = magnetise(wire, field.Hx);
  return { wire, state, along: overSection(wire, state.M), field };
}

/**
 * @param string in the magnets' field, A/m
 * @param coil field along the same samples for one ampere-turn, cores included
 * Source: reciprocity of a coil and a moving dipole, [Brown1962] ch. 4; the demagnetising operator is symmetric, so
 * that the string's own field needs no extra term.
 */
export function fieldReach(string: MagnetisedString, coil: LineField): FieldReach {
  const { wire, state, along, field } = string;
  const response = overSection(wire, respond(wire, state, coil.Hx));
  const gain = wire.metal.across;
  const section = MU0 * wire.section;
  const z = new Float64Array(wire.size);
  const y = new Float64Array(wire.size);
  for (let i = 0; i < wire.size; i++) {
    const M = along[i]!;
    const m = response[i]!;
    z[i] =
      section *
      (M * coil.zHx[i]! +
        m * field.zHx[i]! +
        gain *
          (field.Hz[i]! * coil.zHz[i]! +
            coil.Hz[i]! * field.zHz[i]! +
            field.Hy[i]! * coil.yHz[i]! +
            coil.Hy[i]! * field.yHz[i]!));
    y[i] =
      section *
      (M * coil.yHx[i]! +
        m * field.yHx[i]! +
        gain *
          (field.Hz[i]! * coil.yHz[i]! +
            coil.Hz[i]! * field.yHz[i]! +
            field.Hy[i]! * coil.yHy[i]! +
            coil.Hy[i]! * field.yHy[i]!));
  }
  return { z, y };
}

/**
 * ∫ S_z dx without S, Wb/m per turn: the string's answer is symmetric, so that m(h)·∂zH may be counted as h·m(∂zH).
 *
 * @param byZ of pull
 */
export function sensitivityOf(string: MagnetisedString, byZ: Float64Array, coil: LineField): number {
  const { wire, along, field } = string;
  const gain = wire.metal.across;
  let sum = 0;
  for (let i = 0; i < wire.size; i++) {
    sum +=
      along[i]! * coil.zHx[i]! +
      byZ[i]! * coil.Hx[i]! +
      gain *
        (field.Hz[i]! * coil.zHz[i]! +
          coil.Hz[i]! * field.zHz[i]! +
          field.Hy[i]! * coil.yHz[i]! +
          coil.Hy[i]! * field.yHz[i]!);
  }
  return MU0 * wire.section * sum * wire.step;
}

/** Flux through the coil from the string, Wb per turn and ampere-turn of reference; its slope is the reach's area. */
export function stringFlux(string: MagnetisedString, coil: LineField): number {
  const { wire, along, field } = string;
  const gain = wire.metal.across;
  let sum = 0;
  for (let i = 0; i < wire.size; i++) {
    sum += along[i]! * coil.Hx[i]! + gain * (field.Hz[i]! * coil.Hz[i]! + field.Hy[i]! * coil.Hy[i]!);
  }
  return MU0 * wire.section * sum * wire.step;
}

/** Share of a Gaussian bell that lies within its full width at half maximum: erf √(ln 2). */
const WITHIN_HALF = 0.7609681085504878;

/**
 * Where a reach lies: the part of it that holds 76 % of ∫|S| dx, as much being left out at either end; for a Gaussian bell
 * its width is the full width at half maximum. Over a pole the reach has two humps, since there the string is magnetised
 * to either side, and one hump may be lower than the other: half a maximum would jump when the lower one comes to it,
 * this does not.
 *
 * @param step between samples, m
 * @returns width and place of its middle, m from the middle of the samples; 0 and 0 for a reach of nothing
 */
export function reachSpan(
  S: Float64Array,
  step: number,
): { readonly width: number; readonly middle: number } {
  let whole = 0;
  for (const value of S) whole += Math.abs(value);
  if (!(whole > 0)) return { width: 0, middle: 0 };
  const outside = 0.5 * (1 - WITHIN_HALF) * whole;
  /** Samples from one end to where so much lies outside; a sample stands for a step of even height about it. */
  const inwards = (at: (i: number) => number): number => {
    let left = outside;
    for (let i = 0; i < S.length; i++) {
      const here = Math.abs(S[at(i)]!);
      if (here > left) return i + left / here;
      left -= here;
    }
    return S.length;
  };
  const first = inwards((i) => i);
  const last = inwards((i) => S.length - 1 - i);
  return { width: (S.length - first - last) * step, middle: 0.5 * (first - last) * step };
}

/** ∫ S dx, Wb/m per turn: V for a string that moves at 1 m/s as a whole. @param step between samples, m */
export function reachArea(S: Float64Array, step: number): number {
  let sum = 0;
  for (const value of S) sum += value;
  return sum * step;
}
