/** One pickup with its circuit, listening to the strings: what is exchanged when a control moves. */
import { MOST_STRINGS } from '../../../shape/strings.ts';
import { readFlux } from '../fluxTable.ts';
import { touchLeft, touchSlope } from '../touch.ts';
import { InputHistory, OutputBlock } from './convolver.ts';
import { Halfband } from './halfband.ts';
import { LISTENERS } from './partials.ts';
import { sumFlux, sumFluxes, sumVoltage, type Scratch } from './partialSums.ts';
import type { Ringing } from './ringing.ts';
import { LIVE_BLOCK, type LiveNote, type LiveSetup } from './types.ts';

/** The steepest slope of a touch, 1/s: what a displacement can add to the voltage then. */
const TOUCH_SLOPE = 250;

/** What comes into one group. */
interface GroupInput {
  readonly history: InputHistory;
  readonly band: Halfband;
  /** Up to twice a block. */
  readonly input: Float64Array;
  /** Flux left behind by notes that have ended, V·s: each is counted from where the plectrum let go. */
  rest: number;
  /** The last two values of the block before, of which the next is the continuation. */
  last: number;
  before: number;
}

/**
 * What one setup makes of the strings. In each block: `clear`, `hear` for every string, `finish`. Weights are of the
 * notes that ring, found by `bind` or `inherit`.
 */
export class Side {
  /** What it listens with; exchanged by `load`. */
  setup: LiveSetup;
  /** The notes whose weights are in use, by string; null where the setup doesn't know the note that rings. */
  private readonly bound: (LiveNote | null)[] = new Array<LiveNote | null>(MOST_STRINGS).fill(null);
  private readonly groups: GroupInput[] = [];
  private readonly output = new OutputBlock();
  private readonly coarse = new Float64Array(LIVE_BLOCK);
  /** Samples for which the input still rises from nothing. */
  private rising = 0;
  private rise = 1;
  /** Whether the first block is still to come, whose flux must go on from where the past ended. */
  private joining = false;

  constructor(setup: LiveSetup) {
    this.setup = setup;
    this.load(setup);
  }

  /** Begin with another setup and no past. Allocates only when there are more groups or longer filters than ever before. */
  load(setup: LiveSetup): void {
    this.setup = setup;
    this.bound.fill(null);
    this.rising = 0;
    this.joining = false;
    setup.filters.forEach((filter, g) => {
      const parts = Math.max(1, filter.length / (2 * LIVE_BLOCK + 2));
      const group = this.groups[g];
      if (group) {
        group.history.reset(parts);
        group.band.reset();
        group.rest = 0;
        group.last = 0;
        group.before = 0;
      } else {
        this.groups[g] = {
          history: new InputHistory(parts),
          band: new Halfband(LIVE_BLOCK),
          input: new Float64Array(2 * LIVE_BLOCK),
          rest: 0,
          last: 0,
          before: 0,
        };
      }
    });
  }

  /** Whether both listen with the same coils in the same groups, so that the past of one is nearly that of the other. */
  isLike(other: Side): boolean {
    const a = this.setup;
    const b = other.setup;
    return (
      a.bent === b.bent &&
      a.ears.length === b.ears.length &&
      a.ears.every((ear, e) => ear.key === b.ears[e]!.key && ear.group === b.ears[e]!.group)
    );
  }

  /** Go on from the past of a side that is like this one. */
  follow(other: Side): void {
    this.joining = true;
    for (let g = 0; g < this.setup.filters.length; g++) {
      const mine = this.groups[g]!;
      const theirs = other.groups[g]!;
      mine.history.copy(theirs.history);
      mine.band.copy(theirs.band);
      mine.last = theirs.last;
      mine.before = theirs.before;
    }
  }

  /** Without a past: the input rises over so many samples. */
  riseOver(samples: number): void {
    this.joining = true;
    this.rising = samples;
    this.rise = samples;
  }

  /** The string rings anew, with so many modes: use the setup's own weights for the note. */
  bind(string: number, fret: number, modes: number): void {
    this.bound[string - 1] = this.find(string, fret, modes);
  }

  /** The string rings already, with so many modes: use the setup's weights, or else those of a side that is like this one. */
  inherit(string: number, fret: number, modes: number, before: Side): void {
    const own = this.find(string, fret, modes);
    this.bound[string - 1] = own ?? (this.isLike(before) ? before.bound[string - 1]! : null);
  }

  /** Begins a block: nothing heard yet. */
  clear(): void {
    for (let g = 0; g < this.setup.filters.length; g++) this.groups[g]!.input.fill(this.groups[g]!.rest);
  }

  /** Add what the string does in the block that begins at `now`. */
  hear(ringing: Ringing, now: number, scratch: Scratch): void {
    const { note } = ringing;
    const heard = note && this.bound[note.string - 1];
    if (!heard) return;
    const { oversampling, bent } = this.setup;
    const from = Math.max(0, Math.ceil((ringing.onset - now) * oversampling));
    const to = Math.min(oversampling * LIVE_BLOCK, Math.ceil((ringing.until - now) * oversampling));
    if (from > to) return;
    if (bent) this.hearFlux(ringing, heard, now, from, to, scratch);
    else this.hearVoltage(ringing, heard, now, from, to, scratch);
  }

  /** Filter the block and turn it into digital amplitude, LIVE_BLOCK values. */
  finish(out: Float64Array): void {
    const { filters, gain, oversampling, bent } = this.setup;
    this.output.clear();
    for (let g = 0; g < filters.length; g++) {
      const group = this.groups[g]!;
      if (bent) this.join(group);
      let { input } = group;
      if (oversampling === 2) {
        group.band.process(input, this.coarse);
        input = this.coarse;
      }
      if (this.rising > 0) {
        for (let i = 0; i < LIVE_BLOCK; i++) {
          const x = Math.min(1, (this.rise - this.rising + i + 1) / this.rise);
          input[i]! *= 0.5 - 0.5 * Math.cos(Math.PI * x);
        }
      }
      group.history.push(input);
      group.history.addFiltered(filters[g]!, this.output.sum);
    }
    this.joining = false;
    this.rising = Math.max(0, this.rising - LIVE_BLOCK);
    this.output.take(out);
    for (let i = 0; i < LIVE_BLOCK; i++) out[i]! *= gain;
  }

  /** A first block of flux is shifted so that it goes on from the past in a straight line. */
  private join(group: GroupInput): void {
    const { input } = group;
    const end = this.setup.oversampling * LIVE_BLOCK;
    if (this.joining) {
      const shift = 2 * group.last - group.before - input[0]!;
      for (let i = 0; i < end; i++) input[i]! += shift;
      group.rest += shift;
    }
    group.last = input[end - 1]!;
    group.before = input[end - 2]!;
  }

  private hearVoltage(
    ringing: Ringing,
    heard: LiveNote,
    now: number,
    from: number,
    to: number,
    scratch: Scratch,
  ): void {
    const { ears } = this.setup;
    const { emf, flux } = scratch;
    const touched = Math.max(from, Math.ceil(ringing.until - ringing.touch - now));
    for (let e = 0; e < ears.length; e++) {
      const { group, factor } = ears[e]!;
      const weights = heard.weights[e]!;
      sumVoltage(ringing, weights, this.setup, scratch);
      if (touched < to) sumFlux(ringing, weights, TOUCH_SLOPE, this.setup, scratch);
      for (let i = touched; i < to; i++) {
        const x = touchShare(ringing, now + i);
        emf[i] = touchLeft(x) * emf[i]! + touchSlope(x) * flux[i]!;
      }
      const { input } = this.groups[group]!;
      for (let i = from; i < to; i++) input[i]! += factor * emf[i]!;
    }
  }

  private hearFlux(
    ringing: Ringing,
    heard: LiveNote,
    now: number,
    from: number,
    to: number,
    scratch: Scratch,
  ): void {
    const { weights } = heard;
    for (let first = 0; first < weights.length; first += LISTENERS) {
      const ears = Math.min(LISTENERS, weights.length - first);
      if (ears > 1) sumFluxes(ringing, weights, first, this.setup, scratch);
      else sumFlux(ringing, weights[first]!, 0, this.setup, scratch);
      for (let k = 0; k < ears; k++) {
        const flux = ears > 1 ? scratch.fluxes[k]! : scratch.flux;
        this.bend(ringing, heard, first + k, flux, now, from, to);
      }
    }
  }

  /** What one ear's curve makes of the flux of one string. */
  private bend(
    ringing: Ringing,
    heard: LiveNote,
    ear: number,
    flux: Float64Array,
    now: number,
    from: number,
    to: number,
  ): void {
    const { ears, oversampling } = this.setup;
    const { amplitude } = ringing.note!;
    const { group, factor } = ears[ear]!;
    const weights = heard.weights[ear]!;
    const bend = heard.bends[ear]!;
    const touched = Math.max(from, Math.ceil((ringing.until - ringing.touch - now) * oversampling));
    for (let i = touched; i < to; i++) flux[i]! *= touchLeft(touchShare(ringing, now + i / oversampling));
    let start = 0;
    for (let i = 0; i < ringing.count; i++) start += amplitude[i]! * weights[i]!;
    const begun = readFlux(bend, start);
    const target = this.groups[group]!;
    const { input } = target;
    for (let i = from; i < to; i++) input[i]! += factor * (readFlux(bend, flux[i]!) - begun);
    if (ringing.until > now + LIVE_BLOCK) return;
    // It ends in this block.
    const end = oversampling * LIVE_BLOCK;
    for (let i = to; i < end; i++) input[i]! -= factor * begun;
    target.rest -= factor * begun;
  }

  /** Other strings may be on the guitar by now, with more modes or fewer. */
  private find(string: number, fret: number, modes: number): LiveNote | null {
    for (const note of this.setup.notes) {
      if (note.string === string && note.fret === fret && note.angular.length === modes) return note;
    }
    return null;
  }
}

/** Share of the touch that has passed at a time (samples). */
function touchShare({ until, touch }: Ringing, time: number): number {
  return 1 - (until - time) / touch;
}
