/** What `predict` returns: plain data and typed arrays, SI units, ready to cross to another thread. */
import type { CurveFeatures } from './circuit/features.ts';

export type { Beginning } from './sound/beginning.ts';
export type { Sound } from './sound/render.ts';

export interface Prediction {
  readonly note: Note;
  /** The strings unstopped; index 0 is string 1. */
  readonly openStrings: readonly Note[];
  /** Fret positions, saddle to fret, m; index 0 is the nut. */
  readonly frets: Float64Array;
  /** Where the curves are sampled: logarithmic, 20 Hz to 20 kHz. */
  readonly frequencies: Float64Array;
  /** Every pickup alone in the sheet's order; when several sound together, their sum last. */
  readonly voices: readonly Voice[];
  /** Index into `voices` of what the selector lets through. */
  readonly sounding: number;
  /** What every pickup is, in the sheet's order, whether it sounds or not. */
  readonly pickups: readonly PickupOutcome[];
  /** What is played, as what the selector lets through hears it. */
  readonly phrase: PhraseNotes;
  /** Things a maker should know, in words; empty when all is well. */
  readonly warnings: readonly string[];
}

/** Every note of a phrase once. */
export interface PhraseNotes {
  /** s, after which it begins anew. */
  readonly seconds: number;
  readonly notes: readonly PhraseNote[];
}

/** A note, when it rings, and its partials. */
export interface PhraseNote {
  /** 1 is the highest. */
  readonly string: number;
  readonly fret: number;
  /** s from the beginning of the phrase; `until` may lie in its next round. */
  readonly rings: readonly { readonly from: number; readonly until: number }[];
  /** From the first on: all of them below 20 kHz where it is the only note, else twelve at most. */
  readonly partials: readonly PartialTone[];
}

/** One pickup as figures. */
export interface PickupOutcome {
  /** One a row; none without a coil. */
  readonly coils: readonly CoilOutcome[];
  /** The strings unstopped; index 0 is string 1. */
  readonly strings: readonly StringOutcome[];
}

/** One coil as figures: what counts, and what the build alone would give. */
export interface CoilOutcome {
  /**
   * As the circuit has it: Ω, H (at low frequency, with what the other coil adds), F; the loss as Ω across the inductance,
   * null for none, that of a computed core at the resonance with 500 pF of cable.
   */
  readonly resistance: number;
  readonly inductance: number;
  readonly capacitance: number;
  readonly coreLoss: number | null;
  /** What the build gives, typed over or not; null without a build. */
  readonly computed: ComputedCoil | null;
}

/** Ω, H (at low frequency, poles included) and F (of the bare winding) of a coil as it is built. */
export interface ComputedCoil {
  readonly resistance: number;
  readonly inductance: number;
  /** Without the poles, H. */
  readonly airInductance: number;
  readonly capacitance: number;
  /** Of a turn, m. */
  readonly meanTurn: number;
  /** How many the window takes. */
  readonly turnsThatFit: number;
}

/** One string over one pickup. */
export interface StringOutcome {
  /** Open circuit, V at its open note's frequency for 1 m of movement: as a figure the mV for 1 mm; 0 without a coil. */
  readonly level: number;
  /** Width of each row's reach, m: by hand the full width at half maximum, computed as reachSpan has it. */
  readonly widths: readonly number[];
  /** What the magnets do to it; null without a build. */
  readonly field: StringField | null;
}

/** One open string in the field of a build. */
export interface StringField {
  /** On the string over the row where it is strongest, T. */
  readonly fluxDensity: number;
  /** Of the field over each row, m: full width at half maximum of Bz along the string, and 1 mm above the tip of its pole. */
  readonly widths: readonly number[];
  readonly tipWidths: readonly number[];
  /** Largest magnetisation of the steel over its saturation, 0–1. */
  readonly saturation: number;
  /** Shift of the open note's first partial, cents (below 0: flat; −∞: as in Detuning), moving towards the pickup and across it. */
  readonly centsTowards: number;
  readonly centsAcross: number;
  /** Between the two, Hz. */
  readonly beat: number;
  /** How far the string is drawn towards the pickup at rest, m. */
  readonly drawnDown: number;
}

/** What keeps a pickup of the sheet from being computed: the place in the sheet, and a sentence. */
export interface SheetFault {
  /** From the sheet's root, such as ['pickups', 0, 'build', 'rows', 0, 'pole', 'diameter']. */
  readonly path: readonly (string | number)[];
  readonly message: string;
}

/** The sounding note on the chosen string. */
export interface Note {
  readonly string: number;
  readonly fret: number;
  readonly name: string;
  /** f0 of the ideal string, Hz. */
  readonly frequency: number;
  /** Saddle to the stopping fret, m. */
  readonly length: number;
  /** N. */
  readonly tension: number;
  readonly inharmonicity: number;
  /** m/s. */
  readonly waveSpeed: number;
}

/** A pickup, or all that sound together, on the chosen string. Curves stand at the prediction's frequencies, dB. */
export interface Voice {
  readonly label: string;
  /** Indices of the sheet's pickups that it consists of. */
  readonly pickups: readonly number[];
  /** dB, 0 = 0.1 V for 1 m/s of string; the circuit alone, as if the reach were a point at an antinode. */
  readonly circuitDb: Float64Array;
  /** With the width of the reach, at the best place on the string (the envelope of `placedDb`). */
  readonly reachDb: Float64Array;
  /** With reach and true place, for the chosen string stopped at the chosen fret. */
  readonly placedDb: Float64Array;
  readonly partials: readonly PartialTone[];
  readonly features: CurveFeatures;
  /** The bell on the chosen string. */
  readonly reach: ReachProfile;
}

/** Partial n (1 for the first) of the chosen note; frequency in Hz. */
export interface PartialTone {
  readonly n: number;
  readonly frequency: number;
  /** The point of `placedDb` at this partial, dB. */
  readonly responseDb: number;
  /**
   * Level in the plucked note at its start, same reference with 1 m/s → 1 (dB): with what bending by the distance from the
   * pole adds, as it sounds over the first third of a second, led back to the start by the partial's own decay.
   */
  readonly pluckedDb: number;
  readonly t60: FallTimes;
  /**
   * Of its power at the pluck: what movement towards the pickup alone would make, and across it alone. The rest, which may be
   * below 0, is what the two make together; none where they are bent.
   */
  readonly shares: Readonly<Record<'towards' | 'across', number>>;
}

/** Times to fall by 60 dB, s. */
export interface FallTimes {
  /** At the rate with which the plucked note begins to fall, as the coils hear it. What is slower is left in the end. */
  readonly asPlucked: number;
  /** Moving towards the pickup alone, and across it alone. */
  readonly towards: number;
  readonly across: number;
}

/** The reaches of a voice's rows along the string, added up. */
export interface ReachProfile {
  /** Saddle to the sample, m; uniform steps. */
  readonly x: Float64Array;
  /** V·s/m per metre of string. */
  readonly value: Float64Array;
  /** Width of each row as in StringOutcome, m, and its centre, m from the saddle. */
  readonly rows: readonly { readonly centre: number; readonly width: number; readonly peak: number }[];
}
