/** Typed wrapper over fft.js for real signals. */
import FFT from 'fft.js';
import { Kept } from './kept.ts';

/**
 * Discrete Fourier transform of N real samples, N a power of two ≥ 4, by one complex transform of half the size.
 * Spectra are N/2 + 1 bins, real and imaginary parts in turn (length N + 2), X[k] = Σ x[n] e^(−2πikn/N).
 */
export interface RealFft {
  readonly size: number;
  forward(signal: Float64Array, spectrum: Float64Array): void;
  /** The exact inverse of `forward`. */
  inverse(spectrum: Float64Array, signal: Float64Array): void;
}

interface ComplexFft {
  transform(out: Float64Array, data: Float64Array): void;
  inverseTransform(out: Float64Array, data: Float64Array): void;
}

/** Sizes kept, because the tables take as long to make as a transform. */
const kept = new Kept<RealFft, number>(4);

/**
 * The transform of one size; those of the last few sizes are kept.
 *
 * @param size N, a power of two, 4 or more
 * @throws RangeError for another size, and from both directions for arrays of other lengths than N and N + 2
 */
export const realFft = (size: number): RealFft => kept.of(size, () => checked(size));

function checked(size: number): RealFft {
  if (!Number.isInteger(size) || size < 4 || (size & (size - 1)) !== 0) {
    throw new RangeError(`The transform size must be a power of two, 4 or more; got ${size}.`);
  }
  return make(size);
}

/** The smallest power of two that is at least `length` (and 4). */
export function powerOfTwo(length: number): number {
  return Math.max(4, 2 ** Math.ceil(Math.log2(length)));
}

function make(size: number): RealFft {
  const half = size / 2;
  const complex = new FFT(half) as unknown as ComplexFft;
  const work = new Float64Array(size);
  const cosine = new Float64Array(half / 2 + 1);
  const sine = new Float64Array(half / 2 + 1);
  for (let k = 0; k < cosine.length; k++) {
    cosine[k] = Math.cos((2 * Math.PI * k) / size);
    sine[k] = Math.sin((2 * Math.PI * k) / size);
  }

  const check = (signal: Float64Array, spectrum: Float64Array) => {
    if (signal.length !== size || spectrum.length !== size + 2) {
      throw new RangeError(
        `Signal and spectrum must have ${size} and ${size + 2} values; got ${signal.length} and ${spectrum.length}.`,
      );
    }
  };

  return {
    size,
    forward(signal, spectrum) {
      check(signal, spectrum);
      // Even samples are the real, odd ones the imaginary part of a signal of half the length.
      complex.transform(work, signal);
      const re0 = work[0]!;
      const im0 = work[1]!;
      for (let k = 1; k <= half / 2; k++) {
        const m = half - k;
        const evenRe = 0.5 * (work[2 * k]! + work[2 * m]!);
        const evenIm = 0.5 * (work[2 * k + 1]! - work[2 * m + 1]!);
        const oddRe = 0.5 * (work[2 * k + 1]! + work[2 * m + 1]!);
        const oddIm = 0.5 * (work[2 * m]! - work[2 * k]!);
        const c = cosine[k]!;
        const s = sine[k]!;
        const turnedRe = oddRe * c + oddIm * s;
        const turnedIm = oddIm * c - oddRe * s;
        spectrum[2 * k] = evenRe + turnedRe;
        spectrum[2 * k + 1] = evenIm + turnedIm;
        spectrum[2 * m] = evenRe - turnedRe;
        spectrum[2 * m + 1] = turnedIm - evenIm;
      }
      spectrum[0] = re0 + im0;
      spectrum[1] = 0;
      spectrum[size] = re0 - im0;
      spectrum[size + 1] = 0;
    },
    inverse(spectrum, signal) {
      check(signal, spectrum);
      work[0] = 0.5 * (spectrum[0]! + spectrum[size]!);
      work[1] = 0.5 * (spectrum[0]! - spectrum[size]!);
      for (let k = 1; k <= half / 2; k++) {
        const m = half - k;
        const evenRe = 0.5 * (spectrum[2 * k]! + spectrum[2 * m]!);
        const evenIm = 0.5 * (spectrum[2 * k + 1]! - spectrum[2 * m + 1]!);
        const turnedRe = 0.5 * (spectrum[2 * k]! - spectrum[2 * m]!);
        const turnedIm = 0.5 * (spectrum[2 * k + 1]! + spectrum[2 * m + 1]!);
        const c = cosine[k]!;
        const s = sine[k]!;
        const oddRe = turnedRe * c - turnedIm * s;
        const oddIm = turnedIm * c + turnedRe * s;
        work[2 * k] = evenRe - oddIm;
        work[2 * k + 1] = evenIm + oddRe;
        work[2 * m] = evenRe + oddIm;
        work[2 * m + 1] = oddRe - evenIm;
      }
      complex.inverseTransform(signal, work);
    },
  };
}
