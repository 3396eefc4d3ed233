/**
 *   wire on the axis of a ring magnet    finite elements    0.1 % of the peak
 *   wire above a rod                     finite elements    1 % of the peak, along; across M = 2H, 1 %
 */
import { describe, expect, it } from 'vitest';
import { cylinderFluxDensity } from '../magnetics/cylinder.ts';
import { MU0 } from '../../../src/physics/numerics/constants.ts';
import { magnetise, makeWire, respond } from '../../../src/physics/string/magnetisation.ts';
import { ACROSS_GAIN, plainMetal } from '../../../src/physics/string/stringMetal.ts';
import { fluxDensity, meshOf, pole, read, solved } from '../magnetics/reference.ts';

interface OnAxis {
  readonly wire_radius_mm: number;
  readonly mu_r: number;
  readonly z_mm: readonly number[];
  readonly mu0_Mz_T_mean_over_cross_section: readonly number[];
}

describe('a wire on the axis of a ring magnet against finite elements [tool]', () => {
  const cases = read<Record<string, OnAxis>>('wire-on-axis');
  const step = 0.25e-3;
  const size = 1024;

  it.each(Object.keys(cases))('%s: 0.1 % of the peak', (name) => {
    const { wire_radius_mm, mu_r, z_mm, mu0_Mz_T_mean_over_cross_section: wanted } = cases[name]!;
    const field = { radial: 0, axial: 0 };
    // The ring as one cylinder less a thinner one; 3 mm inside, 6 mm outside, 5 mm high, 1 T.
    const H = Float64Array.from({ length: size }, (_, i) => {
      const z = (i - size / 2) * step;
      cylinderFluxDensity(1, 6e-3, 5e-3, 0, z, field);
      const outer = field.axial;
      cylinderFluxDensity(1, 3e-3, 5e-3, 0, z, field);
      return (outer - field.axial) / MU0;
    });
    const wire = makeWire(plainMetal(1e-3 * wire_radius_mm, mu_r - 1, Infinity), step, size);
    const { M } = magnetise(wire, H);
    const peak = Math.max(...wanted.map(Math.abs));
    z_mm.forEach((z, i) => {
      const at = size / 2 + Math.round((1e-3 * z) / step);
      expect(Math.abs(MU0 * M[at]! - wanted[i]!)).toBeLessThan(1e-3 * peak);
    });
  });
});

interface AboveRod {
  readonly x_mm: readonly number[];
  readonly mu0_Mx_T: readonly number[];
  readonly mu0_Mz_T: readonly number[];
}

describe('a wire 3 mm above a rod against finite elements [tool]', () => {
  it('1 % of the peak, along and across', () => {
    const { x_mm, mu0_Mx_T, mu0_Mz_T } = read<AboveRod>('wire-above-rod');
    const rod = solved(
      [
        pole(
          meshOf(
            [
              [0, -17],
              [2.425, -17],
              [2.425, 0],
              [0, 0],
            ],
            2,
          ),
        ),
      ],
      [{ mu: 4, Br: 1 }],
    );
    const step = 0.25e-3;
    const size = 512;
    const along = new Float64Array(size);
    const across = new Float64Array(size);
    for (let i = 0; i < size; i++) {
      const [bx, , bz] = fluxDensity(rod, (i - size / 2) * 1e3 * step, 0, 3);
      along[i] = bx / MU0;
      across[i] = bz;
    }
    const { M } = magnetise(makeWire(plainMetal(0.25e-3, 99, Infinity), step, size), along);
    const peakX = Math.max(...mu0_Mx_T.map(Math.abs));
    const peakZ = Math.max(...mu0_Mz_T.map(Math.abs));
    x_mm.forEach((x, i) => {
      const exact = size / 2 + (1e-3 * x) / step;
      const at = Math.floor(exact);
      const t = exact - at;
      const mean = (1 - t) * M[at]! + t * M[at + 1]!;
      expect(Math.abs(MU0 * mean - mu0_Mx_T[i]!)).toBeLessThan(0.01 * peakX);
      const bz = ((1 - t) * across[at]! + t * across[at + 1]!) * ACROSS_GAIN;
      expect(Math.abs(bz - mu0_Mz_T[i]!)).toBeLessThan(0.01 * peakZ);
    });
  });
});

describe('saturation', () => {
  const step = 0.5e-3;
  const size = 256;
  const wire = makeWire(plainMetal(0.2e-3, 99, 1.6e6), step, size);
  const bell = (amplitude: number) =>
    Float64Array.from({ length: size }, (_, i) => {
      const u = ((i - size / 2) * step) / 4e-3;
      return amplitude * u * Math.exp(-u * u);
    });

  it('a weak field is answered linearly, a strong one less, never beyond Ms', () => {
    const weak = magnetise(wire, bell(1)).M;
    const most = (M: Float64Array) => Math.max(...M.map(Math.abs));
    // One A/m lies 1e-4 below where f bends noticeably.
    expect(Math.abs(most(magnetise(wire, bell(2)).M) / most(weak) - 2)).toBeLessThan(1e-4);
    const strong = most(magnetise(wire, bell(1e5)).M);
    expect(strong).toBeLessThan(1e5 * most(weak));
    expect(most(magnetise(wire, bell(1e7)).M)).toBeLessThan(1.6e6);
  });

  it('the small response is the slope of the large one, to 1e-6 [exact]', () => {
    // Of one sign everywhere: f′ has a corner at zero, which a difference sees and a slope does not.
    const base = Float64Array.from({ length: size }, (_, i) => {
      const u = ((i - size / 2) * step) / 8e-3;
      return 2e4 * Math.exp(-u * u) + 4e3;
    });
    const state = magnetise(wire, base);
    const extra = Float64Array.from({ length: size }, (_, i) => Math.cos((2 * Math.PI * 3 * i) / size));
    const e = 1;
    const shifted = (sign: number) =>
      magnetise(
        wire,
        base.map((value, i) => value + sign * e * extra[i]!),
      ).M;
    const up = shifted(1);
    const down = shifted(-1);
    const response = respond(wire, state, extra);
    const peak = Math.max(...response.map(Math.abs));
    response.forEach((value, i) => {
      expect(Math.abs((up[i]! - down[i]!) / (2 * e) - value)).toBeLessThan(1e-6 * peak);
    });
  });

  it('is refused in words without a core', () => {
    expect(() => makeWire(plainMetal(0, 99, 1), step, size)).toThrow(
      'core must have a radius above 0; got 0 m',
    );
  });
});
