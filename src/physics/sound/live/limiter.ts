/**
 * The last thing before the loudspeaker: takes direct voltage off, holds the true peak at −1 dBFS with a gain that looks
 * ahead, and mutes what isn't a number.
 */
import { COUPLING } from '../level.ts';
import { TRUE_PEAK_EXCESS, TRUE_PEAK_TAPS, truePeakAt } from './truePeak.ts';

/** −1 dBFS. */
export const LIMIT = 10 ** (-1 / 20);
/** Aimed at: 0.1 dB below, because a gain that moves lifts what stands between the samples a little. */
const AIM = LIMIT * 10 ** (-0.1 / 20);
/** Samples over which the gain goes down ahead of a peak. */
const AHEAD = 64;
/** s; the gain comes back by 1 − 1/e. */
const RELEASE = 0.1;
/** Delay of the signal, samples: the way ahead and half of the peak estimate's filter. */
export const LIMITER_DELAY = AHEAD + TRUE_PEAK_TAPS / 2;

/**
 * Direct voltage off at 2 Hz, at most −1 dBFS, LIMITER_DELAY samples late. Far below the limit the signal is
 * only delayed. The peaks between samples are those of [BS1770] annex 2, see truePeak.
 */
export class Limiter {
  /** Whether something that isn't a number came in; the output is silent from there on until `reset`. */
  muted = false;
  private readonly pole: number;
  private readonly scale: number;
  private readonly recovery: number;
  private before = 0;
  private held = 0;
  /** The last samples without direct voltage, as a ring written twice, so that twelve in a row always lie together. */
  private readonly line = new Float64Array(2 * RING);
  private at = 0;
  /** Gains needed, of which the least over the way ahead counts, and those least ones, whose mean is taken. */
  private readonly needed = new Float64Array(RING).fill(1);
  private readonly least = new Float64Array(RING).fill(1);
  private sum = AHEAD;
  private gain = 1;
  /** Samples until everything in the ring needs no gain. */
  private busy = 0;
  private lowest = 1;

  /** @param sampleRate Hz */
  constructor(sampleRate: number) {
    const k = Math.tan((Math.PI * COUPLING) / sampleRate);
    this.pole = (1 - k) / (1 + k);
    this.scale = 1 / (1 + k);
    this.recovery = 1 - Math.exp(-1 / (RELEASE * sampleRate));
  }

  /** dB that are taken off at present. */
  get reducedDb(): number {
    return 0 - 20 * Math.log10(this.lowest);
  }

  /** Silence for a past; no longer muted. */
  reset(): void {
    this.muted = false;
    this.before = 0;
    this.held = 0;
    this.line.fill(0);
    this.needed.fill(1);
    this.least.fill(1);
    this.sum = AHEAD;
    this.gain = 1;
    this.busy = 0;
    this.lowest = 1;
  }

  /** The next `length` samples, in place. */
  process(block: Float64Array, length: number): void {
    this.lowest = 1;
    for (let i = 0; i < length; i++) {
      const x = block[i]!;
      // Written so that NaN and infinity fail it; beyond 1e9 times full scale nothing is sound any more.
      if (!(Math.abs(x) < 1e9)) this.muted = true;
      block[i] = this.muted ? 0 : this.step(x);
    }
  }

  private step(x: number): number {
    let y = this.pole * this.held + this.scale * (x - this.before);
    // Direct voltage that has died away; keeps the filter out of the denormal numbers.
    if (Math.abs(y) < 1e-30) y = 0;
    this.before = x;
    this.held = y;
    const at = (this.at = (this.at + 1) % RING);
    this.line[at] = y;
    this.line[at + RING] = y;
    // No estimate between samples can pass the aim while the samples are this small.
    if (Math.abs(y) > AIM / TRUE_PEAK_EXCESS) this.busy = RING;
    if (this.busy === 0) return this.line[at + RING - LIMITER_DELAY]!;
    return this.limited(at);
  }

  private limited(at: number): number {
    this.busy--;
    const peak = Math.max(
      truePeakAt(this.line, at + RING - TRUE_PEAK_TAPS + 1),
      Math.abs(this.line[at + RING - TRUE_PEAK_TAPS / 2]!),
    );
    this.needed[at] = peak > AIM ? AIM / peak : 1;
    let least = 1;
    for (let k = 0; k <= AHEAD + 1; k++) least = Math.min(least, this.needed[(at + RING - k) % RING]!);
    this.gain = Math.min(least, this.gain + (1 - this.gain) * this.recovery);
    const oldest = (at + RING - AHEAD) % RING;
    this.sum += this.gain - this.least[oldest]!;
    this.least[at] = this.gain;
    const gain = this.sum / AHEAD;
    if (this.gain < 1 - 1e-9) this.busy = Math.max(this.busy, AHEAD + 1);
    else if (this.busy === 0) this.rest();
    this.lowest = Math.min(this.lowest, gain);
    const y = gain * this.line[at + RING - LIMITER_DELAY]!;
    return Math.max(-LIMIT, Math.min(LIMIT, y));
  }

  /** Everything in the ring needs no gain: begin afresh, so that roundings don't add up. */
  private rest(): void {
    this.needed.fill(1);
    this.least.fill(1);
    this.sum = AHEAD;
    this.gain = 1;
  }
}

/** Samples kept, more than the delay and the estimate's taps. */
const RING = 128;
