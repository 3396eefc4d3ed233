/**
 * The live engine: strings that keep ringing while the pickup under them is exchanged. Pure and without allocation in
 * `process`; runs in a worklet and in tests alike.
 *
 * A string's motion and what listens to it are kept apart: `Ringing` carries the modes, a `Side` the weights, curves,
 * filters and gain of one setup. A new setup becomes a second side that hears the same strings; after a short run-in
 * the outputs are crossfaded and the first side is let go.
 */
import { MOST_STRINGS } from '../../../shape/strings.ts';
import { LEAD_IN } from '../level.ts';
import { TOUCH } from '../touch.ts';
import { HALFBAND_DELAY } from './halfband.ts';
import { Limiter, LIMITER_DELAY } from './limiter.ts';
import { LISTENERS, PartialBank } from './partials.ts';
import { Ringing } from './ringing.ts';
import { Schedule } from './schedule.ts';
import type { Scratch } from './partialSums.ts';
import { Side } from './side.ts';
import { CIRCUIT_DELAY, LIVE_BLOCK, type LiveSetup } from './types.ts';

/** s; every crossfade, and the fade-out of `stop`. */
export const CROSSFADE = 0.02;
/**
 * How long a new side runs unheard: until what the exchange does to its input has come through its delay, samples. Where it
 * has no past to go on from, the input rises from nothing for so long before, s.
 */
const RUN_IN = CIRCUIT_DELAY + 32;
const RISE = 5e-3;

/** Samples from a string's movement to the output. */
export const LIVE_DELAY = CIRCUIT_DELAY + LIMITER_DELAY;

/** The strings and what listens to them, at one output's sample rate (Hz). Silent until `play`; never above −1 dBFS. */
export class LiveEngine {
  /** Hz; for which every setup must be made. */
  readonly sampleRate: number;
  /** Samples from the newest setup's arrival to its first changed sample leaving. */
  latency = 0;
  private readonly limiter: Limiter;
  private readonly strings: readonly Ringing[];
  private readonly schedule: Schedule;
  private readonly scratch: Scratch;
  private readonly block = new Float64Array(LIVE_BLOCK);
  private readonly other = new Float64Array(LIVE_BLOCK);
  /** What has been computed but not yet handed out. */
  private left = 0;
  private now = 0;
  private side: Side | null = null;
  private incoming: Side | null = null;
  private spare: Side | null = null;
  /** Samples of the crossfade that have passed; negative during the run-in. */
  private faded = 0;
  private waiting: LiveSetup | null = null;
  private arrived = 0;
  /** Samples of fade-out left; 0 when not stopping. */
  private stopping = 0;
  private restart: LiveSetup | null = null;
  private readonly fade: number;

  constructor(sampleRate: number) {
    this.sampleRate = sampleRate;
    this.limiter = new Limiter(sampleRate);
    this.strings = Array.from({ length: MOST_STRINGS }, () => new Ringing(sampleRate));
    this.schedule = new Schedule(sampleRate, TOUCH * sampleRate);
    this.fade = Math.round(CROSSFADE * sampleRate);
    this.scratch = {
      bank: new PartialBank(),
      emf: new Float64Array(2 * LIVE_BLOCK),
      flux: new Float64Array(2 * LIVE_BLOCK),
      fluxes: Array.from({ length: LISTENERS }, () => new Float64Array(2 * LIVE_BLOCK)),
    };
  }

  /** Whether a phrase sounds and is not being faded out. */
  get playing(): boolean {
    return this.side !== null && this.stopping === 0;
  }

  /** Whether something that isn't a number was met; silent until the next `play`. */
  get fault(): boolean {
    return this.limiter.muted;
  }

  /** dB that the limiter takes off at present, 0 or more. */
  get reducedDb(): number {
    return this.limiter.reducedDb;
  }

  /** Where the phrase stands, s. */
  get position(): number {
    return this.side ? this.schedule.position(this.now) : 0;
  }

  /** Begin the phrase; what sounds is faded out first. @throws RangeError for a setup of another sample rate */
  play(setup: LiveSetup): void {
    this.check(setup);
    if (this.side && !this.fault) {
      this.restart = setup;
      if (this.stopping === 0) this.stopping = this.fade;
    } else this.begin(setup);
  }

  /** Exchange the pickup under the ringing strings. While stopped, nothing happens. @throws RangeError as `play` does */
  update(setup: LiveSetup): void {
    this.check(setup);
    if (this.restart) this.restart = setup;
    else if (this.side) {
      this.reserve(setup);
      if (!this.waiting) this.arrived = this.now - this.left;
      this.waiting = setup;
      this.admit();
    }
  }

  /** Fade out and be silent. */
  stop(): void {
    this.restart = null;
    if (this.side && this.stopping === 0) this.stopping = this.fade;
  }

  /** The next `out.length` samples, any number. */
  process(out: Float32Array | Float64Array): void {
    for (let done = 0; done < out.length;) {
      if (this.left === 0) {
        this.compute();
        this.left = LIVE_BLOCK;
      }
      const count = Math.min(this.left, out.length - done);
      const from = LIVE_BLOCK - this.left;
      for (let i = 0; i < count; i++) out[done + i] = this.block[from + i]!;
      this.left -= count;
      done += count;
    }
  }

  private check(setup: LiveSetup): void {
    if (setup.sampleRate !== this.sampleRate) {
      throw new RangeError(
        `The setup must be made for ${this.sampleRate} Hz, the output's rate; got one for ${setup.sampleRate} Hz.`,
      );
    }
  }

  private begin(setup: LiveSetup): void {
    this.reserve(setup);
    for (const string of this.strings) string.still();
    this.limiter.reset();
    if (this.side) this.side.load(setup);
    else this.side = this.fresh(setup);
    this.retire(this.incoming);
    this.incoming = null;
    this.waiting = null;
    this.stopping = 0;
    this.restart = null;
    this.schedule.begin(setup, this.now + LEAD_IN * this.sampleRate);
  }

  private reserve(setup: LiveSetup): void {
    let most = 0;
    for (const note of setup.notes) most = Math.max(most, note.angular.length);
    for (const string of this.strings) string.reserve(most);
    this.scratch.bank.reserve(most + 4);
  }

  private fresh(setup: LiveSetup): Side {
    const spare = this.spare;
    this.spare = null;
    if (!spare) return new Side(setup);
    spare.load(setup);
    return spare;
  }

  private retire(side: Side | null): void {
    if (side) this.spare = side;
  }

  /** Let the waiting setup in as soon as no crossfade runs. */
  private admit(): void {
    const { side, waiting } = this;
    if (!side || !waiting || this.incoming) return;
    this.waiting = null;
    const next = this.fresh(waiting);
    const like = next.isLike(side);
    if (like) next.follow(side);
    const rise = like ? 0 : Math.ceil(RISE * this.sampleRate);
    const runIn = rise + RUN_IN;
    if (!like) next.riseOver(rise);
    for (const string of this.strings) {
      if (string.note) next.inherit(string.note.string, string.note.fret, string.count, side);
    }
    this.schedule.exchange(waiting, this.now);
    this.incoming = next;
    this.faded = -runIn;
    this.latency = this.now + runIn - this.arrived + LIMITER_DELAY;
  }

  private compute(): void {
    const { block, side } = this;
    if (!side || this.fault) {
      block.fill(0);
      if (this.fault) this.silence();
      this.now += LIVE_BLOCK;
      return;
    }
    this.schedule.prepare(this.now, this.strings);
    side.clear();
    this.incoming?.clear();
    for (let s = 0; s < MOST_STRINGS; s++) this.ring(s, side);
    side.finish(block);
    this.crossfade();
    this.limiter.process(block, LIVE_BLOCK);
    this.now += LIVE_BLOCK;
    if (this.stopping > 0) this.fadeOut();
  }

  /** One string through the block: what rings to its end, and what is plucked. */
  private ring(index: number, side: Side): void {
    const string = this.strings[index]!;
    const end = this.now + LIVE_BLOCK;
    if (string.note) {
      side.hear(string, this.now, this.scratch);
      this.incoming?.hear(string, this.now, this.scratch);
      if (string.until <= end) string.still();
    }
    const next = this.schedule.next(index);
    if (next && next.onset < end && !string.note) {
      string.pluck(next.note, next.onset, next.until, this.now);
      this.schedule.taken(index);
      const { note } = next;
      side.bind(note.string, note.fret, string.count);
      this.incoming?.bind(note.string, note.fret, string.count);
      side.hear(string, this.now, this.scratch);
      this.incoming?.hear(string, this.now, this.scratch);
    }
    if (string.note) string.advance();
  }

  private crossfade(): void {
    const { incoming, block, other, fade } = this;
    if (!incoming) return;
    incoming.finish(other);
    for (let i = 0; i < LIVE_BLOCK; i++) {
      const x = (this.faded + i + 1) / fade;
      const share = x <= 0 ? 0 : x >= 1 ? 1 : 0.5 - 0.5 * Math.cos(Math.PI * x);
      block[i]! += share * (other[i]! - block[i]!);
    }
    this.faded += LIVE_BLOCK;
    if (this.faded < fade) return;
    this.retire(this.side);
    this.side = incoming;
    this.incoming = null;
    this.admit();
  }

  private fadeOut(): void {
    const { block, fade } = this;
    for (let i = 0; i < LIVE_BLOCK; i++) {
      const x = Math.max(0, this.stopping - i - 1) / fade;
      block[i]! *= 0.5 - 0.5 * Math.cos(Math.PI * x);
    }
    this.stopping = Math.max(0, this.stopping - LIVE_BLOCK);
    if (this.stopping > 0) return;
    const { restart } = this;
    if (restart) this.begin(restart);
    else this.silence();
  }

  private silence(): void {
    this.retire(this.side);
    this.side = null;
    this.incoming = null;
    this.waiting = null;
    this.restart = null;
    this.stopping = 0;
    for (const string of this.strings) string.still();
  }
}

/** Samples by which a side is late; the same for both ways of computing one. */
export function filterDelay(oversampling: number): number {
  return CIRCUIT_DELAY - (oversampling === 2 ? HALFBAND_DELAY : 0);
}
