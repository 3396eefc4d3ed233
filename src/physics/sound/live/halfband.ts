/**
 * From twice the sample rate to the sample rate: a half-band filter of linear phase, a sinc under a Kaiser window.
 *
 * Its 139 taps pass 0–20 kHz within 1e-5 and stop everything that would fold below 20 kHz by 100 dB, at 44.1 kHz; at 48 kHz there
 * is more room. Source: textbook design formula N − 1 = (A − 8)/(2.285 Δω), β = 0.1102 (A − 8.7). [Kaiser1974]
 */

/** Delay in samples of the lower rate. */
export const HALFBAND_DELAY = 34;

const REACH = 2 * HALFBAND_DELAY + 1;
const ATTENUATION = 100;
const BETA = 0.1102 * (ATTENUATION - 8.7);

/** The taps beside the middle one (which is ½) at odd distances 1, 3, … REACH; those at even distances are 0. */
export const HALFBAND_SIDE: Float64Array = sideTaps();

function sideTaps(): Float64Array {
  const taps = Float64Array.from({ length: (REACH + 1) / 2 }, (_, i) => {
    const n = 2 * i + 1;
    // One step beyond the last tap the window ends.
    const x = n / (REACH + 1);
    return (
      (Math.sin((Math.PI * n) / 2) / (Math.PI * n)) * (bessel0(BETA * Math.sqrt(1 - x * x)) / bessel0(BETA))
    );
  });
  // Exactly 1 at 0 Hz.
  const sum = taps.reduce((total, tap) => total + tap, 0);
  return taps.map((tap) => (tap * 0.25) / sum);
}

/** I0 by its power series; for arguments below 12 forty terms reach the last digit. */
function bessel0(x: number): number {
  let term = 1;
  let sum = 1;
  for (let k = 1; k < 40; k++) {
    term *= (x / (2 * k)) ** 2;
    sum += term;
  }
  return sum;
}

/** The filter with its memory, in blocks; see above for what it passes. */
export class Halfband {
  /** The last 2·REACH + 1 and the newest samples, oldest first. */
  private readonly line: Float64Array;
  private readonly block: number;

  /** @param block samples of the lower rate taken at once */
  constructor(block: number) {
    this.block = block;
    this.line = new Float64Array(2 * REACH + 2 * block);
  }

  /** Silence for a past. */
  reset(): void {
    this.line.fill(0);
  }

  /** Takes over the past of another of the same block length. */
  copy(other: Halfband): void {
    this.line.set(other.line);
  }

  /** `input`: 2·block samples; `output`: block samples, delayed by HALFBAND_DELAY. */
  process(input: Float64Array, output: Float64Array): void {
    const { line, block } = this;
    line.copyWithin(0, 2 * block);
    line.set(input, 2 * REACH);
    for (let n = 0; n < block; n++) {
      // The newest sample used is 2n + 1 of this block: half a sample later than the output's own time.
      const middle = 2 * n + 1 + REACH;
      let sum = 0.5 * line[middle]!;
      for (let i = 0; i < HALFBAND_SIDE.length; i++) {
        sum += HALFBAND_SIDE[i]! * (line[middle - 2 * i - 1]! + line[middle + 2 * i + 1]!);
      }
      output[n] = sum;
    }
  }
}
