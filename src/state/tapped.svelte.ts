/** What the output's analyser shows of the sound, read a few times a second while somebody looks. */
import { readSpectrum, type Spectrum } from '../audio/spectrum.ts';

export type { Spectrum } from '../audio/spectrum.ts';

/** ms between two readings; and where less motion is asked for. */
const PERIOD = 48;
const CALM_PERIOD = 500;
/** A picture that was high shrinks by this share a reading. */
const SHRINK = 0.97;

/** A piece of what sounds. */
export interface Wave {
  /** Digital amplitude, the newest last. */
  readonly samples: Float32Array;
  readonly sampleRate: number;
  /** Height of the picture: the highest of late. */
  readonly top: number;
}

/** All are null while nobody looks, and before an output is open. */
export class Tapped {
  readonly #tap: () => AnalyserNode | null;
  readonly #position: () => Promise<number | null>;
  wave: Wave | null = $state.raw(null);
  spectrum: Spectrum | null = $state.raw(null);
  /** Where in the phrase that is, s; null while nobody looks. */
  position: number | null = $state(null);
  #watched = false;
  /** Filled anew at every reading: what changes is the object around them. */
  #samples = new Float32Array(0);
  #levels = new Float32Array(0);
  #top = 0;

  /** @param position where in the phrase what is heard stands, s; null while nothing sounds */
  constructor(tap: () => AnalyserNode | null, position: () => Promise<number | null>) {
    this.#tap = tap;
    this.#position = position;
  }

  /** Reads until the returned function is called. Nothing is read while the page is out of sight. */
  watch = (): (() => void) => {
    const calm = matchMedia('(prefers-reduced-motion: reduce)');
    let last = -Infinity;
    let frame = 0;
    const look = (now: number): void => {
      frame = requestAnimationFrame(look);
      if (now - last < (calm.matches ? CALM_PERIOD : PERIOD)) return;
      last = now;
      this.#read();
    };
    frame = requestAnimationFrame(look);
    this.#watched = true;
    return () => {
      cancelAnimationFrame(frame);
      this.#watched = false;
      this.position = null;
      this.wave = null;
      this.spectrum = null;
      this.#top = 0;
    };
  };

  #read(): void {
    const analyser = this.#tap();
    if (!analyser) return;
    const { fftSize, frequencyBinCount, context } = analyser;
    if (this.#samples.length !== fftSize) {
      this.#samples = new Float32Array(fftSize);
      this.#levels = new Float32Array(frequencyBinCount);
    }
    const samples = this.#samples;
    analyser.getFloatTimeDomainData(samples);
    let peak = 0;
    for (let i = 0; i < samples.length; i++) peak = Math.max(peak, Math.abs(samples[i]!));
    this.#top = Math.max(peak, SHRINK * this.#top);
    this.wave = { samples, sampleRate: context.sampleRate, top: this.#top };
    this.spectrum = readSpectrum(analyser, this.#levels);
    void this.#position().then((position) => {
      if (this.#watched) this.position = position;
    });
  }
}
