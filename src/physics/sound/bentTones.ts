/**
 * What becomes of a note's partials where the reach changes with the distance: bending adds to each of them what others
 * make together, above all to those that pluck or place leave out.
 */
import { powerOfTwo, realFft } from '../numerics/fft.ts';
import type { Polarisation } from '../string/damping.ts';
import type { FluxCurve } from '../string/fluxCurve.ts';
import { fluxTable, readFlux } from './fluxTable.ts';

/**
 * A note's partials at some instants of its beginning; values stand one instant after another. Stiffness moves partials
 * apart: at t partial n is ψ = 2π (f_n − n f_1) t ahead of n times the first.
 */
export interface Beginning {
  readonly partials: number;
  readonly times: Float64Array;
  /** Of the power, adding up to 1. */
  readonly weights: Float64Array;
  readonly cosine: Float64Array;
  readonly sine: Float64Array;
  /** e^(−αt) of either polarisation. */
  readonly towards: Float64Array;
  readonly across: Float64Array;
}

/** s; what a spectrum looks at and a listener takes for the beginning. */
export const BEGINNING = 1 / 3;

/** Partials 1, 2, 3 …: Hz, and 1/s in either polarisation. */
export interface Ringing {
  readonly frequencies: Float64Array;
  readonly decay: Readonly<Record<Polarisation, Float64Array>>;
}

/** @param instants number of them, evenly over the beginning and weighed as by Hann's window; 3 or more */
export function beginningOf({ frequencies, decay }: Ringing, instants: number): Beginning {
  const partials = frequencies.length;
  const times = Float64Array.from({ length: instants }, (_, j) => ((j + 0.5) / instants) * BEGINNING);
  // The mean of sin⁴ is 3/8.
  const weights = times.map((time) => Math.sin((Math.PI * time) / BEGINNING) ** 4 / (0.375 * instants));
  const [cosine, sine, towards, across] = [0, 0, 0, 0].map(() => new Float64Array(partials * instants)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  for (let j = 0; j < instants; j++) {
    for (let i = 0; i < partials; i++) {
      const at = j * partials + i;
      const ahead = 2 * Math.PI * times[j]! * (frequencies[i]! - (i + 1) * frequencies[0]!);
      cosine[at] = Math.cos(ahead);
      sine[at] = Math.sin(ahead);
      towards[at] = Math.exp(-decay.towards[i]! * times[j]!);
      across[at] = Math.exp(-decay.across[i]! * times[j]!);
    }
  }
  return { partials, times, weights, cosine, sine, towards, across };
}

/** Flux of every partial at the pluck as one coil would have it unbent, V·s, moving in either polarisation. */
export type HeardFlux = Readonly<Record<Polarisation, Float64Array>>;

/** Complex amplitudes of a flux, V·s: the wanted partials, one instant after another. */
export interface Tones {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** How a coil hears a string's distance: flux = area · φ(flux unbent/area), see fluxCurve.ts; area in V·s/m. */
export interface Bending {
  readonly area: number;
  readonly curve: FluxCurve;
}

/** Pieces of the curve; its error is 4e-8 of the flux for a range of eight fades (−148 dB). */
const CELLS = 128;

/**
 * The partials of area·φ(u), u = Σ A_n cos(nθ + ψ_n), as Fourier coefficients over one turn of θ: for one period of the
 * string amplitudes and phases stand still.
 *
 * Products of partials i and j fall on partial i ± j, up to 3/2 B f_1 i j n Hz beside it: what is returned is their sum at
 * each instant, whose mean power is what a spectrum has around partial n.
 *
 * @param flux of every partial, V·s; @param wanted number of partials
 */
export function bentTones(
  flux: HeardFlux,
  { area, curve }: Bending,
  { partials, times, cosine, sine, towards, across }: Beginning,
  wanted: number,
): Tones {
  let widest = 0;
  for (let i = 0; i < partials; i++) {
    widest += Math.abs(flux.towards[i]!) + Math.abs(flux.across[i]!);
  }
  const table = fluxTable(curve, -widest / area, widest / area, CELLS);
  const size = powerOfTwo(2 * partials + 2);
  const fft = realFft(size);
  const spectrum = new Float64Array(size + 2);
  const turn = new Float64Array(size);
  const re = new Float64Array(wanted * times.length);
  const im = new Float64Array(wanted * times.length);
  const half = (0.5 * size) / area;
  for (let j = 0; j < times.length; j++) {
    spectrum.fill(0);
    for (let i = 0; i < partials; i++) {
      const at = j * partials + i;
      const amplitude = half * (flux.towards[i]! * towards[at]! + flux.across[i]! * across[at]!);
      spectrum[2 * i + 2] = amplitude * cosine[at]!;
      spectrum[2 * i + 3] = amplitude * sine[at]!;
    }
    fft.inverse(spectrum, turn);
    for (let k = 0; k < size; k++) turn[k] = readFlux(table, turn[k]!);
    fft.forward(turn, spectrum);
    for (let i = 0; i < wanted; i++) {
      re[j * wanted + i] = spectrum[2 * i + 2]! / half;
      im[j * wanted + i] = spectrum[2 * i + 3]! / half;
    }
  }
  return { re, im };
}
