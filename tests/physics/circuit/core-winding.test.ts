/**
 *   chain of a core               the core itself, 20 Hz to 20 kHz                                     0.3 %
 *   impedance                     at complex s: Cauchy's mean over a circle                          1e-9
 *                                 Re Z > R on the axis (a passive core)                              sign
 *                                 low frequency: R + jωL                                             1e-9
 *   sensitivity                   1 at low frequency, 1 − share + what the core keeps above          1e-9
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coilImpedance, coreWinding } from '../../../src/physics/circuit/coreWinding.ts';
import { eddyFactorAt, permeabilityAt, stillInductance } from '../../../src/physics/magnetics/coil/eddy.ts';
import { eddyLadder } from '../../../src/physics/magnetics/coil/eddyLadder.ts';
import { complexArray } from '../../../src/physics/numerics/complex.ts';
import type { CoilCore } from '../../../src/physics/circuit/coilCore.ts';
import { alnicoCore, steelCore } from './circuits.ts';
import { eddyFactor, coreInductance } from '../../fixtures/atFrequency.ts';

const cores: fc.Arbitrary<CoilCore> = fc.record({
  air: fc.double({ min: 0.1, max: 5, noNaN: true }),
  fit: fc.record({
    a: fc.double({ min: 1e-10, max: 1e-8, noNaN: true }),
    N: fc.double({ min: 0.01, max: 0.3, noNaN: true }),
    rest: fc.double({ min: 0, max: 2e-9, noNaN: true }),
  }),
  metal: fc.record(
    {
      radius: fc.double({ min: 0.5e-3, max: 6e-3, noNaN: true }),
      mu: fc.double({ min: 5, max: 700, noNaN: true }),
      conductivity: fc.double({ min: 5e5, max: 6e6, noNaN: true }),
      // In half of them, as steel may.
      relaxation: fc.double({ min: 2, max: 6, noNaN: true }).map((decade) => 10 ** decade),
    },
    { requiredKeys: ['radius', 'mu', 'conductivity'] },
  ),
  turns: fc.integer({ min: 100, max: 12000 }),
  scale: fc.double({ min: 0.5, max: 2, noNaN: true }),
  share: fc.double({ min: 0, max: 0.95, noNaN: true }),
});

function impedanceOf(core: CoilCore, sRe: number, sIm: number): readonly [number, number] {
  const winding = coreWinding(6000, core);
  if (winding.kind !== 'impedance') throw new Error('A core makes an impedance.');
  const out = complexArray(1);
  winding.at(sRe, sIm, out, 0);
  return [out.re[0]!, out.im[0]!];
}

describe('a coil round solid poles', () => {
  it.each([
    ['steel', steelCore],
    ['alnico', alnicoCore],
  ] as const)(
    '[exact] is R + jωL at low frequency, and loses inductance and gains loss above: %s',
    (_, core) => {
      const still = core.scale * (core.air + core.turns ** 2 * stillInductance(core.fit, core.metal));
      // The loss grows with ω², so that little of it is left at a hundredth of a radian a second.
      const [re, im] = impedanceOf(core, 0, 1e-2);
      expect(re / 6000).toBeCloseTo(1, 9);
      expect(im / (1e-2 * still)).toBeCloseTo(1, 9);
      const [lossy, high] = impedanceOf(core, 0, 3e4);
      expect(lossy).toBeGreaterThan(6000);
      expect(high / 3e4).toBeLessThan(still);
      expect(coilImpedance(core, 3e4).re).toBeCloseTo(lossy - 6000, 6);
    },
  );

  it('[exact] takes power at every frequency, whatever it is made of', () => {
    const property = fc.property(cores, fc.double({ min: 0.5, max: 6, noNaN: true }), (core, decade) => {
      expect(impedanceOf(core, 0, 10 ** decade)[0]).toBeGreaterThanOrEqual(6000);
    });
    fc.assert(property, { seed: 21, numRuns: 200 });
  });

  // An analytic function is its own mean over a circle; conjugate s give conjugate values.
  it('[exact] is analytic in s off the negative real axis, to 1e-9', () => {
    const places = fc.record({
      re: fc.double({ min: -2e3, max: 2e4, noNaN: true }),
      im: fc.double({ min: 5e3, max: 1e5, noNaN: true }),
    });
    const property = fc.property(cores, places, (core, { re, im }) => {
      let sumRe = 0;
      let sumIm = 0;
      const points = 24;
      for (let k = 0; k < points; k++) {
        const angle = (2 * Math.PI * k) / points;
        const [a, b] = impedanceOf(core, re + 1e3 * Math.cos(angle), im + 1e3 * Math.sin(angle));
        sumRe += a / points;
        sumIm += b / points;
      }
      const [a, b] = impedanceOf(core, re, im);
      expect(Math.hypot(sumRe - a, sumIm - b)).toBeLessThan(1e-9 * Math.hypot(a, b));
      const [c, d] = impedanceOf(core, re, -im);
      expect(Math.hypot(c - a, d + b)).toBeLessThan(1e-12 * Math.hypot(a, b));
    });
    fc.assert(property, { seed: 22, numRuns: 100 });
  });

  it('[exact] the eddy factor at s = jω is that at ω', () => {
    const [at, along] = [
      { re: 0, im: 0 },
      { re: 0, im: 0 },
    ];
    for (const omega of [0, 1e-3, 1, 1e3, 1e5, 1e7]) {
      eddyFactorAt(0, omega, steelCore.metal, at);
      eddyFactor(omega, steelCore.metal.radius, steelCore.metal.mu, steelCore.metal.conductivity, along);
      expect(at).toEqual(along);
    }
    // On the positive real axis ka is imaginary: 2 I₁(x)/(x I₀(x)) at x = 2 is 0.697774658 [tables: I₁ 1.590636855, I₀ 2.279585302].
    const tau = 4e-7 * Math.PI * 1 * 1e6 * 1e-6;
    eddyFactorAt(4 / tau, 0, { radius: 1e-3, mu: 1, conductivity: 1e6 }, at);
    expect(at.re).toBeCloseTo(1.590636855 / 2.279585302, 8);
    expect(Math.abs(at.im)).toBeLessThan(1e-12);
  });

  it('[paper: Bowler2006] relaxing at 5 kHz, 1018 has µ 280 at 1 to 10 Hz and 90 at 100 kHz, and half of the fall is behind it there', () => {
    const steel = { radius: 1e-3, mu: 280, conductivity: 5e6, relaxation: 5e3 };
    const out = { re: 0, im: 0 };
    const at = (f: number): number => {
      permeabilityAt(0, 2 * Math.PI * f, steel, out);
      return out.re;
    };
    expect(at(1)).toBeCloseTo(280, 3);
    expect(at(10)).toBeCloseTo(280, 2);
    expect(Math.abs(at(100e3) / 90 - 1)).toBeLessThan(0.01);
    expect(at(5e3)).toBeCloseTo((280 + 90) / 2, 6);
    // What magnetises late takes power: the imaginary part is below 0 throughout.
    for (const f of [1, 1e3, 1e5]) {
      at(f);
      expect(out.im).toBeLessThan(0);
    }
  });

  it('[exact] hears what it hears at low frequency, and above loses of the poles’ share what the core loses', () => {
    for (const core of [steelCore, alnicoCore]) {
      const winding = coreWinding(6000, core);
      if (winding.kind !== 'impedance') throw new Error('A core makes an impedance.');
      const out = complexArray(1);
      winding.emf!(0, 1e-3, out, 0);
      expect(out.re[0]).toBeCloseTo(1, 9);
      const found = { re: 0, im: 0 };
      coreInductance(core.fit, core.metal, 5e4, found);
      winding.emf!(0, 5e4, out, 0);
      const still = stillInductance(core.fit, core.metal);
      expect(out.re[0]).toBeCloseTo(1 - core.share + (core.share * found.re) / still, 12);
      expect(out.im[0]).toBeCloseTo((core.share * found.im) / still, 12);
    }
  });
});

describe('a core as a chain of inductors with resistors across them', () => {
  it('is the core within 0.3 % up to 20 kHz, with positive parts throughout', () => {
    const property = fc.property(cores, ({ fit, metal }) => {
      const { direct, sections } = eddyLadder(fit, metal);
      const still = stillInductance(fit, metal);
      const found = { re: 0, im: 0 };
      for (const { inductance, rate } of sections) {
        expect(inductance).toBeGreaterThan(0);
        expect(rate).toBeGreaterThan(0);
      }
      for (let k = 0; k <= 30; k++) {
        const omega = 2 * Math.PI * 20 * 10 ** (k / 10);
        coreInductance(fit, metal, omega, found);
        let re = direct;
        let im = 0;
        for (const { inductance, rate } of sections) {
          const x = omega / rate;
          re += inductance / (1 + x * x);
          im -= (inductance * x) / (1 + x * x);
        }
        expect(Math.hypot(re - found.re, im - found.im)).toBeLessThan(3e-3 * still);
      }
    });
    fc.assert(property, { seed: 23, numRuns: 200 });
  });

  it('[exact] an insulator is one inductance', () => {
    const metal = { ...steelCore.metal, conductivity: 0 };
    const { direct, sections } = eddyLadder(steelCore.fit, metal);
    expect(sections).toEqual([]);
    expect(direct).toBe(stillInductance(steelCore.fit, metal));
  });
});
