/** The output stage against the published true-peak meter and plain sines. */
import { describe, expect, it } from 'vitest';
import { Limiter, LIMIT, LIMITER_DELAY } from '../../../../src/physics/sound/live/limiter.ts';
import { truePeak } from '../../../../src/physics/sound/live/truePeak.ts';
import { furthest } from '../../../fixtures/furthest.ts';

const RATE = 48000;

function sine(frequency: number, amplitude: number, phase: number, length = RATE): Float64Array {
  return Float64Array.from(
    { length },
    (_, n) => amplitude * Math.sin((2 * Math.PI * frequency * n) / RATE + phase),
  );
}

function limited(signal: Float64Array): Float64Array {
  const limiter = new Limiter(RATE);
  const out = signal.slice();
  for (let i = 0; i < out.length; i += 100) {
    const block = out.subarray(i, Math.min(out.length, i + 100));
    limiter.process(block, block.length);
  }
  return out;
}

/** An edge would ring in the interpolator. */
function faded(signal: Float64Array): Float64Array {
  return signal.map((v, n) => v * Math.min(1, n / 2000, (signal.length - 1 - n) / 2000));
}

const largest = (signal: Float64Array) => signal.reduce((most, v) => Math.max(most, Math.abs(v)), 0);

describe('the true peak', () => {
  // A quarter of the sample rate at 45 degrees: every sample 3.01 dB below the peak, the usual example of the standard.
  it('of a sine between its samples is found within 0.2 dB [exact]', () => {
    const signal = sine(RATE / 4, 1, Math.PI / 4, 4800).map(
      (v, n) => v * Math.min(1, n / 500, (4799 - n) / 500),
    );
    expect(20 * Math.log10(largest(signal))).toBeCloseTo(-3.01, 2);
    expect(Math.abs(20 * Math.log10(truePeak(signal)))).toBeLessThan(0.2);
  });

  // Annex 2 states an under-read of at most 0.688 dB for fourfold oversampling; the interpolator's ripple adds 0.17 dB.
  it.each([100, 997, 5000, 11000])(
    'of %i Hz is its amplitude within the stated under-read [paper: BS1770]',
    (f) => {
      const peak = 20 * Math.log10(truePeak(faded(sine(f, 0.5, 0.3))) / 0.5);
      expect(peak).toBeLessThan(0.2);
      expect(peak).toBeGreaterThan(-0.688);
    },
  );
});

describe('the limiter', () => {
  it('only delays what is quiet, but for the coupling', () => {
    const signal = sine(1000, 0.4, 0);
    const out = limited(signal);
    // 2 Hz against 1 kHz: 2e-3 of phase.
    expect(furthest(RATE / 2, RATE, (i) => out[i]! - signal[i - LIMITER_DELAY]!)).toBeLessThan(2e-3);
  });

  it.each([
    [RATE / 4, 1, Math.PI / 4],
    [RATE / 6, 3, 0.2],
    [997, 40, 0],
    [60, 1e4, 1],
    [15000, 2, 0.5],
  ])('holds a sine of %f Hz and amplitude %f at −1 dBFS true peak', (frequency, amplitude, phase) => {
    const out = limited(sine(frequency, amplitude, phase));
    expect(largest(out)).toBeLessThanOrEqual(LIMIT);
    const over = 20 * Math.log10(truePeak(faded(out.subarray(2000))) / LIMIT);
    expect(over).toBeLessThan(0.02);
    // And does not take off more than a little.
    expect(over).toBeGreaterThan(-0.5);
  });

  it('is down before a peak and gives the level back in time', () => {
    const signal = sine(500, 0.3, 0).map((v, n) => (n >= 10000 && n < 10480 ? 10 * v : v));
    const out = limited(signal);
    expect(largest(out)).toBeLessThanOrEqual(LIMIT);
    expect(largest(out.subarray(9000, 9900))).toBeGreaterThan(0.299);
    // 3 to 0.89 is −10.5 dB; after five time constants less than 0.1 dB of that is left.
    expect(largest(out.subarray(36000, 40000))).toBeGreaterThan(0.297);
  });

  it('takes direct voltage off', () => {
    const out = limited(sine(300, 0.2, 0).map((v) => v + 0.3));
    const tail = out.subarray(RATE - 4800);
    expect(Math.abs(tail.reduce((sum, v) => sum + v, 0) / tail.length)).toBeLessThan(1e-4);
  });

  it.each([NaN, Infinity, -Infinity, 1e300])('mutes at %f and stays mute', (bad) => {
    const signal = sine(500, 0.3, 0);
    signal[5000] = bad;
    const out = limited(signal);
    expect(out.every((v) => Number.isFinite(v))).toBe(true);
    expect(out.subarray(5000).every((v) => v === 0)).toBe(true);
  });
});
