/** One string as it rings: the state of its modes, carried from block to block without regard to who listens. */
import { TOUCH } from '../touch.ts';
import { LIVE_BLOCK, type LiveNote } from './types.ts';

/** A mode that has fallen this far is at rest; it keeps its state out of the denormal numbers. */
const REST = 1e-30;

/** One string's modes; arrays hold a value a mode, of which the first `count` count. */
export class Ringing {
  /** null while the string is still. */
  note: LiveNote | null = null;
  /** Modes of the note. */
  count = 0;
  /** e^((−α+iω)t) of each mode at the beginning of the block, and its size. */
  re = new Float64Array(0);
  im = new Float64Array(0);
  size = new Float64Array(0);
  /** e^((−α+iω)/2) for half a sample. */
  halfRe = new Float64Array(0);
  halfIm = new Float64Array(0);
  /** When it was plucked and when it is silenced, samples, not whole, counted as the engine does. */
  onset = 0;
  until = 0;
  private blockRe = new Float64Array(0);
  private blockIm = new Float64Array(0);
  private blockSize = new Float64Array(0);
  private readonly sampleRate: number;
  /** How long silencing takes, samples. */
  readonly touch: number;

  /** @param sampleRate Hz */
  constructor(sampleRate: number) {
    this.sampleRate = sampleRate;
    this.touch = TOUCH * sampleRate;
  }

  /** Makes room for so many modes; the only place that allocates. */
  reserve(modes: number): void {
    if (modes <= this.re.length) return;
    this.re = grown(this.re, modes);
    this.im = grown(this.im, modes);
    this.size = grown(this.size, modes);
    this.halfRe = grown(this.halfRe, modes);
    this.halfIm = grown(this.halfIm, modes);
    this.blockRe = grown(this.blockRe, modes);
    this.blockIm = grown(this.blockIm, modes);
    this.blockSize = grown(this.blockSize, modes);
  }

  /** Let go at `onset`, within the block that begins at `now`. The state is that of the block's beginning, before the pluck. */
  pluck(note: LiveNote, onset: number, until: number, now: number): void {
    this.note = note;
    this.count = note.angular.length;
    this.onset = onset;
    this.until = until;
    const early = (now - onset) / this.sampleRate;
    const half = 0.5 / this.sampleRate;
    const block = LIVE_BLOCK / this.sampleRate;
    for (let i = 0; i < this.count; i++) {
      const omega = note.angular[i]!;
      const alpha = note.decay[i]!;
      // What dies within a sixtieth of a block has no part in the sound, and would overflow before its pluck.
      const size = alpha * early < -60 ? 0 : Math.exp(-alpha * early);
      this.size[i] = size;
      this.re[i] = size * Math.cos(omega * early);
      this.im[i] = size * Math.sin(omega * early);
      const halfSize = Math.exp(-alpha * half);
      this.halfRe[i] = halfSize * Math.cos(omega * half);
      this.halfIm[i] = halfSize * Math.sin(omega * half);
      const blockSize = Math.exp(-alpha * block);
      this.blockSize[i] = blockSize;
      this.blockRe[i] = blockSize * Math.cos(omega * block);
      this.blockIm[i] = blockSize * Math.sin(omega * block);
    }
  }

  /** On to the beginning of the next block. */
  advance(): void {
    const { re, im, size, blockRe, blockIm, blockSize } = this;
    for (let i = 0; i < this.count; i++) {
      if (size[i]! < REST) {
        re[i] = 0;
        im[i] = 0;
        size[i] = 0;
        continue;
      }
      const r = re[i]!;
      re[i] = r * blockRe[i]! - im[i]! * blockIm[i]!;
      im[i] = r * blockIm[i]! + im[i]! * blockRe[i]!;
      size[i]! *= blockSize[i]!;
    }
  }

  /** No note any more. */
  still(): void {
    this.note = null;
    this.count = 0;
  }
}

function grown(old: Float64Array, length: number): Float64Array<ArrayBuffer> {
  const next = new Float64Array(length);
  next.set(old);
  return next;
}
