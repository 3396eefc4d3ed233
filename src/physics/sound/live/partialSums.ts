/** What one ear hears of a string: its partials, each by the ear's weight, summed over a block. */
import type { PartialBank } from './partials.ts';
import type { Ringing } from './ringing.ts';
import { LIVE_BLOCK, type LiveSetup } from './types.ts';

/**
 * A partial whose voltage is below this, as digital amplitude, is left out: −160 dBFS, so that a steep curve and the
 * circuit's resonance may still lift it.
 */
const INAUDIBLE = 1e-8;

/** Buffers that all sides share; each use is over before the next begins. */
export interface Scratch {
  readonly bank: PartialBank;
  readonly emf: Float64Array;
  readonly flux: Float64Array;
  /** Of three ears that share their partials. */
  readonly fluxes: readonly Float64Array[];
}

/** scratch.emf = Σ Re(flux (−α + iω) z), flux = amplitude × weight, z the mode's state; at the sample rate. */
export function sumVoltage(
  ringing: Ringing,
  weights: Float64Array,
  { gain }: LiveSetup,
  { bank, emf }: Scratch,
): void {
  const { re, im, size, halfRe, halfIm, count } = ringing;
  const { amplitude, angular, decay } = ringing.note!;
  const least = INAUDIBLE / gain;
  for (let i = 0; i < count; i++) {
    const flux = amplitude[i]! * weights[i]!;
    const gainIm = flux * angular[i]!;
    if (!(Math.abs(gainIm) * size[i]! > least)) continue;
    const gainRe = -flux * decay[i]!;
    const real = gainRe * re[i]! - gainIm * im[i]!;
    const imaginary = gainRe * im[i]! + gainIm * re[i]!;
    const hr = halfRe[i]!;
    const hi = halfIm[i]!;
    const stepRe = hr * hr - hi * hi;
    const stepIm = 2 * hr * hi;
    bank.add(real, real * stepRe - imaginary * stepIm, 2 * stepRe, stepRe * stepRe + stepIm * stepIm);
  }
  bank.run(emf, LIVE_BLOCK);
}

/**
 * scratch.flux = Σ flux Re z. What is left out is judged by the voltage of the partial's own movement, or where `slope`
 * (1/s) isn't 0 by that.
 */
export function sumFlux(
  ringing: Ringing,
  weights: Float64Array,
  slope: number,
  { gain, oversampling }: LiveSetup,
  scratch: Scratch,
): void {
  const { re, im, size, halfRe, halfIm, count } = ringing;
  const { amplitude, angular } = ringing.note!;
  const { bank } = scratch;
  const least = INAUDIBLE / gain;
  for (let i = 0; i < count; i++) {
    const flux = amplitude[i]! * weights[i]!;
    if (!(Math.abs(flux) * size[i]! * (slope > 0 ? slope : angular[i]!) > least)) continue;
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

/**
 * For two or three ears from index `first` on:
 * scratch.fluxes[k] = Σ amplitude × weight of ear first + k × Re z. Left out is what
 * none of them would hear.
 */
export function sumFluxes(
  ringing: Ringing,
  weights: readonly Float64Array[],
  first: number,
  { gain, oversampling }: LiveSetup,
  { bank, fluxes }: Scratch,
): void {
  const { re, im, size, halfRe, halfIm, count } = ringing;
  const { amplitude, angular } = ringing.note!;
  const least = INAUDIBLE / gain;
  const u = weights[first]!;
  const v = weights[first + 1]!;
  const w = weights[first + 2];
  for (let i = 0; i < count; i++) {
    const a = amplitude[i]! * u[i]!;
    const b = amplitude[i]! * v[i]!;
    const c = w ? amplitude[i]! * w[i]! : 0;
    const most = Math.max(Math.abs(a), Math.abs(b), Math.abs(c));
    if (!(most * size[i]! * angular[i]! > least)) continue;
    let stepRe = halfRe[i]!;
    let stepIm = halfIm[i]!;
    if (oversampling === 1) {
      const once = stepRe;
      stepRe = once * once - stepIm * stepIm;
      stepIm *= 2 * once;
    }
    const y1 = re[i]! * stepRe - im[i]! * stepIm;
    bank.addShared(re[i]!, y1, 2 * stepRe, stepRe * stepRe + stepIm * stepIm, a, b, c);
  }
  bank.runShared(fluxes, oversampling * LIVE_BLOCK);
}
