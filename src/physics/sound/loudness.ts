/** Loudness of one channel by ITU-R BS.1770: K-weighting, blocks of 400 ms, two gates. Source: [BS1770]. */

/** Second-order section b0, b1, b2 over 1, a1, a2. */
export interface Biquad {
  readonly b: readonly [number, number, number];
  readonly a: readonly [number, number];
}

/** Block of 400 ms, every 100 ms. */
const BLOCK_SECONDS = 0.4;
const HOP_SECONDS = 0.1;
/** LKFS of a mean square of 1: −0.691 dB takes off the weighting's gain at 997 Hz. */
const OFFSET = -0.691;
const ABSOLUTE_GATE = -70;
const RELATIVE_GATE = -10;

/**
 * The weighting's two sections at a sample rate (Hz). The standard prints coefficients for 48 kHz only; these are the
 * bilinear transforms of the filters behind them, which give the printed digits at 48 kHz.
 */
export function kWeighting(sampleRate: number): readonly [shelf: Biquad, highPass: Biquad] {
  const shelf = prewarped(1681.974450955533, sampleRate);
  const shelfQ = 0.7071752369554196;
  const high = 10 ** (3.999843853973347 / 20);
  // The exponent belongs to the published filter: its half-way gain is just below the square root.
  const middle = high ** 0.4996667741545416;
  const a0 = 1 + shelf / shelfQ + shelf ** 2;
  const pass = prewarped(38.13547087602444, sampleRate);
  const passQ = 0.5003270373238773;
  const c0 = 1 + pass / passQ + pass ** 2;
  return [
    {
      b: [
        (high + (middle * shelf) / shelfQ + shelf ** 2) / a0,
        (2 * (shelf ** 2 - high)) / a0,
        (high - (middle * shelf) / shelfQ + shelf ** 2) / a0,
      ],
      a: [(2 * (shelf ** 2 - 1)) / a0, (1 - shelf / shelfQ + shelf ** 2) / a0],
    },
    {
      b: [1, -2, 1],
      a: [(2 * (pass ** 2 - 1)) / c0, (1 - pass / passQ + pass ** 2) / c0],
    },
  ];
}

const STANDARD = kWeighting(48000);

function prewarped(frequency: number, sampleRate: number): number {
  return Math.tan((Math.PI * frequency) / sampleRate);
}

/**
 * Mean squares (1 for a full-scale square wave) of the K-weighted signal in overlapping blocks; sample rate in Hz.
 * A signal shorter than a block is one block by itself, so that
 * a short note has a loudness too (the standard leaves this open).
 */
export function blockPowers(samples: Float64Array, sampleRate: number): Float64Array {
  return meanSquares(samples, sampleRate, kWeighting(sampleRate));
}

/** The same of a signal that has been weighted already. @param sampleRate Hz */
export function weightedPowers(samples: Float64Array, sampleRate: number): Float64Array {
  const through: Biquad = { b: [1, 0, 0], a: [0, 0] };
  return meanSquares(samples, sampleRate, [through, through]);
}

/**
 * The weighting's transfer at f (Hz, below 24 kHz), as the standard's filters for 48 kHz have it. For signals of a low
 * sample rate, whose own filters would bend it near half that rate.
 */
export function kWeightingAt(f: number): { re: number; im: number } {
  const c1 = Math.cos((2 * Math.PI * f) / 48000);
  const s1 = -Math.sin((2 * Math.PI * f) / 48000);
  const c2 = c1 * c1 - s1 * s1;
  const s2 = 2 * c1 * s1;
  let re = 1;
  let im = 0;
  for (const { b, a } of STANDARD) {
    const numRe = b[0] + b[1] * c1 + b[2] * c2;
    const numIm = b[1] * s1 + b[2] * s2;
    const denRe = 1 + a[0] * c1 + a[1] * c2;
    const denIm = a[0] * s1 + a[1] * s2;
    const size = denRe * denRe + denIm * denIm;
    const qRe = (numRe * denRe + numIm * denIm) / size;
    const qIm = (numIm * denRe - numRe * denIm) / size;
    const was = re;
    re = re * qRe - im * qIm;
    im = was * qIm + im * qRe;
  }
  return { re, im };
}

function meanSquares(
  samples: Float64Array,
  sampleRate: number,
  [shelf, pass]: readonly [Biquad, Biquad],
): Float64Array {
  const hop = Math.round(HOP_SECONDS * sampleRate);
  const perBlock = Math.round(BLOCK_SECONDS / HOP_SECONDS);
  const hops = Math.floor(samples.length / hop);
  const short = hops < perBlock;
  const sums = new Float64Array(short ? 1 : hops);
  const [b0, b1, b2] = shelf.b;
  const [a1, a2] = shelf.a;
  const [d0, d1, d2] = pass.b;
  const [c1, c2] = pass.a;
  let s1 = 0;
  let s2 = 0;
  let t1 = 0;
  let t2 = 0;
  const span = short ? samples.length : hop;
  for (let h = 0; h < sums.length; h++) {
    let sum = 0;
    for (let i = h * span; i < (h + 1) * span; i++) {
      const x = samples[i]!;
      const y = b0 * x + s1;
      s1 = b1 * x - a1 * y + s2;
      s2 = b2 * x - a2 * y;
      const z = d0 * y + t1;
      t1 = d1 * y - c1 * z + t2;
      t2 = d2 * y - c2 * z;
      sum += z * z;
    }
    sums[h] = sum;
  }
  if (short) return sums.map((sum) => (samples.length > 0 ? sum / samples.length : 0));
  return Float64Array.from({ length: hops - perBlock + 1 }, (_, i) => {
    let sum = 0;
    for (let h = i; h < i + perBlock; h++) sum += sums[h]!;
    return sum / (perBlock * hop);
  });
}

/**
 * Integrated loudness (LUFS) of blocks whose signals are multiplied by `gain`. `powers`: for several channels the sum of
 * their block powers. −Infinity when nothing passes the absolute gate at −70 LUFS.
 */
export function gatedLoudness(powers: Float64Array, gain = 1): number {
  const scale = gain * gain;
  const ungated = meanAbove(powers, scale, ABSOLUTE_GATE);
  if (ungated === 0) return -Infinity;
  return loudnessOf(meanAbove(powers, scale, Math.max(ABSOLUTE_GATE, loudnessOf(ungated) + RELATIVE_GATE)));
}

function loudnessOf(power: number): number {
  return OFFSET + 10 * Math.log10(power);
}

/** Mean of the scaled powers above a gate in LUFS; 0 when there is none. */
function meanAbove(powers: Float64Array, scale: number, gate: number): number {
  const least = 10 ** ((gate - OFFSET) / 10);
  let sum = 0;
  let count = 0;
  for (let i = 0; i < powers.length; i++) {
    const power = powers[i]! * scale;
    if (power > least) {
      sum += power;
      count++;
    }
  }
  return count === 0 ? 0 : sum / count;
}
