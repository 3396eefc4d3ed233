/**
 * A phrase that repeats, and whose sound can be exchanged while it does. Everything is scheduled on the audio clock, so
 * that a page in the background keeps time.
 */
import type { Sound } from '../physics/prediction.ts';

/** Length of every crossfade and fade-out, s. */
export const FADE = 0.02;

/**
 * From the call to the first changed sample, s; more only for an output that works in longer strides. Longer than a
 * render quantum (128 frames, 2.9 ms at 44.1 kHz), so that nothing is scheduled into the past; fade included, a change
 * is complete 30 ms after the call.
 */
export const LOOKAHEAD = 0.01;

interface Voice {
  readonly source: AudioBufferSourceNode;
  readonly gain: GainNode;
  readonly duration: number;
  /** Audio time at which the phrase would have begun: the position at time t is (t − origin) mod duration. */
  readonly origin: number;
  /** Audio time at which it begins to be heard. */
  readonly start: number;
}

/** One phrase on one output, from its first sample until `stop`. */
export class Phrase {
  private readonly context: BaseAudioContext;
  private readonly bus: GainNode;
  /** Fades in or is heard. */
  private current: Voice;
  /** Begins when the fade to `current` has ended. */
  private next: Voice | null = null;
  private outgoing: Voice | null = null;

  /** Begins to sound at once. May throw what createBuffer throws for a rate that the browser does not take. */
  constructor(context: BaseAudioContext, output: AudioNode, sound: Sound) {
    this.context = context;
    this.bus = context.createGain();
    this.bus.connect(output);
    const buffer = this.buffer(sound);
    const start = this.common(this.soon(), sound.sampleRate);
    // No fade-in: the phrase itself begins from silence, and a ramp would soften the pluck.
    this.current = this.voice(buffer, start, 0);
    this.current.gain.gain.setValueAtTime(1, start);
  }

  /**
   * Crossfades to the other sound at the same place in the phrase. Linear with a constant sum, because the two are the
   * same note and add up in phase. A change during a fade begins where that fade ends; of several, the newest counts.
   */
  replace(sound: Sound): void {
    // Copied first: the clock goes on meanwhile.
    const buffer = this.buffer(sound);
    this.advance();
    const soonest = this.common(this.soon(), sound.sampleRate);
    if (this.next && this.next.start < soonest) {
      // Too late to take it back: it will be heard, and is faded from in its turn.
      this.outgoing = this.current;
      this.current = this.next;
      this.next = null;
    }
    if (this.next) {
      const { start } = this.next;
      this.discard(this.next);
      this.next = this.incoming(buffer, start);
    } else {
      const free = this.outgoing ? this.faded(this.current.start) : 0;
      this.fadeTo(buffer, this.common(Math.max(soonest, free), sound.sampleRate));
    }
  }

  /** Fades out and ends. */
  stop(): void {
    const start = this.soon();
    const end = start + FADE;
    this.bus.gain.setValueAtTime(1, start);
    this.bus.gain.linearRampToValueAtTime(0, end);
    const last = this.next ?? this.current;
    last.source.addEventListener('ended', () => this.bus.disconnect());
    for (const voice of [this.outgoing, this.current, this.next]) {
      if (voice) voice.source.stop(Math.max(end, voice.start));
    }
  }

  /** Where the phrase stands, s from its beginning. */
  position(): number {
    this.advance();
    return place(this.current, Math.max(this.current.start, this.context.currentTime));
  }

  private fadeTo(buffer: AudioBuffer, start: number): void {
    const voice = this.incoming(buffer, start);
    const old = this.current.gain.gain;
    old.setValueAtTime(1, start);
    old.linearRampToValueAtTime(0, this.faded(start));
    this.current.source.stop(this.faded(start));
    this.next = voice;
  }

  private incoming(buffer: AudioBuffer, start: number): Voice {
    const voice = this.voice(buffer, start, place(this.current, start));
    // Silent before too: a source may begin one frame before its gain does, and would be heard at full level.
    voice.gain.gain.value = 0;
    voice.gain.gain.setValueAtTime(0, start);
    voice.gain.gain.linearRampToValueAtTime(1, this.faded(start));
    return voice;
  }

  private buffer(sound: Sound): AudioBuffer {
    const buffer = this.context.createBuffer(1, sound.samples.length, sound.sampleRate);
    buffer.copyToChannel(Float32Array.from(sound.samples), 0);
    return buffer;
  }

  private voice(buffer: AudioBuffer, start: number, position: number): Voice {
    const { context } = this;
    const source = context.createBufferSource();
    source.buffer = buffer;
    source.loop = true;
    const gain = context.createGain();
    source.connect(gain);
    gain.connect(this.bus);
    source.addEventListener('ended', () => {
      source.disconnect();
      gain.disconnect();
    });
    const { duration } = buffer;
    const offset = position % duration;
    source.start(start, offset);
    return { source, gain, duration, origin: start - offset, start };
  }

  /** What has begun by now becomes current; what has faded away is forgotten. */
  private advance(): void {
    const now = this.context.currentTime;
    if (this.next && this.next.start <= now) {
      this.outgoing = this.current;
      this.current = this.next;
      this.next = null;
    }
    if (this.outgoing && this.faded(this.current.start) <= now) this.outgoing = null;
  }

  private discard(voice: Voice): void {
    voice.source.stop(voice.start);
    voice.source.disconnect();
    voice.gain.disconnect();
  }

  /**
   * Where a fade that begins at `start` ends, on a whole frame. One function for all, since events of a gain are put in
   * order of time: a difference in the last digit would exchange the end of one fade with the beginning of the next.
   */
  private faded(start: number): number {
    const rate = this.context.sampleRate;
    return Math.round((start + FADE) * rate) / rate;
  }

  /** The soonest time at which a change is sure to be heard from its beginning. */
  private soon(): number {
    const { context } = this;
    const stride = 'baseLatency' in context ? Number(context.baseLatency) || 0 : 0;
    return context.currentTime + Math.max(LOOKAHEAD, stride);
  }

  /**
   * The next time at which a frame of the output and one of the sound fall together. Browsers round the place from
   * which a buffer is read to its whole frames; elsewhere the voices of a crossfade would be out of step by a part of
   * a frame, and their high partials would cancel. 44.1 kHz on 48 kHz: every 3.3 ms.
   */
  private common(time: number, soundRate: number): number {
    const rate = this.context.sampleRate;
    const shared = gcd(rate, soundRate);
    // Rates with no useful common divisor would mean waiting for longer than 10 ms: the output's frames then.
    const grid = shared >= 100 ? shared : rate;
    // The margin keeps a time that is on the grid but for its last digit from moving on to the next.
    return Math.ceil(time * grid - 1e-6) / grid;
  }
}

/** Greatest common divisor of whole numbers; 0 when one is not whole. */
function gcd(a: number, b: number): number {
  if (!Number.isInteger(a) || !Number.isInteger(b)) return 0;
  return b === 0 ? a : gcd(b, a % b);
}

function place(voice: Voice, time: number): number {
  const position = (time - voice.origin) % voice.duration;
  return position < 0 ? position + voice.duration : position;
}
