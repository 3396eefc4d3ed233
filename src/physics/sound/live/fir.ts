/**
 * The circuit as a filter of finite length at any sample rate: the exact transfer on a fine grid of frequencies, let down
 * to zero smoothly between the audible band and half the sample rate, delayed a little so that what this costs in
 * sharpness stands before and behind, transformed back and cut where nothing is left.
 *
 * Up to 20 kHz the transfer is the circuit's own, not that of a bilinear or impulse-invariant approximation. What is cut
 * off carries less than −108 dB of the response's energy.
 */
import { realFft } from '../../numerics/fft.ts';
import { groupTransfer, type Behind, type CoilGroup } from '../filter.ts';
import { LIVE_BLOCK, LIVE_LIMIT } from './types.ts';

/** Energy that may be cut off, as a share. */
const CUT = 10 ** (-108 / 10);
/** s; the longest response, a fifth of what the grid of frequencies can hold. */
const LONGEST = 0.1;
/** Samples over which the cut end is let down, and over which the beginning rises. */
const END = 32;
const START = 32;

/**
 * The response, its length a whole number of blocks.
 *
 * @param delay samples by which it is late
 * @param differentiate whether it takes flux (V·s) instead of voltage. The cut response is differentiated: cut after
 *   that, what is missing of its slow end would be large against the little that is left of low notes.
 */
export function circuitResponse(
  group: CoilGroup,
  sampleRate: number,
  delay: number,
  differentiate: boolean,
  behind?: Behind,
): Float64Array {
  const nyquist = sampleRate / 2;
  const size = sampleRate < 80000 ? 16384 : 32768;
  const fft = realFft(size);
  const spectrum = new Float64Array(size + 2);
  groupTransfer(group, nyquist, spectrum, behind);
  for (let k = 0; k < size + 2; k += 2) {
    const frequency = (k / size) * nyquist;
    const level = letDown((frequency - LIVE_LIMIT) / (nyquist - LIVE_LIMIT));
    const phase = (-Math.PI * delay * k) / size;
    const c = level * Math.cos(phase);
    const s = level * Math.sin(phase);
    const re = spectrum[k]!;
    spectrum[k] = re * c - spectrum[k + 1]! * s;
    spectrum[k + 1] = re * s + spectrum[k + 1]! * c;
  }
  // A real signal has no imaginary part at 0 Hz and at half the sample rate.
  spectrum[1] = 0;
  spectrum[size + 1] = 0;
  const response = new Float64Array(size);
  fft.inverse(spectrum, response);
  const length = cut(response, Math.ceil(LONGEST * sampleRate));
  if (!differentiate) return whole(response, length);
  fft.forward(response, spectrum);
  for (let k = 0; k < size; k += 2) {
    const omega = (k / size) * 2 * Math.PI * nyquist;
    const re = spectrum[k]!;
    spectrum[k] = -omega * spectrum[k + 1]!;
    spectrum[k + 1] = omega * re;
  }
  spectrum[size] = 0;
  fft.inverse(spectrum, response);
  return whole(response, length + END);
}

/** 1 below 0, 0 above 1; in between with all slopes continuous. */
function letDown(x: number): number {
  if (x <= 0) return 1;
  if (x >= 1) return 0;
  return 1 / (1 + Math.exp(1 / (1 - x) - 1 / x));
}

/** Sets everything to zero behind the part that counts, whose length it returns. */
function cut(response: Float64Array, longest: number): number {
  let energy = 0;
  for (let i = 0; i < longest; i++) energy += response[i]! ** 2;
  let length = longest;
  for (let left = 0; length > 1; length--) {
    left += response[length - 1]! ** 2;
    if (left > CUT * energy) break;
  }
  length = Math.min(longest, length + END);
  for (let i = length - END; i < length; i++) {
    response[i]! *= 0.5 - 0.5 * Math.cos((Math.PI * (length - i)) / END);
  }
  response.fill(0, length);
  for (let i = 0; i < START; i++) response[i]! *= 0.5 - 0.5 * Math.cos((Math.PI * i) / START);
  return length;
}

function whole(response: Float64Array, length: number): Float64Array {
  return response.slice(0, Math.ceil(length / LIVE_BLOCK) * LIVE_BLOCK);
}

/** Spectra of the response's partitions (response in samples), each behind a block's length of zeros. */
export function partitionSpectra(response: Float64Array): Float64Array {
  const size = 2 * LIVE_BLOCK;
  const fft = realFft(size);
  const parts = response.length / LIVE_BLOCK;
  const spectra = new Float64Array(parts * (size + 2));
  const signal = new Float64Array(size);
  for (let p = 0; p < parts; p++) {
    signal.fill(0);
    signal.set(response.subarray(p * LIVE_BLOCK, (p + 1) * LIVE_BLOCK));
    fft.forward(signal, spectra.subarray(p * (size + 2), (p + 1) * (size + 2)));
  }
  return spectra;
}
