/**
 * A phrase that repeats, and whose sound can be exchanged while it does. Everything is scheduled on the audio clock, so
 * that a page in the background keeps time.
 */
import type { Sound } from '../physics/prediction.ts';

/** Length of every crossfade and fade-out, s. */
export const FADE = 0.02;

/**
 * From the call to the first changed sample, s. Longer than a render quantum (128 frames, 2.9 ms at 44.1 kHz), so that
 * nothing is scheduled into the past; fade included, a change is complete 30 ms after the call.
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
    const start = this.frame(context.currentTime + LOOKAHEAD);
    // No fade-in: the phrase itself begins from silence, and a ramp would soften the pluck.
    this.current = this.voice(sound, start, 0);
    this.current.gain.gain.setValueAtTime(1, start);
  }

  /**
   * Crossfades to the other sound at the same place in the phrase. Linear with a constant sum, because the two are the
   * same note and add up in phase. A change during a fade begins where that fade ends; of several, the newest counts.
   */
  replace(sound: Sound): void {
    this.advance();
    const soonest = this.frame(this.context.currentTime + LOOKAHEAD);
    if (this.next && this.next.start < soonest) {
      // Too late to take it back: it will be heard, and is faded from in its turn.
      this.outgoing = this.current;
      this.current = this.next;
      this.next = null;
      this.fadeTo(sound, this.current.start + FADE);
    } else if (this.next) {
      const start = this.next.start;
      this.discard(this.next);
      this.next = this.incoming(sound, start);
    } else {
      this.fadeTo(sound, this.outgoing ? Math.max(soonest, this.current.start + FADE) : soonest);
    }
  }

  /** Fades out and ends. */
  stop(): void {
    const now = this.context.currentTime;
    this.bus.gain.setValueAtTime(1, now);
    this.bus.gain.linearRampToValueAtTime(0, now + FADE);
    const last = this.next ?? this.current;
    last.source.addEventListener('ended', () => this.bus.disconnect());
    for (const voice of [this.outgoing, this.current, this.next]) {
      if (voice) voice.source.stop(Math.max(now + FADE, voice.start));
    }
  }

  /** Where the phrase stands, s from its beginning. */
  position(): number {
    this.advance();
    return place(this.current, Math.max(this.current.start, this.context.currentTime));
  }

  private fadeTo(sound: Sound, start: number): void {
    const voice = this.incoming(sound, start);
    const old = this.current.gain.gain;
    old.setValueAtTime(1, start);
    old.linearRampToValueAtTime(0, start + FADE);
    this.current.source.stop(start + FADE);
    this.next = voice;
  }

  private incoming(sound: Sound, start: number): Voice {
    const voice = this.voice(sound, start, place(this.current, start));
    voice.gain.gain.setValueAtTime(0, start);
    voice.gain.gain.linearRampToValueAtTime(1, start + FADE);
    return voice;
  }

  private voice(sound: Sound, start: number, position: number): Voice {
    const { context } = this;
    const buffer = context.createBuffer(1, sound.samples.length, sound.sampleRate);
    buffer.copyToChannel(Float32Array.from(sound.samples), 0);
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
    const duration = sound.samples.length / sound.sampleRate;
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
    if (this.outgoing && this.current.start + FADE <= now) this.outgoing = null;
  }

  private discard(voice: Voice): void {
    voice.source.stop(voice.start);
    voice.source.disconnect();
    voice.gain.disconnect();
  }

  /** The next whole frame, so that equal rates need no interpolation between samples. */
  private frame(time: number): number {
    const rate = this.context.sampleRate;
    return Math.ceil(time * rate) / rate;
  }
}

function place(voice: Voice, time: number): number {
  const position = (time - voice.origin) % voice.duration;
  return position < 0 ? position + voice.duration : position;
}
