/**
 * Convolution in uniform partitions: each block is transformed once, multiplied with every partition's spectrum and
 * transformed back, so that the output of a block is there with its input: no latency beyond the block.
 */
import { realFft, type RealFft } from '../../numerics/fft.ts';
import { LIVE_BLOCK } from './types.ts';

const SIZE = 2 * LIVE_BLOCK;
const WIDTH = SIZE + 2;

/** The spectra of a group's last blocks. */
export class InputHistory {
  private spectra: Float64Array;
  private readonly signal = new Float64Array(SIZE);
  private readonly fft: RealFft = realFft(SIZE);
  private parts: number;
  private newest = 0;

  constructor(parts: number) {
    this.parts = parts;
    this.spectra = new Float64Array(parts * WIDTH);
  }

  /** As many blocks of silence. */
  reset(parts: number): void {
    if (parts * WIDTH > this.spectra.length) this.spectra = new Float64Array(parts * WIDTH);
    else this.spectra.fill(0);
    this.parts = parts;
    this.newest = 0;
    this.signal.fill(0);
  }

  /** The past of another one, as far as it goes. */
  copy(other: InputHistory): void {
    this.signal.set(other.signal);
    const parts = Math.min(this.parts, other.parts);
    for (let p = 0; p < parts; p++) {
      const from = other.slot(p);
      this.spectra.set(other.spectra.subarray(from, from + WIDTH), this.slot(p));
    }
  }

  /** The first LIVE_BLOCK samples of `block`. */
  push(block: Float64Array): void {
    this.newest = this.newest === 0 ? this.parts - 1 : this.newest - 1;
    this.signal.copyWithin(0, LIVE_BLOCK);
    for (let i = 0; i < LIVE_BLOCK; i++) this.signal[LIVE_BLOCK + i] = block[i]!;
    const from = this.slot(0);
    // Subarrays are small and die at once; the transform writes through them.
    this.fft.forward(this.signal, this.view(from));
  }

  /** sum += Σ history × filter (partition spectra one behind the other). */
  addFiltered(filter: Float64Array, sum: Float64Array): void {
    const parts = Math.min(this.parts, filter.length / WIDTH);
    const { spectra } = this;
    for (let p = 0; p < parts; p++) {
      const x = this.slot(p);
      const h = p * WIDTH;
      for (let k = 0; k < WIDTH; k += 2) {
        const xr = spectra[x + k]!;
        const xi = spectra[x + k + 1]!;
        const hr = filter[h + k]!;
        const hi = filter[h + k + 1]!;
        sum[k]! += xr * hr - xi * hi;
        sum[k + 1]! += xr * hi + xi * hr;
      }
    }
  }

  private slot(age: number): number {
    return ((this.newest + age) % this.parts) * WIDTH;
  }

  private views: Float64Array[] = [];

  private view(from: number): Float64Array {
    const index = from / WIDTH;
    const known = this.views[index];
    if (known && known.buffer === this.spectra.buffer) return known;
    return (this.views[index] = this.spectra.subarray(from, from + WIDTH));
  }
}

/** Turns a sum of filtered spectra into the block of output. */
export class OutputBlock {
  /** Filtered spectra, to be added up here. */
  readonly sum = new Float64Array(WIDTH);
  private readonly fft: RealFft = realFft(SIZE);
  private readonly signal = new Float64Array(SIZE);

  /** Begins a block. */
  clear(): void {
    this.sum.fill(0);
  }

  /** The block itself, LIVE_BLOCK samples. */
  take(out: Float64Array): void {
    this.fft.inverse(this.sum, this.signal);
    for (let i = 0; i < LIVE_BLOCK; i++) out[i] = this.signal[LIVE_BLOCK + i]!;
  }
}
