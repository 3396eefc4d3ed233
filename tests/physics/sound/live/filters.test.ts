/** The live engine's filters against their definitions [exact]. */
import { describe, expect, it } from 'vitest';
import { harnessTransfer } from '../../../../src/physics/circuit/harness.ts';
import { coilGroups } from '../../../../src/physics/sound/filter.ts';
import { InputHistory, OutputBlock } from '../../../../src/physics/sound/live/convolver.ts';
import { circuitResponse, partitionSpectra } from '../../../../src/physics/sound/live/fir.ts';
import { Halfband, HALFBAND_DELAY, HALFBAND_SIDE } from '../../../../src/physics/sound/live/halfband.ts';
import { PartialBank } from '../../../../src/physics/sound/live/partials.ts';
import { LIVE_BLOCK } from '../../../../src/physics/sound/live/types.ts';
import { exampleSheet } from '../../../fixtures/sheet.ts';
import { decibels } from './sheets.ts';

/** Fourier sum of a response at a frequency, by definition. */
function fourier(response: Float64Array, frequency: number, sampleRate: number): { re: number; im: number } {
  let re = 0;
  let im = 0;
  response.forEach((v, n) => {
    re += v * Math.cos((2 * Math.PI * frequency * n) / sampleRate);
    im -= v * Math.sin((2 * Math.PI * frequency * n) / sampleRate);
  });
  return { re, im };
}

describe('the half-band filter at 44.1 kHz', () => {
  const rate = 88200;
  const response = (f: number) =>
    HALFBAND_SIDE.reduce(
      (sum, tap, i) => sum + 2 * tap * Math.cos((2 * Math.PI * f * (2 * i + 1)) / rate),
      0.5,
    );

  it('passes the audible band within 2e-5 and stops what folds into it by 95 dB', () => {
    for (let f = 0; f <= 20000; f += 50) expect(Math.abs(response(f) - 1)).toBeLessThan(2e-5);
    for (let f = 24100; f <= 44100; f += 50) expect(decibels(Math.abs(response(f)))).toBeLessThan(-95);
  });

  it('gives a slow sine at half the rate, delayed as stated', () => {
    const band = new Halfband(LIVE_BLOCK);
    const input = new Float64Array(2 * LIVE_BLOCK);
    const output = new Float64Array(LIVE_BLOCK);
    const w = 0.01;
    for (let block = 0; block < 6; block++) {
      for (let i = 0; i < input.length; i++) input[i] = Math.sin((w / 2) * (block * 2 * LIVE_BLOCK + i));
      band.process(input, output);
      if (block < 2) continue;
      output.forEach((v, n) => {
        expect(Math.abs(v - Math.sin(w * (block * LIVE_BLOCK + n - HALFBAND_DELAY)))).toBeLessThan(2e-5);
      });
    }
  });
});

describe.each([44100, 48000, 96000])('the circuit as a filter of finite length at %i Hz', (sampleRate) => {
  const { pickups, harness } = exampleSheet();
  const [group] = coilGroups(pickups, harness, sampleRate / 2);
  const frequencies = Float64Array.of(30, 82, 330, 1000, 2500, 3500, 5000, 8000, 12000, 16000, 19900);
  const [exact] = harnessTransfer(pickups, harness, [true, false, false], frequencies);
  const delay = 140;

  it.each([false, true])('has the transfer of the circuit, differentiating: %s', (differentiate) => {
    const response = circuitResponse(group!, sampleRate, delay, differentiate);
    expect(response.length % LIVE_BLOCK).toBe(0);
    const largest = Math.max(...Array.from(frequencies, (_, i) => Math.hypot(exact!.re[i]!, exact!.im[i]!)));
    frequencies.forEach((f, i) => {
      const { re, im } = fourier(response, f, sampleRate);
      const phase = (2 * Math.PI * f * delay) / sampleRate;
      const scale = differentiate ? 2 * Math.PI * f : 1;
      // Undo the delay, and for a differentiated one the quarter turn.
      const turn = phase - (differentiate ? Math.PI / 2 : 0);
      const foundRe = (re * Math.cos(turn) - im * Math.sin(turn)) / scale;
      const foundIm = (re * Math.sin(turn) + im * Math.cos(turn)) / scale;
      const off = Math.hypot(foundRe - exact!.re[i]!, foundIm - exact!.im[i]!);
      expect(decibels(off / largest), `${f} Hz`).toBeLessThan(-85);
    });
  });
});

describe('convolution in partitions', () => {
  it('is convolution by definition, without latency', () => {
    let seed = 7;
    const next = () => {
      seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
      return seed / 2 ** 31 - 1;
    };
    const response = Float64Array.from({ length: 5 * LIVE_BLOCK }, next);
    const input = Float64Array.from({ length: 12 * LIVE_BLOCK }, next);
    const filter = partitionSpectra(response);
    const history = new InputHistory(5);
    const output = new OutputBlock();
    const out = new Float64Array(LIVE_BLOCK);
    for (let block = 0; block < 12; block++) {
      history.push(input.subarray(block * LIVE_BLOCK, (block + 1) * LIVE_BLOCK));
      output.clear();
      history.addFiltered(filter, output.sum);
      output.take(out);
      for (let i = 0; i < LIVE_BLOCK; i += 17) {
        const n = block * LIVE_BLOCK + i;
        let sum = 0;
        for (let k = 0; k <= Math.min(n, response.length - 1); k++) sum += response[k]! * input[n - k]!;
        expect(Math.abs(out[i]! - sum)).toBeLessThan(1e-11);
      }
    }
  });
});

describe('the bank of partials', () => {
  it.each([1, 3, 4, 9])('of %i partials is their closed form within a block', (count) => {
    const bank = new PartialBank();
    bank.reserve(count);
    const expected = new Float64Array(2 * LIVE_BLOCK);
    for (let i = 0; i < count; i++) {
      const turn = 0.003 + 0.3 * i;
      const fall = 1e-4 * (i + 1);
      const value = (t: number) => Math.exp(-fall * t) * Math.cos(turn * t + i);
      bank.add(value(0), value(1), 2 * Math.exp(-fall) * Math.cos(turn), Math.exp(-2 * fall));
      for (let t = 0; t < expected.length; t++) expected[t]! += value(t);
    }
    const out = new Float64Array(2 * LIVE_BLOCK).fill(9);
    bank.run(out, out.length);
    out.forEach((v, t) => expect(Math.abs(v - expected[t]!)).toBeLessThan(1e-10));
  });

  it.each([1, 6, 7, 10])('of %i partials is what each of three listeners hears of them [exact]', (count) => {
    const bank = new PartialBank();
    bank.reserve(count);
    const share = (i: number, k: number) => Math.cos(1 + 3 * i + 5 * k);
    const expected = Array.from({ length: 3 }, () => new Float64Array(2 * LIVE_BLOCK));
    for (let i = 0; i < count; i++) {
      const turn = 0.003 + 0.3 * i;
      const fall = 1e-4 * (i + 1);
      const value = (t: number) => Math.exp(-fall * t) * Math.cos(turn * t + i);
      const [a, b, c] = [0, 1, 2].map((k) => share(i, k)) as [number, number, number];
      bank.addShared(value(0), value(1), 2 * Math.exp(-fall) * Math.cos(turn), Math.exp(-2 * fall), a, b, c);
      expected.forEach((sum, k) => sum.forEach((v, t) => (sum[t] = v + share(i, k) * value(t))));
    }
    const outs = Array.from({ length: 3 }, () => new Float64Array(2 * LIVE_BLOCK).fill(9));
    bank.runShared(outs, 2 * LIVE_BLOCK);
    expected.forEach((sum, k) =>
      sum.forEach((v, t) => expect(Math.abs(outs[k]![t]! - v)).toBeLessThan(1e-10)),
    );
    // Nothing is left for the next block.
    bank.runShared(outs, 2 * LIVE_BLOCK);
    expect(outs.every((out) => out.every((v) => v === 0))).toBe(true);
  });
});
