/**
 * The transform of a sampled reach against analytic Fourier pairs [exact], as tables of transforms print them
 * ([AbramowitzStegun], [DLMF] § 1.14):
 *
 * | shape about x0, area 1 | ∫ S e^(ikx) dx / e^(ikx0) |
 * | --- | --- |
 * | rectangle of width w | sin(kw/2)/(kw/2) |
 * | Gaussian of standard deviation σ | e^(−k²σ²/2) |
 * | raised cosine of full width w | sin(kw/2)/(kw/2) / (1 − (kw/2π)²) |
 */
import { describe, expect, it } from 'vitest';
import {
  cutReach,
  sampleReach,
  transformReach,
  type SampledReach,
} from '../../../src/physics/string/sampled.ts';

/** Of the area. */
const QUADRATURE = 1e-6;

/** rad/m: from the fundamental of a long string to beyond partial 300, and zero. */
const wavenumbers = Float64Array.from({ length: 1500 }, (_, i) => i);

function transform(reach: SampledReach): { re: Float64Array; im: Float64Array } {
  const re = new Float64Array(wavenumbers.length);
  const im = new Float64Array(wavenumbers.length);
  transformReach(reach, wavenumbers, re, im);
  return { re, im };
}

function worst(reach: SampledReach, expected: (k: number) => number, centre: number): number {
  const { re, im } = transform(reach);
  let error = 0;
  wavenumbers.forEach((k, i) => {
    error = Math.max(
      error,
      Math.abs(re[i]! - expected(k) * Math.cos(k * centre)),
      Math.abs(im[i]! - expected(k) * Math.sin(k * centre)),
    );
  });
  return error;
}

const sinc = (u: number) => (u === 0 ? 1 : Math.sin(u) / u);

describe('Fourier pairs', () => {
  it.each([
    [0.1615, 0.0137],
    [0.043, 0.002],
    [0.3, 0.08],
  ])('rectangle at %d m, %d m wide, with its edges', (centre, width) => {
    for (const step of [width, width / 7, 1e-3]) {
      const reach = sampleReach(() => 1 / width, centre - width / 2, centre + width / 2, step);
      expect(worst(reach, (k) => sinc((k * width) / 2), centre)).toBeLessThan(QUADRATURE);
    }
  });

  it.each([
    [0.1615, 0.006],
    [0.06, 0.001],
    [0.3, 0.03],
  ])('Gaussian at %d m, σ %d m, 25 samples to σ', (centre, sigma) => {
    const shape = (x: number) =>
      Math.exp(-0.5 * ((x - centre) / sigma) ** 2) / (sigma * Math.sqrt(2 * Math.PI));
    const reach = sampleReach(shape, centre - 6 * sigma, centre + 6 * sigma, sigma / 25);
    expect(worst(reach, (k) => Math.exp(-0.5 * (k * sigma) ** 2), centre)).toBeLessThan(QUADRATURE);
  });

  it.each([
    [0.1615, 0.02],
    [0.05, 0.004],
  ])('raised cosine at %d m, %d m wide', (centre, width) => {
    const shape = (x: number) => (1 + Math.cos((2 * Math.PI * (x - centre)) / width)) / width;
    const reach = sampleReach(shape, centre - width / 2, centre + width / 2, width / 100);
    const expected = (k: number) => {
      const u = (k * width) / (2 * Math.PI);
      return Math.abs(u - 1) < 1e-9 ? 0.5 : sinc(Math.PI * u) / (1 - u * u);
    };
    expect(worst(reach, expected, centre)).toBeLessThan(QUADRATURE);
  });
});

describe('the cut at saddle and fret', () => {
  it('leaves exactly the part of a rectangle that lies on the string [exact]', () => {
    const whole = sampleReach(() => 50, -0.0073, 0.0127, 1e-3);
    const cut = cutReach(whole, 0, 0.0101);
    // ∫ 50 e^{ikx} dx from 0 to 0.0101
    expect(worst(cut, (k) => 50 * 0.0101 * sinc(0.00505 * k), 0.00505)).toBeLessThan(QUADRATURE);
  });

  it('halves a bell whose top lies on the saddle: half a Gaussian, cosine part [exact]', () => {
    const sigma = 0.006;
    const shape = (x: number) => Math.exp(-0.5 * (x / sigma) ** 2) / (sigma * Math.sqrt(2 * Math.PI));
    const { re } = transform(cutReach(sampleReach(shape, -0.036, 0.036, sigma / 25), 0, 0.648));
    wavenumbers.forEach((k, i) => {
      expect(Math.abs(re[i]! - 0.5 * Math.exp(-0.5 * (k * sigma) ** 2))).toBeLessThan(QUADRATURE);
    });
  });

  it('at a place between samples costs no more than the quadrature itself', () => {
    const shape = (x: number) => Math.exp(-0.5 * ((x - 0.3) / 0.006) ** 2);
    const fine = transform(sampleReach(shape, 0.264, 0.30317, 1e-5));
    const cut = transform(cutReach(sampleReach(shape, 0.264, 0.336, 0.00024), 0, 0.30317));
    const area = fine.re[0]!;
    for (let i = 0; i < wavenumbers.length; i++) {
      expect(Math.abs(fine.im[i]! - cut.im[i]!)).toBeLessThan(QUADRATURE * area);
    }
  });

  it('leaves nothing when no part lies on the string', () => {
    const { re, im } = transform(
      cutReach(
        sampleReach(() => 1, 0.4, 0.5, 1e-3),
        0,
        0.3,
      ),
    );
    expect([...re, ...im].every((value) => value === 0)).toBe(true);
  });
});

it('refuses an even number of samples in words', () => {
  const reach = { start: 0, step: 1e-3, values: new Float64Array(4) };
  expect(() => {
    transform(reach);
  }).toThrow('A sampled reach must have an odd number of samples, 3 or more; got 4.');
});
