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

/** What the magnets make of a string that has moved up: M along it as the section's mean, and the field across it, A/m, at its samples. */
type Raised = readonly [along: Float64Array, Hy: Float64Array, Hz: Float64Array];

/** The string in the magnets' field. */
export interface MagnetisedString {
  readonly wire: Wire;
  readonly state: Magnetised;
  /** M along, as the section's mean acts on a field given on the axis. */
  readonly along: Float64Array;
  readonly field: LineField;
  /** What is known of it where it has moved up by so much, m. */
  readonly raised: Map<number, Raised>;
}

/**
 * The string as the magnets make it.
 *
 * @param field of the magnets at the wire's samples, A/m; it must have died away at both ends
 * @throws RangeError as magnetise does
 */
export function magnetiseString(wire: Wire, field: LineField): MagnetisedString {
  const state = magnetise(wire, field.Hx);
  return { wire, state, along: overSection(wire, state.M), field, raised: new Map() };
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
