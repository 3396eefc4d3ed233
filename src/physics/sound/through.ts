/**
 * A player's own recording through a pickup's coil and load.
 *
 * The recording is taken as the voltage that the strings induce in the coils: a dry, low-impedance string signal (a piezo
 * bridge, an acoustic sensor, a low-impedance pickup). Only the circuit is applied; where along the string
 * the original was taken, how much of the string it heard, and its own frequency response can't be undone.
 */
import type { Harness } from '../../sheet/sheet.ts';
import type { HeardPickup as Pickup, HeardSheet as Sheet } from '../heard/resolved.ts';
import { harnessTransfer } from '../circuit/harness.ts';
import { powerOfTwo, realFft } from '../numerics/fft.ts';
import type { Sound } from './render.ts';
import { finishEnds, setLevel } from './level.ts';
import { loudspeaker } from './speaker.ts';

/** A recording, full scale ±1. */
export interface Recording {
  readonly samples: Float64Array;
  readonly sampleRate: number;
}

/** Voltage that a sample of 1 stands for, V: what a plain pickup gives for a hard stroke. */
export const FULL_SCALE_VOLTS = 1;
/** In a ratio the first circuit's level is not taken for less than this share of its own largest (−40 dB). */
const FLOOR = 0.01;
/** Grid: f = KNEE·sinh(u) in equal steps of u, as fine as the circuits are smooth. */
const KNEE = 100;
const POINTS = 2048;
const NEARLY_ZERO = 1e-3;
/** Silence behind the recording into which the circuit may ring, s. */
const PADDING = 0.25;

interface Response {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** A recording and the sheet through which it was made; null when it is the bare string's. */
export interface Playing {
  readonly recording: Recording;
  readonly from: Sheet | null;
}

/** One of the two below. Throws RangeError when no pickup sounds. */
export function through(sheet: Sheet, { recording, from }: Playing): Sound {
  return from ? throughRatio(recording, from, sheet) : throughCircuit(recording, sheet);
}

/** The recording through the circuit of a sheet, at the sheet's level and through its loudspeaker. */
export function throughCircuit(recording: Recording, sheet: Sheet): Sound {
  return filtered(recording, circuitOf(sheet, recording.sampleRate / 2), sheet);
}

/**
 * A recording that was made through the circuit of `from`, as it would have been through that of `to`: the ratio of the
 * two. Where `from` lets next to nothing through (more than 40 dB below its largest), it is not brought back.
 */
export function throughRatio(recording: Recording, from: Sheet, to: Sheet): Sound {
  const nyquist = recording.sampleRate / 2;
  const a = circuitOf(from, nyquist);
  const b = circuitOf(to, nyquist);
  let largest = 0;
  for (let i = 0; i < POINTS; i++) largest = Math.max(largest, Math.hypot(a.re[i]!, a.im[i]!));
  const least = (FLOOR * largest) ** 2;
  const re = new Float64Array(POINTS);
  const im = new Float64Array(POINTS);
  for (let i = 0; i < POINTS; i++) {
    const size = Math.max(a.re[i]! ** 2 + a.im[i]! ** 2, least, Number.MIN_VALUE);
    re[i] = (b.re[i]! * a.re[i]! + b.im[i]! * a.im[i]!) / size;
    im[i] = (b.im[i]! * a.re[i]! - b.re[i]! * a.im[i]!) / size;
  }
  return filtered(recording, { re, im }, to);
}

/**
 * Output per volt when every sounding coil has the voltage that its reach would give it of one string's movement: coils
 * share by sensitivity, and two rows of one pickup together count as one.
 */
function circuitOf(sheet: Sheet, nyquist: number): Response {
  const { pickups, harness } = sheet;
  const frequencies = gridFrequencies(nyquist);
  const re = new Float64Array(POINTS);
  const im = new Float64Array(POINTS);
  for (const transfer of coilTransfers(pickups, harness, frequencies)) {
    const { rows, reversed, phase } = pickups[transfer.pickup]!;
    // As for the curve of the circuit alone: polarity acts only together with place, which is left out here.
    const crossed = reversed !== (transfer.row > 0 && phase === 'out');
    const weight = (crossed ? -1 : 1) / rows.length;
    for (let i = 0; i < POINTS; i++) {
      re[i]! += weight * transfer.re[i]!;
      im[i]! += weight * transfer.im[i]!;
    }
  }
  return { re, im };
}

function coilTransfers(pickups: readonly Pickup[], harness: Harness, frequencies: Float64Array) {
  const sounding = pickups.map(({ sounds }) => sounds);
  if (!sounding.includes(true))
    throw new RangeError('At least one pickup must sound; got none. Select a pickup.');
  return harnessTransfer(pickups, harness, sounding, frequencies);
}

function gridStep(nyquist: number): number {
  return Math.asinh(nyquist / KNEE) / (POINTS - 1);
}

function gridFrequencies(nyquist: number): Float64Array {
  const step = gridStep(nyquist);
  return Float64Array.from({ length: POINTS }, (_, i) => Math.max(NEARLY_ZERO, KNEE * Math.sinh(i * step)));
}

function filtered({ samples, sampleRate }: Recording, response: Response, { listen }: Sheet): Sound {
  const size = powerOfTwo(samples.length + Math.ceil(PADDING * sampleRate));
  const fft = realFft(size);
  const signal = new Float64Array(size);
  const spectrum = new Float64Array(size + 2);
  for (let i = 0; i < samples.length; i++) signal[i] = FULL_SCALE_VOLTS * samples[i]!;
  fft.forward(signal, spectrum);
  const nyquist = sampleRate / 2;
  const step = gridStep(nyquist);
  for (let k = 0; k < size + 2; k += 2) {
    const frequency = (k / size) * nyquist;
    const place = Math.min(Math.asinh(frequency / KNEE) / step, POINTS - 1.000001);
    const i = Math.floor(place);
    const t = place - i;
    // The grid is fine enough for straight lines: 0.35 % of the frequency, 0.01 dB at a resonance of Q 10.
    let re = (1 - t) * response.re[i]! + t * response.re[i + 1]!;
    let im = (1 - t) * response.im[i]! + t * response.im[i + 1]!;
    if (listen.through === 'loudspeaker') {
      const behind = loudspeaker(frequency);
      const was = re;
      re = re * behind.re - im * behind.im;
      im = was * behind.im + im * behind.re;
    }
    const x = spectrum[k]!;
    spectrum[k] = x * re - spectrum[k + 1]! * im;
    spectrum[k + 1] = x * im + spectrum[k + 1]! * re;
  }
  fft.inverse(spectrum, signal);
  const out = signal.slice(0, samples.length);
  finishEnds(out, sampleRate);
  return { samples: out, sampleRate, ...setLevel(out, sampleRate, listen.level) };
}
