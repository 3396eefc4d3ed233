/** One pickup with its circuit, listening to the strings: what is exchanged when a control moves. */
import { boundedExponent } from '../../string/fluxCurve.ts';
import { touchLeft, touchSlope } from '../touch.ts';
import { InputHistory, OutputBlock } from './convolver.ts';
import { Halfband } from './halfband.ts';
import type { PartialBank } from './partials.ts';
import type { Ringing } from './ringing.ts';
import { LIVE_BLOCK, type LiveNote, type LiveSetup } from './types.ts';

/** A partial whose voltage is below this, as digital amplitude, is left out: −140 dBFS. */
const INAUDIBLE = 1e-7;
/** The steepest slope of a touch, 1/s: what a displacement can add to the voltage then. */
const TOUCH_SLOPE = 250;
/** A partial that changes the curve's exponent by less than this is left out of it (−140 dB). */
const UNBENT = 1e-7;
const STRINGS = 6;

/** Buffers that all sides share; each use is over before the next begins. */
export interface Scratch {
  readonly bank: PartialBank;
  readonly emf: Float64Array;
  readonly flux: Float64Array;
}

export class Side {
  setup: LiveSetup;
  /** The notes whose weights are in use, by string; null where the setup doesn't know the note that rings. */
  private readonly bound: (LiveNote | null)[] = new Array<LiveNote | null>(STRINGS).fill(null);
  private histories: InputHistory[] = [];
  private bands: Halfband[] = [];
  private inputs: Float64Array[] = [];
  private readonly output = new OutputBlock();
  private readonly coarse = new Float64Array(LIVE_BLOCK);
  /** Samples for which the input still rises from nothing. */
  private rising = 0;
  private rise = 1;

  constructor(setup: LiveSetup) {
    this.setup = setup;
    this.load(setup);
  }

  /** Begin with another setup and no past. Allocates only when there are more groups or longer filters than ever before. */
  load(setup: LiveSetup): void {
    this.setup = setup;
    this.bound.fill(null);
    this.rising = 0;
    setup.filters.forEach((filter, g) => {
      const parts = Math.max(1, filter.length / (2 * LIVE_BLOCK + 2));
      const history = this.histories[g];
      if (history) history.reset(parts);
      else this.histories[g] = new InputHistory(parts);
      if (this.bands[g]) this.bands[g].reset();
      else this.bands[g] = new Halfband(LIVE_BLOCK);
      this.inputs[g] ??= new Float64Array(2 * LIVE_BLOCK);
    });
  }

  /** Whether both listen with the same coils in the same groups, so that the past of one is nearly that of the other. */
  isLike(other: Side): boolean {
    const a = this.setup;
    const b = other.setup;
    return (
      a.oversampling === b.oversampling &&
      a.ears.length === b.ears.length &&
      a.ears.every((ear, e) => ear.key === b.ears[e]!.key && ear.group === b.ears[e]!.group)
    );
  }

  /** Take over the past of a side that is like this one. */
  copyPast(other: Side): void {
    for (let g = 0; g < this.setup.filters.length; g++) {
      this.histories[g]!.copy(other.histories[g]!);
      this.bands[g]!.copy(other.bands[g]!);
    }
  }

  /** Without a past: the input rises over so many samples. */
  riseOver(samples: number): void {
    this.rising = samples;
    this.rise = samples;
  }

  /** The string rings anew: use the setup's own weights for the note. */
  bind(string: number, fret: number): void {
    this.bound[string - 1] = this.find(string, fret);
  }

  /** The string rings already, with so many modes: use the setup's weights, or else those of a side that is like this one. */
  inherit(string: number, fret: number, modes: number, before: Side): void {
    const own = this.find(string, fret);
    if (own?.angular.length === modes) this.bound[string - 1] = own;
    else this.bound[string - 1] = this.isLike(before) ? before.bound[string - 1]! : null;
  }

  clear(): void {
    for (let g = 0; g < this.setup.filters.length; g++) this.inputs[g]!.fill(0);
  }

  /** Add what the string does in the block that begins at `now`. */
  hear(ringing: Ringing, now: number, scratch: Scratch): void {
    const { note } = ringing;
    const heard = note && this.bound[note.string - 1];
    if (!heard) return;
    const { ears, oversampling } = this.setup;
    const length = oversampling * LIVE_BLOCK;
    const from = Math.max(0, Math.ceil((ringing.onset - now) * oversampling));
    const to = Math.min(length, Math.ceil((ringing.until - now) * oversampling));
    if (from >= to) return;
    const touched = Math.max(from, Math.ceil((ringing.until - ringing.touch - now) * oversampling));
    const { emf, flux } = scratch;
    for (let e = 0; e < ears.length; e++) {
      const { group, factor } = ears[e]!;
      const r1 = heard.curves[3 * e] ?? 0;
      const r2 = heard.curves[3 * e + 1] ?? 0;
      const r3 = heard.curves[3 * e + 2] ?? 0;
      const bend = Math.abs(r1) + Math.sqrt(Math.abs(r2)) + Math.cbrt(Math.abs(r3));
      const scale = heard.scales[e]!;
      this.sumEmf(ringing, note.amplitude, heard.weights[e]!, scratch);
      if (bend > 0 || touched < to) {
        this.sumFlux(ringing, note.amplitude, heard.weights[e]!, bend * scale, touched < to, scratch);
      }
      for (let i = touched; i < to; i++) {
        const x = 1 - (ringing.until - now - i / oversampling) / ringing.touch;
        const left = touchLeft(x);
        emf[i] = left * emf[i]! + touchSlope(x) * flux[i]!;
        flux[i]! *= left;
      }
      const input = this.inputs[group]!;
      if (bend > 0) {
        for (let i = from; i < to; i++) {
          const u = scale * flux[i]!;
          input[i]! += factor * Math.exp(boundedExponent(u * (r1 + u * (r2 + u * r3)))) * emf[i]!;
        }
      } else {
        for (let i = from; i < to; i++) input[i]! += factor * emf[i]!;
      }
    }
  }

  /** Filter the block and turn it into digital amplitude. */
  finish(out: Float64Array): void {
    const { filters, gain, oversampling } = this.setup;
    this.output.clear();
    for (let g = 0; g < filters.length; g++) {
      let input = this.inputs[g]!;
      if (oversampling === 2) {
        this.bands[g]!.process(input, this.coarse);
        input = this.coarse;
      }
      if (this.rising > 0) {
        for (let i = 0; i < LIVE_BLOCK; i++) {
          const x = Math.min(1, (this.rise - this.rising + i + 1) / this.rise);
          input[i]! *= 0.5 - 0.5 * Math.cos(Math.PI * x);
        }
      }
      this.histories[g]!.push(input);
      this.histories[g]!.addFiltered(filters[g]!, this.output.sum);
    }
    this.rising = Math.max(0, this.rising - LIVE_BLOCK);
    this.output.take(out);
    for (let i = 0; i < LIVE_BLOCK; i++) out[i]! *= gain;
  }

  private find(string: number, fret: number): LiveNote | null {
    for (const note of this.setup.notes) if (note.string === string && note.fret === fret) return note;
    return null;
  }

  /** scratch.emf = Σ Re(flux (−α + iω) z), flux = amplitude × weight, z the mode's state. */
  private sumEmf(ringing: Ringing, amplitude: Float64Array, weights: Float64Array, scratch: Scratch): void {
    const { re, im, size, halfRe, halfIm, count } = ringing;
    const { angular, decay } = ringing.note!;
    const { oversampling, gain } = this.setup;
    const { bank, emf } = scratch;
    const least = INAUDIBLE / gain;
    for (let i = 0; i < count; i++) {
      const flux = amplitude[i]! * weights[i]!;
      const gainIm = flux * angular[i]!;
      if (!(Math.abs(gainIm) * size[i]! > least)) continue;
      const gainRe = -flux * decay[i]!;
      const real = gainRe * re[i]! - gainIm * im[i]!;
      const imaginary = gainRe * im[i]! + gainIm * re[i]!;
      let stepRe = halfRe[i]!;
      let stepIm = halfIm[i]!;
      if (oversampling === 1) {
        const once = stepRe;
        stepRe = once * once - stepIm * stepIm;
        stepIm *= 2 * once;
      }
      bank.add(real, real * stepRe - imaginary * stepIm, 2 * stepRe, stepRe * stepRe + stepIm * stepIm);
    }
    bank.run(emf, oversampling * LIVE_BLOCK);
  }

  /** scratch.flux = Σ flux Re z. @param bend share of the exponent for one V·s */
  private sumFlux(
    ringing: Ringing,
    amplitude: Float64Array,
    weights: Float64Array,
    bend: number,
    touched: boolean,
    scratch: Scratch,
  ): void {
    const { re, im, size, halfRe, halfIm, count } = ringing;
    const { oversampling, gain } = this.setup;
    const { bank } = scratch;
    const forTouch = touched ? INAUDIBLE / gain / TOUCH_SLOPE : Infinity;
    const least = Math.min(bend > 0 ? UNBENT / bend : Infinity, forTouch);
    for (let i = 0; i < count; i++) {
      const flux = amplitude[i]! * weights[i]!;
      if (!(Math.abs(flux) * size[i]! > least)) continue;
      let stepRe = halfRe[i]!;
      let stepIm = halfIm[i]!;
      if (oversampling === 1) {
        const once = stepRe;
        stepRe = once * once - stepIm * stepIm;
        stepIm *= 2 * once;
      }
      const real = flux * re[i]!;
      bank.add(real, real * stepRe - flux * im[i]! * stepIm, 2 * stepRe, stepRe * stepRe + stepIm * stepIm);
    }
    bank.run(scratch.flux, oversampling * LIVE_BLOCK);
  }
}
