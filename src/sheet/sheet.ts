/**
 * The document: everything that a prediction depends on, as plain immutable data in SI units
 * (m, kg, s, V, Ω, H, F, rad; pot positions 0–1). It travels as JSON in presets and links.
 *
 * Frame: x runs along the strings from the saddle towards the nut, y across them from the bass to the treble
 * side, both zero at the saddle on the centre line. Strings are counted as players do: string 1 is the thinnest,
 * so `strings[0]` is string 1. Pickups stand in order from the neck to the bridge.
 */

import type { WrapMetal } from '../shape/wrap.ts';
import type { Magnets, PickupBuild } from './build.ts';

export type * from './balance.ts';
export type * from './build.ts';
export type { Search, SearchLoad, Stock, WantKey, Wants } from './search.ts';
export type { Spread, SpreadKey } from './spread.ts';
export type { WrapMetal };

/** Raised only when an older program could not read the data; what is missing takes the defaults of defaults.ts. */
export const SHEET_FORMAT = 2;
/** Read as well: one bar magnet at most, and no steel. */
export const OLDEST_FORMAT = 1;

/** @typeParam C a coil's figures: what a maker typed (null: computed from the build), or all of them numbers */
export interface Sheet<C extends CoilFigures = CoilFigures> {
  readonly format: typeof SHEET_FORMAT;
  readonly title: string;
  readonly notes: string;
  readonly instrument: Instrument;
  /** One to three. */
  readonly pickups: readonly Pickup<C>[];
  /** Absent: at 20 °C, and no own grade. */
  readonly magnets?: Magnets;
  readonly harness: Harness;
  readonly listen: Listen;
}

/** The guitar without its electrics. */
export interface Instrument {
  /** Nut to saddle, m. */
  readonly scaleLength: number;
  readonly frets: number;
  /** Distance between the outer strings at the saddle, m. */
  readonly spreadSaddle: number;
  /** Distance between the outer strings at the nut, m. */
  readonly spreadNut: number;
  /** Of the fretboard's arc, on which the strings lie too, m. */
  readonly radius: number;
  /** Four to eight; index 0 is string 1. */
  readonly strings: readonly StringSpec[];
}

/** One string as it is sold. */
export interface StringSpec {
  /** Open note as a MIDI note number (69 = A4 = 440 Hz). */
  readonly midi: number;
  readonly construction: 'plain' | 'wound';
  /** Outer diameter, m. */
  readonly diameter: number;
  /** Steel core diameter, m; equal to `diameter` for a plain string. */
  readonly core: number;
  /** Of what it is wound; without meaning for a plain string. */
  readonly wrap: WrapMetal;
  /** kg/m. */
  readonly linearDensity: number;
}

/** A pickup in its place. */
export interface Pickup<C extends CoilFigures = CoilFigures> {
  /** What the maker calls it: 'neck', 'middle', 'bridge' or a name of their own. */
  readonly name: string;
  /** Saddle to the pickup's centre, along the centre line, m. */
  readonly place: number;
  /** rad; positive when the treble end lies nearer the saddle. */
  readonly slant: number;
  /** Whether the selector lets it through; at least one pickup sounds. */
  readonly sounds: boolean;
  /** How two coils are joined; without meaning for one. */
  readonly join: 'series' | 'parallel';
  /** Whether the second coil is in or out of phase with the first; without meaning for one coil. */
  readonly phase: 'in' | 'out';
  /** Whether its hot and ground wires are exchanged, so that it is out of phase with the others. */
  readonly reversed: boolean;
  /** One or two rows of poles, each with its coil, the row nearest the neck first. */
  readonly rows: readonly Row<C>[];
  /** Whether the reach is each row's own, set by hand, or computed from the build, of which there must then be one. */
  readonly reachBy: 'hand' | 'build';
  /** What it is built of, with as many rows as the pickup; null when nobody said. */
  readonly build: PickupBuild | null;
}

/** A row of poles with its coil; what it is built of stands in the pickup's build. */
export interface Row<C extends CoilFigures = CoilFigures> {
  /** Row centre from the pickup's centre, positive towards the nut, m. */
  readonly offset: number;
  readonly reach: Reach;
  readonly coil: C;
}

/** Focus set by hand: a bell of given full width at half maximum. */
export interface Reach {
  /** Full width at half maximum along the string, m. */
  readonly width: number;
  /** Open-circuit voltage per string speed, V·s/m, for the reference string of physics/string/reach.ts. */
  readonly sensitivity: number;
  /** Way in which the reach falls to 1/e as the string leaves the pole, m; null: the same at every distance. */
  readonly fade: number | null;
}

/** As typed or measured; null where the figure is computed from the build, which only a pickup with one may leave. */
export interface CoilFigures {
  /** DC resistance, Ω. */
  readonly resistance: number | null;
  /** H. */
  readonly inductance: number | null;
  /** Self-capacitance, F. */
  readonly capacitance: number | null;
  /** Core loss as a resistance across the inductance, Ω; null: none, or with a build, that of the computed core. */
  readonly coreLoss: number | null;
}

/** All that a circuit needs. */
export interface Coil extends CoilFigures {
  readonly resistance: number;
  readonly inductance: number;
  readonly capacitance: number;
}

/** A sheet whose coils have all their figures, as the circuit needs it; every such sheet is a Sheet too. */
export type ResolvedSheet = Sheet<Coil>;
/** Their pickups and rows. */
export type ResolvedPickup = Pickup<Coil>;
export type ResolvedRow = Row<Coil>;

/** How a pot's resistance runs over its rotation; see physics/circuit/taper.ts. */
export type Taper = 'linear' | 'audio';

/** A potentiometer and where it is turned. */
export interface Pot {
  /** End to end, Ω. */
  readonly resistance: number;
  readonly taper: Taper;
  /** 0–1; 1 is what the knob calls 10. */
  readonly position: number;
}

/** From the volume pot's hot end to its wiper. */
export interface TrebleBleed {
  /** F. */
  readonly capacitance: number;
  /** Ω; null for the capacitor alone. */
  readonly resistance: number | null;
  /** How the resistor stands to the capacitor; without meaning when there is none. */
  readonly arrangement: 'parallel' | 'series';
}

/** A pot as a variable resistor, and the capacitor behind it. */
export interface Tone extends Pot {
  /** F. */
  readonly capacitance: number;
}

/** One set of controls; null for what is not fitted. */
export interface Controls {
  readonly volume: Pot;
  readonly bleed: TrebleBleed | null;
  readonly tone: Tone | null;
}

/** Everything between the coils and the amplifier. */
export interface Harness {
  /** 'shared': one set of controls after the selector; 'own': a set for each pickup before they join. */
  readonly wiring: 'shared' | 'own';
  /** One set when shared, otherwise as many as there are pickups and in their order. */
  readonly controls: readonly Controls[];
  /** m, F/m. */
  readonly cable: { readonly length: number; readonly capacitancePerMetre: number };
  /** Of the amplifier, Ω, F. */
  readonly input: { readonly resistance: number; readonly capacitance: number };
}

/** How the plectrum lets go of a string. */
export interface Pluck {
  /** Saddle to the plectrum, m. */
  readonly place: number;
  /** Width of the contact, m. */
  readonly width: number;
  /** How far the string is pulled aside, m. */
  readonly depth: number;
  /** rad; 0 is parallel to the top (across), π/2 towards the pickup. */
  readonly angle: number;
}

/** See `Listen.play`. */
export type Play = 'string' | 'chord' | 'arpeggio' | 'scale' | 'progression' | 'line';

/** A note of the maker's own line. */
export interface LineNote {
  /** Beats from the start of the line, a multiple of a quarter: 0–31.75. */
  readonly beat: number;
  /** 1 is the highest. */
  readonly string: number;
  readonly fret: number;
}

/** What is played, and how it is heard. */
export interface Listen {
  /**
   * 'string': the chosen string, plucked once a phrase of `seconds`; 'chord': strummed once a phrase; 'arpeggio': the
   * chord's strings one after another, up and down, on eighths; 'scale': one octave of the major scale up from the
   * chosen string's fretted note, on eighths; 'progression': four strummed chords, one a bar; 'line': the maker's own.
   */
  readonly play: Play;
  /** Beats per minute. */
  readonly tempo: number;
  /** At most 64 notes, in any order. */
  readonly line: readonly LineNote[];
  /** What one listens through: the cable's end as it is, or a plain guitar loudspeaker. */
  readonly through: 'cable' | 'loudspeaker';
  /** The string that the curve, the section and a single note use; 1 is the highest. */
  readonly string: number;
  /** Fret at which that string is stopped for a single note; 0 is open. */
  readonly fret: number;
  /** For a chord, the fret of every string, string 1 first; null for a string that is not played. */
  readonly chord: readonly (number | null)[];
  /** Time from the first to the last string of a strum, s. */
  readonly strum: number;
  readonly pluck: Pluck;
  /** Length of what is rendered and repeated, s. */
  readonly seconds: number;
  readonly sampleRate: 44100 | 48000 | 96000;
  readonly level: 'as it is' | 'matched';
  /** The partial whose standing wave is drawn. */
  readonly partial: number;
}
