/** The spectrum of what sounds and of what could: both by the browser's own analyser, so that they compare. */
import type { Beginning } from '../physics/prediction.ts';

/** Levels on an even scale of frequency. */
export interface Spectrum {
  /** Amplitude as that of a sine, dB below full scale, at 0, 1, 2 … times `spacing`; −∞ for silence. */
  readonly levels: Float32Array<ArrayBuffer>;
  /** Hz. */
  readonly spacing: number;
}

/** An analyser shows a sine under its Blackman window (sum 0.42) at half its amplitude; Web Audio API, section 1.8.6. */
const SINE_DB = 20 * Math.log10(2 / 0.42);
/** s; so long is its window at least: the lowest string's partials (82 Hz) stand apart. */
const WINDOW = 0.3;

/** Fits an analyser for `readSpectrum`. */
export function fit(analyser: AnalyserNode, smoothing = 0): void {
  const wanted = WINDOW * analyser.context.sampleRate;
  let size = 2048;
  while (size < wanted && size < 32768) size *= 2;
  analyser.fftSize = size;
  analyser.smoothingTimeConstant = smoothing;
}

/** @param levels is filled; as many as the analyser's bins */
export function readSpectrum(analyser: AnalyserNode, levels: Float32Array<ArrayBuffer>): Spectrum {
  analyser.getFloatFrequencyData(levels);
  for (let k = 0; k < levels.length; k++) levels[k]! += SINE_DB;
  return { levels, spacing: analyser.context.sampleRate / analyser.fftSize };
}

/** @param gain digital amplitude for one volt. null where the browser can't. Never rejects. */
export async function spectrumOf({ samples, sampleRate }: Beginning, gain: number): Promise<Spectrum | null> {
  try {
    const probe = new OfflineAudioContext(1, 1, sampleRate).createAnalyser();
    fit(probe);
    const context = new OfflineAudioContext(1, probe.fftSize, sampleRate);
    const analyser = context.createAnalyser();
    fit(analyser);
    const buffer = context.createBuffer(1, probe.fftSize, sampleRate);
    buffer.copyToChannel(
      Float32Array.from(samples.subarray(0, probe.fftSize), (volts) => gain * volts),
      0,
    );
    const source = context.createBufferSource();
    source.buffer = buffer;
    source.connect(analyser);
    // An analyser that leads nowhere need not be computed.
    analyser.connect(context.destination);
    source.start();
    await context.startRendering();
    return readSpectrum(analyser, new Float32Array(analyser.frequencyBinCount));
  } catch {
    return null;
  }
}
