/** What the field engine answers about one pickup: plain data that crosses to another thread by cloning. */
import type { Charges } from '../magnetics/pickup/chargedPickup.ts';
import type { CoilFigures } from '../magnetics/pickup/solvePickup.ts';
import type { FluxCurve } from '../string/fluxCurve.ts';

/** A pickup each, in the sheet's order; null where there is no build. */
export type Fields = readonly (FieldAnswer | null)[];

/** One pickup's field, on its strings and for the circuit. */
export interface FieldAnswer {
  /** Samples along every string: the first one from the pickup's centre, m, positive towards the nut; and their distance. */
  readonly start: number;
  readonly step: number;
  /** String 1 first. */
  readonly strings: readonly FieldString[];
  /** A row each; empty of magnets and steel without a coil, whose reaches are nothing. */
  readonly coils: readonly FieldCoil[];
  /** Low-frequency inductance between two coils, H, in the sense in which they are wound; 0 for one coil. */
  readonly mutual: number;
  readonly warnings: readonly string[];
  /** On its magnets and steel, so that who needs the field elsewhere than on the strings solves nothing. */
  readonly charges: Charges;
}

/** A coil of the build, and what it brings to the circuit. */
export interface FieldCoil extends CoilFigures {
  readonly turnsThatFit: number;
  /** Share of the sensitivity that the cores bring at low frequency, mean over the strings. */
  readonly coreShare: number;
  /** Loops of eddy current in a cover and a base plate, the same for all coils of a pickup; null without any. */
  readonly loops: FieldLoops | null;
}

/** Loops of 1 Ω, a number each. */
export interface FieldLoops {
  /** L/R, s. */
  readonly tau: Float64Array;
  /** What the coil's current sends through them, H per turn, in air and by its cores. */
  readonly air: Float64Array;
  readonly core: Float64Array;
  /** What moving strings send through them over what they send through a turn of the coil, all strings together. */
  readonly moved: Float64Array;
}

/** One string over the pickup; rows in the sheet's order. */
export interface FieldString {
  readonly rows: readonly FieldRow[];
  /** Largest magnetisation over saturation, 0–1. */
  readonly saturation: number;
  /** Force per length, N/m (below 0: towards the pickup), and stiffness per length, N/m², at the samples. */
  readonly forceZ: Float64Array;
  readonly stiffnessZ: Float64Array;
  readonly stiffnessY: Float64Array;
}

/** A row's reach on one string, V·s/m per metre of string, for a coil whose hot end is the start of its winding. */
export interface FieldRow {
  /** For movement towards the pickup, and for movement across it, towards the treble side; samples in odd number. */
  readonly towards: Float64Array;
  readonly across: Float64Array;
  /** ∫ of `towards`, V·s/m; above 0 for north poles under a coil wound clockwise. */
  readonly area: number;
  readonly coreShare: number;
  /** See reachSpan; the middle from the pickup's centre, m. */
  readonly width: number;
  readonly middle: number;
  /** On the string over the row's centre, T. */
  readonly fluxDensity: number;
  /** Full width at half maximum of Bz along the string, and 1 mm above the tip of its pole, m. */
  readonly fieldWidth: number;
  readonly tipWidth: number;
  /** How the area changes as the string moves towards the pickup. */
  readonly curve: FluxCurve;
}
