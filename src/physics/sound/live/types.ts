/** What the worker computes for the live engine, and what passes between page and worklet: plain data only. */

/** Samples that the engine computes at once; the length of the partitions of every filter. */
export const LIVE_BLOCK = 128;

/** Hz; partials above are not heard and not summed. */
export const LIVE_LIMIT = 20000;

/** Samples from a string's movement to the voltage at the amplifier's input, at every sample rate; see fir.ts. */
export const CIRCUIT_DELAY = 160;

/** A string stopped at a fret, as its partials in two polarisations (all that move towards the pickup, then across it). */
export interface LiveNote {
  /** 1 is the highest. */
  readonly string: number;
  readonly fret: number;
  /** rad/s. */
  readonly angular: Float64Array;
  /** 1/s. */
  readonly decay: Float64Array;
  /** Displacement at the pluck, m. */
  readonly amplitude: Float64Array;
  /** For every ear the flux for 1 m of each mode, V·s/m. */
  readonly weights: readonly Float64Array[];
  /** For every ear its curve on this string; empty when the setup is straight. Notes of one string share them. */
  readonly bends: readonly LiveBend[];
}

/** A curve from linear flux to true flux (both V·s) in cubic pieces; beyond its ends it goes on straight. */
export interface LiveBend {
  readonly lowest: number;
  readonly step: number;
  /** At every point the value and the slope, in turn. */
  readonly points: Float64Array;
}

/** What listens to the strings: a coil, or where no curve is bent all coils of a group as one. */
export interface LiveEar {
  readonly group: number;
  readonly factor: number;
  /** Which coils it is: equal in two setups when the same coils are meant. */
  readonly key: string;
}

/** All that one state of the sheet is to the live engine. */
export interface LiveSetup {
  readonly sampleRate: number;
  /** Of the phrase, s. */
  readonly seconds: number;
  /** The score: times of the plucks and of their ends (s, ascending by pluck), and which note of `notes` each is. */
  readonly times: Float64Array;
  readonly untils: Float64Array;
  readonly played: Uint16Array;
  readonly notes: readonly LiveNote[];
  readonly ears: readonly LiveEar[];
  /** Bent: strings give flux (V·s), bent by curves, and the filters differentiate. Straight: they give voltage (V). */
  readonly bent: boolean;
  /** How many times the sample rate the strings are computed. */
  readonly oversampling: number;
  /** For every group the spectra of its filter's partitions, one behind the other, LIVE_BLOCK·2 + 2 values each. */
  readonly filters: readonly Float64Array[];
  /** Digital amplitude for one volt. */
  readonly gain: number;
}

/** What the worklet says of its own work. */
export interface LiveStats {
  /** Blocks computed since play. */
  readonly blocks: number;
  /** Share of real time that computing took, 0–1; and in the worst second. */
  readonly share: number;
  readonly worstShare: number;
  /** Blocks that took longer than they last, as far as the worklet's clock can tell. */
  readonly late: number;
  /** Which one that was last; −1 when there was none. */
  readonly lateAt: number;
  /** The longest block, ms. */
  readonly longest: number;
  /** ms by which the blocks have fallen behind the clock at worst; an output that takes many at once counts with those. */
  readonly behind: number;
  /** Samples between the newest setup's arrival and its first changed sample leaving the worklet. */
  readonly latency: number;
  /** dB that the limiter takes off at present. */
  readonly reducedDb: number;
  /** Where the phrase stands, s. */
  readonly position: number;
}

/** Page to worklet. */
export type LiveRequest =
  | { readonly kind: 'play'; readonly setup: LiveSetup }
  | { readonly kind: 'update'; readonly setup: LiveSetup }
  /** Comes with a port on which further updates arrive, from wherever they are made. */
  | { readonly kind: 'feed' }
  | { readonly kind: 'stop' }
  | { readonly kind: 'stats'; readonly id: number }
  /** The next `samples` samples that leave, before the volume. */
  | { readonly kind: 'capture'; readonly id: number; readonly samples: number };

/** Worklet to page. */
export type LiveReply =
  | { readonly kind: 'stats'; readonly id: number; readonly stats: LiveStats }
  | { readonly kind: 'capture'; readonly id: number; readonly samples: Float32Array }
  /** The sound was muted; a sentence for the screen. */
  | { readonly kind: 'fault'; readonly message: string };

/** The name under which the worklet registers its processor. */
export const LIVE_PROCESSOR = 'lodetone-live';
