/** A string as it sounds: stopped at a fret, with its tension, wave speed and inharmonicity. */
import type { Instrument, StringSpec } from '../../sheet/sheet.ts';
import { fretPlace, midiToFrequency } from './pitch.ts';

/** Pa; Young's modulus of drawn steel wire. Source: [Fletcher1964] and handbooks, 190–210 GPa; 200 is used here. */
const YOUNG_STEEL = 200e9;

/** One string of an instrument, stopped at a fret. */
export interface SoundingString {
  /** 1 is the thinnest. */
  readonly string: number;
  readonly fret: number;
  readonly spec: StringSpec;
  /** MIDI note number of the stopped string. */
  readonly midi: number;
  /** f0 of the ideal (perfectly flexible) string, Hz. */
  readonly frequency: number;
  /** Saddle to the stopping fret, m. */
  readonly length: number;
  /** N; stopping a string does not change it here. */
  readonly tension: number;
  /** m/s, of the ideal string. */
  readonly waveSpeed: number;
  /** B of `partialFrequency`, without unit. */
  readonly inharmonicity: number;
  /** Bending stiffness of the core, N·m². */
  readonly stiffness: number;
}

/** Tension (N) of a string of linear density µ (kg/m) and length L (m) that sounds f (Hz): T = 4 µ L² f². */
export function stringTension(linearDensity: number, length: number, frequency: number): number {
  return 4 * linearDensity * (length * frequency) ** 2;
}

/** Bending stiffness E π d⁴/64 (N·m²) of a round steel wire of diameter d (m). */
function bendingStiffness(core: number): number {
  return (YOUNG_STEEL * Math.PI * core ** 4) / 64;
}

/**
 * Inharmonicity B = π³ E d⁴/(64 T L²), with d the diameter of the CORE (a wrap adds mass, hardly stiffness).
 * Arguments: core m, tension N, length m, all > 0. Source: [Fletcher1964].
 * Example: 0.432 mm, 73.8 N, 0.648 m → 1.09e-4.
 */
export function inharmonicity(core: number, tension: number, length: number): number {
  return (Math.PI ** 2 * bendingStiffness(core)) / (tension * length ** 2);
}

/** Frequency (Hz) of partial n, whole or not: f = n f0 √(1 + B n²). Source: [Fletcher1964]. */
export function partialFrequency(n: number, f0: number, B: number): number {
  return n * f0 * Math.sqrt(1 + B * n * n);
}

/**
 * The other way round: the partial number n, whole or not, that sounds at `frequency` (Hz).
 * n² = 2r²/(1 + √(1 + 4Br²)) with r = f/f0, the form of the quadratic's root that keeps its digits as B → 0.
 */
export function partialNumber(frequency: number, f0: number, B: number): number {
  const r2 = (frequency / f0) ** 2;
  return Math.sqrt((2 * r2) / (1 + Math.sqrt(1 + 4 * B * r2)));
}

/** String `string` (1 is the thinnest) of the instrument, stopped at `fret`. Throws RangeError for a string that is not there. */
export function stopString(instrument: Instrument, string: number, fret: number): SoundingString {
  const spec = instrument.strings[string - 1];
  if (spec === undefined) {
    throw new RangeError(`The string must be 1 to ${instrument.strings.length}; got ${string}.`);
  }
  const tension = stringTension(spec.linearDensity, instrument.scaleLength, midiToFrequency(spec.midi));
  const length = fretPlace(instrument.scaleLength, fret);
  return {
    string,
    fret,
    spec,
    midi: spec.midi + fret,
    frequency: midiToFrequency(spec.midi + fret),
    length,
    tension,
    waveSpeed: Math.sqrt(tension / spec.linearDensity),
    inharmonicity: inharmonicity(spec.core, tension, length),
    stiffness: bendingStiffness(spec.core),
  };
}

/** Highest partial whose frequency lies below `limit` (Hz). */
export function partialsBelow(note: SoundingString, limit: number): number {
  return Math.max(0, Math.ceil(partialNumber(limit, note.frequency, note.inharmonicity)) - 1);
}
