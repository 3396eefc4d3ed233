/** From volts to samples: no direct voltage, no click at either end, a stated level. */
import type { Listen } from '../../sheet/sheet.ts';
import { blockPowers, gatedLoudness } from './loudness.ts';

/**
 * s; the sound begins with this much lead-in, raised by half a cosine, and the first string is plucked at its end, so
 * that the fade does not touch the attack.
 */
export const LEAD_IN = 2e-3;
/** s; half a cosine down to exactly zero at the last sample. */
export const FADE_OUT = 30e-3;
/** Hz; corner of the first-order high-pass that stands for an amplifier's coupling capacitor (−0.003 dB at 82 Hz). */
export const COUPLING = 2;

/** Digital amplitude for one volt when the level is 'as it is'. */
export const VOLT_GAIN = 0.5;
/** LUFS of a phrase whose level is 'matched': the programme loudness of [EBUR128]. */
export const MATCHED_LOUDNESS = -23;
/** Highest sample, −1 dBFS; a little less than its nearest double, so that rounding cannot pass it. */
const PEAK_LIMIT = 10 ** (-1 / 20) * (1 - 1e-9);
/** A phrase this quiet (V) is silent (a pot turned down); matching would only lift rounding errors. */
export const SILENT_PEAK = 1e-6;
/** LUFS shown for silence. */
const FLOOR = -120;

/** As in Sound. */
export interface Levelled {
  readonly gain: number;
  readonly reducedDb: number;
  readonly loudness: number;
  readonly peakVolts: number;
}

/** Take the direct voltage out and fade both ends, in place. The first and the last sample become 0. */
export function finishEnds(samples: Float64Array, sampleRate: number): void {
  highPass(samples, sampleRate);
  const { length } = samples;
  const rise = Math.min(Math.round(LEAD_IN * sampleRate), length >> 1);
  const fall = Math.min(Math.round(FADE_OUT * sampleRate), length >> 1);
  let sum = 0;
  let weight = 0;
  for (let i = 0; i < length; i++) {
    const envelope = fade(i, rise) * fade(length - 1 - i, fall);
    samples[i]! *= envelope;
    sum += samples[i]!;
    weight += envelope;
  }
  // What direct voltage the fades leave (about −100 dBFS) goes with their own shape, so that the ends stay at 0.
  const rest = weight > 0 ? sum / weight : 0;
  for (let i = 0; i < length; i++) {
    samples[i]! -= rest * fade(i, rise) * fade(length - 1 - i, fall);
  }
}

/** Raises the lead-in, in place. @param samples in any unit; @param sampleRate Hz */
export function fadeIn(samples: Float64Array, sampleRate: number): void {
  const rise = Math.min(Math.round(LEAD_IN * sampleRate), samples.length >> 1);
  for (let i = 0; i < rise; i++) samples[i]! *= fade(i, rise);
}

/** 0 at the end, 1 from `length` samples on. */
function fade(fromEnd: number, length: number): number {
  if (fromEnd >= length) return fromEnd === 0 ? 0 : 1;
  return 0.5 - 0.5 * Math.cos((Math.PI * fromEnd) / length);
}

/** First-order high-pass by the bilinear transform, in place. @param samples in any unit; @param sampleRate Hz */
export function highPass(samples: Float64Array, sampleRate: number): void {
  const k = Math.tan((Math.PI * COUPLING) / sampleRate);
  const pole = (1 - k) / (1 + k);
  const scale = 1 / (1 + k);
  let before = 0;
  let y = 0;
  for (let i = 0; i < samples.length; i++) {
    const x = samples[i]!;
    y = pole * y + scale * (x - before);
    before = x;
    samples[i] = y;
  }
}

/**
 * Turn volts into digital amplitude, in place: by a fixed gain ('as it is') or to a fixed loudness ('matched'), and
 * less when a sample would pass −1 dBFS. @param sampleRate Hz
 */
export function setLevel(samples: Float64Array, sampleRate: number, level: Listen['level']): Levelled {
  let peakVolts = 0;
  for (let i = 0; i < samples.length; i++) peakVolts = Math.max(peakVolts, Math.abs(samples[i]!));
  const powers = blockPowers(samples, sampleRate);
  let wanted = VOLT_GAIN;
  if (level === 'matched' && peakVolts > SILENT_PEAK) wanted = matchedGain(powers);
  const gain = Math.min(wanted, PEAK_LIMIT / Math.max(peakVolts, Number.MIN_VALUE));
  for (let i = 0; i < samples.length; i++) samples[i]! *= gain;
  return {
    gain,
    reducedDb: 20 * Math.log10(wanted / gain),
    loudness: Math.max(FLOOR, gatedLoudness(powers, gain)),
    peakVolts,
  };
}

/** Digital amplitude for one volt at which a phrase has the matched loudness. @param powers of blockPowers, V² */
export function matchedGain(powers: Float64Array): number {
  const loudest = Math.max(...powers);
  // Everything may lie behind the last whole block; then there is nothing to match by.
  if (loudest === 0) return VOLT_GAIN;
  // Start above the absolute gate; near the goal the gate hardly moves, so that a few rounds settle it.
  let gain = Math.sqrt(1 / loudest);
  for (let round = 0; round < 4; round++) {
    gain *= 10 ** ((MATCHED_LOUDNESS - gatedLoudness(powers, gain)) / 20);
  }
  return gain;
}
