/** Measuring partials in a WAV file, apart from the program's own synthesis, transform and file code. */
import FFT from 'fft.js';

export interface WavData {
  readonly samples: Float64Array;
  readonly sampleRate: number;
}

/** Read one channel of 32-bit float by the published layout of RIFF chunks. */
export function readWav(bytes: Uint8Array): WavData {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const word = (at: number) => String.fromCharCode(...bytes.subarray(at, at + 4));
  if (word(0) !== 'RIFF' || word(8) !== 'WAVE') throw new Error('The file must be a WAV file.');
  let sampleRate = 0;
  for (let at = 12; at < bytes.length; at += 8 + view.getUint32(at + 4, true)) {
    if (word(at) === 'fmt ') {
      if (view.getUint16(at + 8, true) !== 3) throw new Error('The samples must be floats.');
      sampleRate = view.getUint32(at + 12, true);
    }
    if (word(at) === 'data') {
      const count = view.getUint32(at + 4, true) / 4;
      const samples = Float64Array.from({ length: count }, (_, i) => view.getFloat32(at + 8 + 4 * i, true));
      return { samples, sampleRate };
    }
  }
  throw new Error('The file must have samples.');
}

/** A window that falls off fast enough to tell partials 100 dB apart: cos⁶, main lobe ± 4 bins. */
function windowOf(length: number): Float64Array {
  return Float64Array.from({ length }, (_, i) => Math.sin((Math.PI * (i + 0.5)) / length) ** 6);
}

/** Frequencies (Hz) of all local maxima in the magnitude spectrum of the signal from `start` on (samples). */
export function spectrumPeaks({ samples, sampleRate }: WavData, start: number, size: number): number[] {
  const window = windowOf(size);
  const input = new Float64Array(2 * size);
  for (let i = 0; i < size; i++) input[2 * i] = samples[start + i]! * window[i]!;
  const output = new Float64Array(2 * size);
  const fft = new FFT(size) as { transform(out: Float64Array, data: Float64Array): void };
  fft.transform(output, input);
  const size2 = (k: number) => output[2 * k]! ** 2 + output[2 * k + 1]! ** 2;
  const peaks: number[] = [];
  for (let k = 2; k < size / 2 - 2; k++) {
    if (size2(k) > size2(k - 1) && size2(k) >= size2(k + 1)) {
      // A parabola through the logarithms of three bins.
      const [l, m, r] = [Math.log(size2(k - 1)), Math.log(size2(k)), Math.log(size2(k + 1))];
      peaks.push(((k + (0.5 * (l - r)) / (l - 2 * m + r)) * sampleRate) / size);
    }
  }
  return peaks;
}

export interface Measured {
  readonly frequency: number;
  /** 1/s. */
  readonly decay: number;
  /** Amplitude at `origin`. */
  readonly amplitude: number;
}

/**
 * A decaying partial near a peak: windowed Fourier sums at that frequency over two stretches of the signal. Their
 * phases give the frequency, their sizes the decay, and both with the window's own response the amplitude at `origin` (s).
 */
export function measurePartial(
  { samples, sampleRate }: WavData,
  peak: number,
  stretch: { readonly start: number; readonly length: number; readonly shift: number },
  origin: number,
): Measured {
  const window = windowOf(stretch.length);
  let frequency = peak;
  let decay = 0;
  let amplitude = 0;
  // Three rounds: the phase step must be read at nearly the right frequency.
  for (let round = 0; round < 3; round++) {
    const [first, second] = [stretch.start, stretch.start + stretch.shift].map((start) => {
      let re = 0;
      let im = 0;
      const w = (2 * Math.PI * frequency) / sampleRate;
      for (let i = 0; i < stretch.length; i++) {
        const value = samples[start + i]! * window[i]!;
        re += value * Math.cos(w * (start + i));
        im -= value * Math.sin(w * (start + i));
      }
      return { size: Math.hypot(re, im), phase: Math.atan2(im, re) };
    });
    let turn = second!.phase - first!.phase;
    turn -= 2 * Math.PI * Math.round(turn / (2 * Math.PI));
    const seconds = stretch.shift / sampleRate;
    frequency += turn / (2 * Math.PI * seconds);
    decay = Math.log(first!.size / second!.size) / seconds;
    let response = 0;
    for (let i = 0; i < stretch.length; i++) {
      response += window[i]! * Math.exp(-decay * ((stretch.start + i) / sampleRate - origin));
    }
    amplitude = (2 * first!.size) / response;
  }
  return { frequency, decay, amplitude };
}
