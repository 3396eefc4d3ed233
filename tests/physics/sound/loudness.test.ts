import { describe, expect, it } from 'vitest';
import { blockPowers, gatedLoudness, kWeighting } from '../../../src/physics/sound/loudness.ts';
import { integratedLoudness } from '../../fixtures/integratedLoudness.ts';

/** One second of a sine of so many whole periods, peak 1. */
const second = (frequency: number, rate: number): Float64Array =>
  Float64Array.from({ length: rate }, (_, i) => Math.sin((2 * Math.PI * frequency * i) / rate));

/** @param frequency a whole number of hertz: every second is as the first */
function sine(frequency: number, peakDb: number, seconds: number, rate: number): Float64Array {
  const amplitude = 10 ** (peakDb / 20);
  const one = second(frequency, rate).map((v) => amplitude * v);
  const all = new Float64Array(Math.round(seconds * rate));
  for (let at = 0; at < all.length; at += rate) all.set(one.subarray(0, all.length - at), at);
  return all;
}

/** Gain of a biquad at a frequency, by its definition. */
function gainDb(sections: ReturnType<typeof kWeighting>, frequency: number, rate: number): number {
  const w = (2 * Math.PI * frequency) / rate;
  let db = 0;
  for (const { b, a } of sections) {
    const size = (c: readonly [number, number, number]) =>
      Math.hypot(
        c[0] + c[1] * Math.cos(w) + c[2] * Math.cos(2 * w),
        c[1] * Math.sin(w) + c[2] * Math.sin(2 * w),
      );
    db += 20 * Math.log10(size(b) / size([1, a[0], a[1]]));
  }
  return db;
}

describe('K-weighting', () => {
  it('has the printed coefficients at 48 kHz [paper: BS1770, tables 1 and 2]', () => {
    const [shelf, pass] = kWeighting(48000);
    const printed = [
      [shelf.b[0], 1.53512485958697],
      [shelf.b[1], -2.69169618940638],
      [shelf.b[2], 1.19839281085285],
      [shelf.a[0], -1.69065929318241],
      [shelf.a[1], 0.73248077421585],
      [pass.b[0], 1],
      [pass.b[1], -2],
      [pass.b[2], 1],
      [pass.a[0], -1.99004745483398],
      [pass.a[1], 0.99007225036621],
    ] as const;
    // The underlying filters are known to about ten digits.
    for (const [ours, theirs] of printed) expect(Math.abs(ours - theirs)).toBeLessThan(1e-9);
  });

  it('is the same curve at other rates within 0.05 dB up to 10 kHz [exact but for the bilinear warp]', () => {
    for (const rate of [44100, 96000]) {
      for (const f of [20, 40, 100, 500, 1000, 2000, 5000, 10000]) {
        expect(
          Math.abs(gainDb(kWeighting(rate), f, rate) - gainDb(kWeighting(48000), f, 48000)),
        ).toBeLessThan(0.05);
      }
    }
  });
});

describe.each([44100, 48000, 96000])('loudness at %i Hz', (rate) => {
  it('of a full-scale 997 Hz sine in one channel is −3.01 LKFS [paper: BS1770]', () => {
    // The figure is that of the printed 48 kHz filters; at other rates their bilinear warp differs by 0.02 dB.
    const limit = rate === 48000 ? 0.005 : 0.05;
    expect(Math.abs(integratedLoudness(sine(997, 0, 5, rate), rate) + 3.01)).toBeLessThan(limit);
  });

  // [paper: EBU3341], cases 1 to 5: 1 kHz, both channels alike, ± 0.1 LU.
  it.each([
    ['−23 dBFS', [[-23, 20]], -23],
    ['−33 dBFS', [[-33, 20]], -33],
    [
      '−36/−23/−36',
      [
        [-36, 10],
        [-23, 60],
        [-36, 10],
      ],
      -23,
    ],
    [
      '−72/−36/−23/−36/−72',
      [
        [-72, 10],
        [-36, 10],
        [-23, 60],
        [-36, 10],
        [-72, 10],
      ],
      -23,
    ],
    [
      '−26/−20/−26',
      [
        [-26, 20],
        [-20, 20.1],
        [-26, 20],
      ],
      -23,
    ],
  ])('of %s [paper: EBU3341]', (_, parts, expected) => {
    const pieces = parts.map(([db, seconds]) => sine(1000, db!, seconds!, rate));
    const signal = new Float64Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
    let at = 0;
    for (const piece of pieces) {
      signal.set(piece, at);
      at += piece.length;
    }
    const stereo = blockPowers(signal, rate).map((power) => 2 * power);
    expect(Math.abs(gatedLoudness(stereo) - expected)).toBeLessThan(0.1);
  });
});

describe('the edges', () => {
  it('finds silence silent, also a short one', () => {
    expect(integratedLoudness(new Float64Array(48000), 48000)).toBe(-Infinity);
    expect(integratedLoudness(new Float64Array(100), 48000)).toBe(-Infinity);
    expect(integratedLoudness(new Float64Array(0), 48000)).toBe(-Infinity);
  });

  it('takes a signal shorter than a block as one block', () => {
    const short = integratedLoudness(sine(997, 0, 0.3, 48000), 48000);
    expect(Math.abs(short + 3.01)).toBeLessThan(0.1);
  });

  it('rises by what the gain rises [exact]', () => {
    const powers = blockPowers(sine(500, -20, 2, 48000), 48000);
    expect(gatedLoudness(powers, 2) - gatedLoudness(powers)).toBeCloseTo(20 * Math.log10(2), 9);
  });
});
