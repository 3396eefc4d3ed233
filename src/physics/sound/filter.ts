/** The circuit as a filter: coil voltages in, the voltage at the amplifier's input out. */
import type { Harness } from '../../sheet/sheet.ts';
import type { HeardPickup as Pickup } from '../heard/resolved.ts';
import { harnessTransfer } from '../circuit/harness.ts';
import { powerOfTwo, realFft } from '../numerics/fft.ts';

/** Coils that the circuit treats alike but for a factor; their voltages may be added before filtering. */
export interface CoilGroup {
  readonly coils: readonly { readonly pickup: number; readonly row: number; readonly factor: number }[];
  /** Transfer on `transferGrid`'s frequencies. */
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** Grid: f = KNEE·sinh(u), u in equal steps: 0.5 Hz apart at the bottom, 0.35 % of the frequency at the top. */
const KNEE = 100;
const GRID_POINTS = 2048;
/** Stands in for 0 Hz, where a node behind a capacitor has no voltage; Hz. */
const NEARLY_ZERO = 1e-3;
/** Two transfers count as proportional when they agree to this share of the largest (−180 dB; rounding leaves 1e-13). */
const ALIKE = 1e-9;
/** Silence behind the signal into which the circuit may ring, s; the slowest usual time constant is about 20 ms. */
const PADDING = 0.25;

function gridStep(nyquist: number): number {
  return Math.asinh(nyquist / KNEE) / (GRID_POINTS - 1);
}

/** The sounding coils in groups of proportional transfer, from 0 Hz to `nyquist` (Hz). */
export function coilGroups(pickups: readonly Pickup[], harness: Harness, nyquist: number): CoilGroup[] {
  const step = gridStep(nyquist);
  const frequencies = Float64Array.from({ length: GRID_POINTS }, (_, i) =>
    Math.max(NEARLY_ZERO, KNEE * Math.sinh(i * step)),
  );
  const sounding = pickups.map(({ sounds }) => sounds);
  const groups: (CoilGroup & { coils: { pickup: number; row: number; factor: number }[] })[] = [];
  for (const { pickup, row, re, im } of harnessTransfer(pickups, harness, sounding, frequencies)) {
    const known = groups.map((group) => ({ group, factor: proportion(group, { re, im }) }));
    const fit = known.find(({ factor }) => factor !== null);
    if (fit) fit.group.coils.push({ pickup, row, factor: fit.factor! });
    else groups.push({ coils: [{ pickup, row, factor: 1 }], re, im });
  }
  // What has no coil gives no voltage.
  const silent = new Float64Array(GRID_POINTS);
  if (groups.length === 0 && sounding.includes(true)) return [{ coils: [], re: silent, im: silent }];
  return groups;
}

interface Spectrum {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** The real factor that makes `other` out of `base`, or null when there is none. */
function proportion(base: Spectrum, other: Spectrum): number | null {
  let product = 0;
  let power = 0;
  let largest = 0;
  for (let i = 0; i < base.re.length; i++) {
    product += base.re[i]! * other.re[i]! + base.im[i]! * other.im[i]!;
    power += base.re[i]! ** 2 + base.im[i]! ** 2;
    largest = Math.max(largest, Math.abs(other.re[i]!), Math.abs(other.im[i]!));
  }
  if (power === 0) return largest === 0 ? 0 : null;
  const factor = product / power;
  for (let i = 0; i < base.re.length; i++) {
    const off = Math.hypot(other.re[i]! - factor * base.re[i]!, other.im[i]! - factor * base.im[i]!);
    if (off > ALIKE * largest) return null;
  }
  return factor;
}

/** What comes behind the circuit, as a transfer at a frequency (Hz). */
export type Behind = (frequency: number) => { readonly re: number; readonly im: number };

/**
 * Filter each group's voltage (V, all of one length) by its transfer and add them up: the output voltage, V, of the same
 * length. Convolution by transform, padded so that nothing wraps around. Between the grid's points the transfer is a
 * cubic through four of them; a resonance of Q 30 comes out within 0.001 dB.
 */
export function filterGroups(
  groups: readonly CoilGroup[],
  voltages: readonly Float64Array[],
  sampleRate: number,
  behind?: Behind,
): Float64Array {
  const length = voltages[0]?.length ?? 0;
  const size = powerOfTwo(length + Math.ceil(PADDING * sampleRate));
  const fft = realFft(size);
  const signal = new Float64Array(size);
  const spectrum = new Float64Array(size + 2);
  const sum = new Float64Array(size + 2);
  const transfer = new Float64Array(size + 2);
  groups.forEach((group, g) => {
    signal.fill(0);
    signal.set(voltages[g]!);
    fft.forward(signal, spectrum);
    groupTransfer(group, sampleRate / 2, transfer, behind);
    for (let k = 0; k < size + 2; k += 2) addProduct(spectrum, transfer, sum, k);
  });
  fft.inverse(sum, signal);
  return signal.slice(0, length);
}

/**
 * The same from each group's flux (V·s) at `factor` times the sample rate: differentiated, filtered, and everything above
 * half the sample rate cut off, all on the spectrum. The flux must begin at 0; where it ends is led back to 0.
 */
export function filterFluxes(
  groups: readonly CoilGroup[],
  fluxes: readonly Float64Array[],
  sampleRate: number,
  factor: number,
  behind?: Behind,
): Float64Array {
  const length = (fluxes[0]?.length ?? 0) / factor;
  const size = powerOfTwo(length + Math.ceil(PADDING * sampleRate));
  const fine = realFft(size * factor);
  const signal = new Float64Array(size * factor);
  const spectrum = new Float64Array(size * factor + 2);
  const sum = new Float64Array(size + 2);
  const transfer = new Float64Array(size + 2);
  const step = (2 * Math.PI * sampleRate) / size / factor;
  groups.forEach((group, g) => {
    const flux = fluxes[g]!;
    const rest = flux[flux.length - 1] ?? 0;
    signal.set(flux);
    for (let i = flux.length; i < signal.length; i++) {
      const x = (i - flux.length + 1) / (signal.length - flux.length);
      signal[i] = rest * (0.5 + 0.5 * Math.cos(Math.PI * x));
    }
    fine.forward(signal, spectrum);
    groupTransfer(group, sampleRate / 2, transfer, behind);
    // Times jω; the sums of the long transform are `factor` times as large.
    for (let k = 0; k < size + 2; k += 2) {
      const omega = (k / 2) * step;
      const re = spectrum[k]!;
      spectrum[k] = -omega * spectrum[k + 1]!;
      spectrum[k + 1] = omega * re;
      addProduct(spectrum, transfer, sum, k);
    }
  });
  const out = new Float64Array(size);
  realFft(size).inverse(sum, out);
  return out.slice(0, length);
}

/** sum += a × b in the bin whose real part stands at k. */
function addProduct(a: Float64Array, b: Float64Array, sum: Float64Array, k: number): void {
  sum[k]! += a[k]! * b[k]! - a[k + 1]! * b[k + 1]!;
  sum[k + 1]! += a[k]! * b[k + 1]! + a[k + 1]! * b[k]!;
}

/**
 * A group's transfer in equal steps from 0 Hz to `nyquist` (Hz, as given to `coilGroups`), real and imaginary parts
 * in turn, into `out`.
 */
export function groupTransfer(
  { re, im }: Spectrum,
  nyquist: number,
  out: Float64Array,
  behind?: Behind,
): void {
  const step = gridStep(nyquist);
  const bins = out.length / 2 - 1;
  const top = re.length - 4;
  for (let k = 0; k <= bins; k++) {
    const frequency = (nyquist * k) / bins;
    const place = Math.asinh(frequency / KNEE) / step;
    const base = Math.min(Math.max(Math.floor(place) - 1, 0), top);
    // Lagrange's weights for the points 0, 1, 2, 3 at t.
    const t = place - base;
    const w0 = (-(t - 1) * (t - 2) * (t - 3)) / 6;
    const w1 = (t * (t - 2) * (t - 3)) / 2;
    const w2 = (-t * (t - 1) * (t - 3)) / 2;
    const w3 = (t * (t - 1) * (t - 2)) / 6;
    const hRe = w0 * re[base]! + w1 * re[base + 1]! + w2 * re[base + 2]! + w3 * re[base + 3]!;
    const hIm = w0 * im[base]! + w1 * im[base + 1]! + w2 * im[base + 2]! + w3 * im[base + 3]!;
    const then = behind?.(frequency);
    out[2 * k] = then ? hRe * then.re - hIm * then.im : hRe;
    out[2 * k + 1] = then ? hRe * then.im + hIm * then.re : hIm;
  }
}
