/** When which string is plucked next: the score of the newest setup, repeated, looked at one touch ahead. */
import { MOST_STRINGS } from '../../../shape/strings.ts';
import type { Ringing } from './ringing.ts';
import { LIVE_BLOCK, type LiveNote, type LiveSetup } from './types.ts';

/** A pluck that is due, and when its string is silenced again. */
export interface NextPluck {
  note: LiveNote;
  /** Samples as the engine counts, not whole. */
  onset: number;
  until: number;
}

/** One slot a string for its next pluck; times in samples as the engine counts. A string's first pluck allocates. */
export class Schedule {
  private readonly sampleRate: number;
  private readonly touch: number;
  private setup: LiveSetup | null = null;
  /** Where the phrase that is being played began, samples. */
  private origin = 0;
  private length = 1;
  private index = 0;
  private readonly slots: (NextPluck | null)[] = new Array<NextPluck | null>(MOST_STRINGS).fill(null);
  private readonly waits = new Uint8Array(MOST_STRINGS);
  /** Whether the notes that ring were plucked by another score, whose ends don't count any more. */
  private changed = false;

  /** @param sampleRate Hz; @param touch samples that silencing a string takes */
  constructor(sampleRate: number, touch: number) {
    this.sampleRate = sampleRate;
    this.touch = touch;
  }

  /** The phrase anew. @param origin when it begins, samples */
  begin(setup: LiveSetup, origin: number): void {
    this.take(setup);
    this.origin = origin;
    this.index = 0;
    this.waits.fill(0);
    this.changed = false;
  }

  /** Another setup at `now`: when its score is another, it goes on from the same place in the phrase. */
  exchange(setup: LiveSetup, now: number): void {
    const { setup: before } = this;
    this.take(setup);
    this.renew(setup);
    if (before && sameScore(before, setup)) return;
    this.changed = true;
    const { times } = setup;
    if (now - this.origin >= this.length) this.origin = now;
    // What lies nearer than a touch has been handed out already.
    const from = now + this.touch;
    this.index = 0;
    while (this.index < times.length && this.timeOf(times[this.index]!) < from) this.index++;
  }

  /** s since the phrase began; 0 before. @param now samples */
  position(now: number): number {
    const past = (now - this.origin) / this.sampleRate;
    return past > 0 ? past : 0;
  }

  /** Hand out every pluck that lies within a touch of the block at `now`, and let the ringing strings be silenced for it. */
  prepare(now: number, strings: readonly Ringing[]): void {
    const { setup } = this;
    if (!setup) return;
    if (this.changed) {
      this.changed = false;
      for (const string of strings) if (string.until > now + this.touch) string.until = Infinity;
    }
    const horizon = now + LIVE_BLOCK + this.touch;
    // Bounded, so that a phrase without any note or length can't hold the block up.
    for (let turns = 0; turns <= setup.times.length + 1; turns++) {
      if (this.index >= setup.times.length) {
        if (this.origin + this.length >= horizon) return;
        this.origin += this.length;
        this.index = 0;
        if (setup.times.length === 0) return;
      }
      if (this.timeOf(setup.times[this.index]!) >= horizon) return;
      this.handOut(this.index++, now, strings);
    }
  }

  /** What has been handed out for a string, from 0, and not yet been plucked. */
  next(string: number): NextPluck | null {
    return this.waits[string] === 1 ? this.slots[string]! : null;
  }

  /** The string, from 0, has been plucked. */
  taken(string: number): void {
    this.waits[string] = 0;
  }

  /** What has been handed out but not yet been plucked is plucked as the new setup has it, if it knows the note. */
  private renew(setup: LiveSetup): void {
    for (let s = 0; s < MOST_STRINGS; s++) {
      const slot = this.slots[s];
      if (!slot || this.waits[s] === 0) continue;
      const { string, fret } = slot.note;
      for (const note of setup.notes) if (note.string === string && note.fret === fret) slot.note = note;
    }
  }

  private take(setup: LiveSetup): void {
    this.setup = setup;
    this.length = Math.max(1, Math.round(setup.seconds * this.sampleRate));
  }

  private timeOf(seconds: number): number {
    return this.origin + seconds * this.sampleRate;
  }

  private handOut(index: number, now: number, strings: readonly Ringing[]): void {
    const setup = this.setup!;
    const note = setup.notes[setup.played[index]!]!;
    const s = note.string - 1;
    const string = strings[s]!;
    const planned = this.timeOf(setup.times[index]!);
    let onset = Math.max(planned, now);
    if (string.note) {
      // Not earlier than it takes to silence it from now on, unless that has begun.
      string.until = Math.min(string.until, Math.max(onset, now + this.touch));
      onset = Math.max(onset, string.until);
    }
    const until = this.timeOf(setup.untils[index]!);
    const slot = (this.slots[s] ??= { note, onset, until });
    slot.note = note;
    slot.onset = onset;
    slot.until = Math.max(until, onset);
    this.waits[s] = 1;
  }
}

function sameScore(a: LiveSetup, b: LiveSetup): boolean {
  if (a.seconds !== b.seconds || a.times.length !== b.times.length) return false;
  for (let i = 0; i < a.times.length; i++) {
    const one = a.notes[a.played[i]!]!;
    const two = b.notes[b.played[i]!]!;
    if (a.times[i] !== b.times[i] || a.untils[i] !== b.untils[i]) return false;
    if (one.string !== two.string || one.fret !== two.fret) return false;
  }
  return true;
}
