import { describe, expect, it } from 'vitest';
import {
  contactResponse,
  pluckAmplitudes,
  pluckPlace,
  pluckShare,
} from '../../../src/physics/sound/pluck.ts';

const pluck = { place: 0.13, width: 0, depth: 2e-3, angle: 0.6 };
const L = 0.648;

describe('a string pulled aside at one point', () => {
  it('adds up to the triangle that it is [exact: Fourier series of a triangle]', () => {
    const amplitudes = pluckAmplitudes(pluck, L, 20000);
    const at = (x: number) =>
      amplitudes.reduce((sum, a, i) => sum + a * Math.sin(((i + 1) * Math.PI * x) / L), 0);
    // What is left out of the series is at most Σ_{n>N} 2d/(n²π²p(1−p)), about 1e-4 of the depth.
    for (const x of [0.05, 0.13, 0.3, 0.6]) {
      const shape = x <= 0.13 ? x / 0.13 : (L - x) / (L - 0.13);
      expect(Math.abs(at(x) / 2e-3 - shape)).toBeLessThan(1e-4);
    }
  });

  it('has no partial with a node at the pluck [exact]', () => {
    const amplitudes = pluckAmplitudes({ ...pluck, place: L / 5 }, L, 25);
    amplitudes.forEach((amplitude, i) => {
      if ((i + 1) % 5 === 0) expect(Math.abs(amplitude)).toBeLessThan(1e-15);
      else expect(Math.abs(amplitude)).toBeGreaterThan(1e-7);
    });
  });

  it('is the same from either end but for the sign of even partials [exact]', () => {
    const here = pluckAmplitudes(pluck, L, 40);
    const mirrored = pluckAmplitudes({ ...pluck, place: L - 0.13 }, L, 40);
    here.forEach((a, i) => {
      expect(Math.abs(a - mirrored[i]! * (i % 2 ? -1 : 1))).toBeLessThan(1e-15);
    });
  });
});

describe('a plectrum of some width', () => {
  it('low-passes by the transform of a raised cosine [exact: numerical integral of the shape]', () => {
    for (const u of [0, 1e-5, 1e-3, 0.3, 0.999999, 1, 1.0000001, 1.5, 2, 3.7]) {
      let integral = 0;
      const steps = 20000;
      for (let j = 0; j < steps; j++) {
        const t = (j + 0.5) / steps - 0.5;
        integral += ((1 + Math.cos(2 * Math.PI * t)) * Math.cos(2 * Math.PI * u * t)) / steps;
      }
      expect(Math.abs(contactResponse(u) - integral)).toBeLessThan(1e-6);
    }
  });

  it('halves the partial whose wavelength is its width and hardly touches the low ones [exact]', () => {
    const sharp = pluckAmplitudes(pluck, L, 162);
    const wide = pluckAmplitudes({ ...pluck, width: (2 * L) / 162 }, L, 162);
    expect(wide[161]! / sharp[161]!).toBeCloseTo(0.5, 9);
    expect(wide[0]! / sharp[0]!).toBeGreaterThan(0.9999);
  });
});

it('stays on the string', () => {
  expect(pluckPlace(pluck, 0.648)).toBe(0.13);
  expect(pluckPlace(pluck, 0.1)).toBe(0.099);
  expect(pluckPlace({ ...pluck, place: 0 }, 0.1)).toBe(0.001);
});

it('splits into towards and across by its angle [exact]', () => {
  expect(pluckShare({ ...pluck, angle: 0 }, 'across')).toBe(1);
  expect(pluckShare({ ...pluck, angle: Math.PI / 2 }, 'towards')).toBe(1);
  expect(pluckShare(pluck, 'towards') ** 2 + pluckShare(pluck, 'across') ** 2).toBeCloseTo(1, 15);
});
