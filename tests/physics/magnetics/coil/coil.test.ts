/**
 *   inductance in air            [Grover1946], [Wheeler1928], [Nagaoka1909], [RosaGrover1912]    1 %
 *   field and inductance         finite elements, round and racetrack, with and without rods     1 %
 *   eddy factor                  values of its Bessel formula                                    1e-6 (printed digits), 1e-9 (series)
 *   mutual flux both ways        reciprocity                                                     1e-6
 */
import { describe, expect, it } from 'vitest';
import { mutualInductance } from '../../../../src/physics/magnetics/coil/airInductance.ts';
import { assemble } from '../../../../src/physics/magnetics/charges/assemble.ts';
import { solveCharges } from '../../../../src/physics/magnetics/charges/chargeSolver.ts';
import { coilLoad, linkageWeights } from '../../../../src/physics/magnetics/coil/coilCore.ts';
import { MU0 } from '../../../../src/physics/numerics/constants.ts';
import { fitCore } from '../../../../src/physics/magnetics/coil/eddy.ts';
import {
  cellFilaments,
  coilField,
  coilGradient,
  coilPotential,
  fieldFilaments,
} from '../../../../src/physics/magnetics/coil/winding.ts';
import type { WindingWindow } from '../../../../src/physics/magnetics/coil/winding.ts';
import { secondHarmonic } from '../../../../src/physics/magnetics/charges/secondHarmonic.ts';
import { fluxDensity, meshOf, pole, read, worstOnLine } from '../reference.ts';
import type { AxialCase, SpatialLine } from '../reference.ts';
import { eddyFactor, coreInductance } from '../../../fixtures/atFrequency.ts';
import { dot } from '../../../../src/physics/numerics/vector.ts';
import { ring, ROD } from './roundCoil.ts';

const H = { x: 0, y: 0, z: 0 };
/** Inductance of a round coil, H, with cells about as high as wide. */
function inductance(window: WindingWindow, turns: number, radial: number, axial: number): number {
  const coil = cellFilaments(window, radial, axial, 24);
  return turns ** 2 * mutualInductance(coil, coil);
}

describe('inductance in air, printed examples', () => {
  it('solenoids by Nagaoka’s coefficient, 1 % [paper: Nagaoka1909]', () => {
    for (const [ratio, K] of [
      [0.5, 0.818136],
      [1, 0.688423],
      [2, 0.52551],
      [5, 0.319825],
    ] as const) {
      const radius = 10e-3;
      const length = (2 * radius) / ratio;
      const sheet = MU0 * Math.PI * radius ** 2 * (K / length);
      const thin = ring(radius - 1e-5, radius + 1e-5, 0, length);
      expect(Math.abs(inductance(thin, 1, 1, 60) / sheet - 1)).toBeLessThan(0.01);
    }
    // 100 turns, radius 10 mm, length 20 mm: 135.889 µH.
    const thin = ring(9.99e-3, 10.01e-3, 0, 20e-3);
    expect(Math.abs(inductance(thin, 100, 1, 60) / 135.889e-6 - 1)).toBeLessThan(0.01);
  });

  it('the Brooks coil, 0.016994 a N² µH (cm), 1 % [paper: Grover1946, from memory]', () => {
    // Square section of side c, inner radius c, mean radius a = 1.5 c.
    const c = 10e-3;
    expect(
      Math.abs(inductance(ring(c, 2 * c, 0, c), 100, 6, 6) / (0.016994e-6 * 1.5 * 1e4) - 1),
    ).toBeLessThan(0.01);
  });

  it('Wheeler’s multilayer formula, which claims 1 %, on the coil that it fits best [paper: Wheeler1928]', () => {
    // a = b = c in inches: L = 0.8 a² N² / 25a.
    const a = 25.4e-3;
    const wheeler = (0.8 * 100 ** 2) / 25;
    const L = inductance(ring(0.5 * a, 1.5 * a, 0, a), 100, 8, 8);
    expect(Math.abs(L / (wheeler * 1e-6) - 1)).toBeLessThan(0.01);
  });

  it('coaxial circles: 25 and 20 cm, 10 cm apart 248.787 nH; 10 and 5 mm, 5 mm apart 3.493662 nH [paper: RosaGrover1912]', () => {
    for (const [r1, r2, apart, wanted] of [
      [0.25, 0.2, 0.1, 248.787e-9],
      [10e-3, 5e-3, 5e-3, 3.493662e-9],
    ] as const) {
      const thin = (r: number, z: number) =>
        cellFilaments(ring(r * 0.9999, r * 1.0001, z, z + 1e-6), 1, 1, 60);
      const one = thin(r1, 0);
      const two = thin(r2, apart);
      expect(Math.abs(mutualInductance(one, two) / wanted - 1)).toBeLessThan(1e-3);
      expect(Math.abs(mutualInductance(one, two) / mutualInductance(two, one) - 1)).toBeLessThan(1e-6);
    }
  });
});

describe('a round coil with a rod in it against finite elements [tool]', () => {
  const cases = read<Record<string, AxialCase & { L_per_turn2_H: number }>>('coil-and-core');
  const window = ring(3.5e-3, 9e-3, -13e-3, -2e-3);
  const coil = fieldFilaments(window);
  const cells = cellFilaments(window);
  const air = mutualInductance(cells, cells);
  const coupling = assemble([pole(meshOf(ROD))]);
  const load = coilLoad(coupling, coil);
  const weights = linkageWeights(coupling, coil);

  it.each([
    ['A6_air', 1],
    ['A6_mu4', 4],
    ['A6_mu200', 200],
  ] as const)('%s: inductance and field on the axis, 1 %', (name, mu) => {
    const density = solveCharges(
      coupling,
      [mu],
      load.map((value) => (mu - 1) * value),
    );
    const { L_per_turn2_H, axis_z_mm, axis_Bz_T } = cases[name]!;
    expect(Math.abs((air + MU0 * dot(weights, density)) / L_per_turn2_H - 1)).toBeLessThan(0.01);
    axis_z_mm.forEach((z, i) => {
      coilField(coil, 0, 0, 1e-3 * z, H);
      const [, , bz] = fluxDensity({ coupling, density }, 0, 0, z);
      expect(Math.abs((bz + MU0 * H.z) / axis_Bz_T[i]! - 1)).toBeLessThan(0.01);
    });
  });

  it('two solves predict the inductance at any other permeability [tool: 1 % of the core’s share]', () => {
    const core = (mu: number) =>
      MU0 *
      dot(
        weights,
        solveCharges(
          coupling,
          [mu],
          load.map((value) => (mu - 1) * value),
        ),
      );
    const fit = fitCore(199, core(200), 19.9, core(20.9));
    const predicted = (fit.a * 999) / (1 + fit.N * 999);
    // 18.551 nH per turn² at µr 1000 by the same finite elements.
    expect(Math.abs((air + predicted) / 18.551e-9 - 1)).toBeLessThan(0.01);
    expect(Math.abs((fit.a * 3) / (1 + fit.N * 3) / core(4) - 1)).toBeLessThan(0.02);
  });

  it.each([
    ['hardly more than the mesh’s error', 0.05, 1.1e-12, 0.9e-12],
    ['less at a tenth of it than nothing', 199, 1e-9, -1e-13],
    ['more at a tenth of it', 199, 1e-9, 1.2e-9],
    ['ever more of it', 199, 1e-9, 0.9e-10],
  ])(
    'adds what it adds, with a demagnetising factor from 0 to 1: %s [paper: Brown1962]',
    (_, chi, full, weak) => {
      const fit = fitCore(chi, full, 0.1 * chi, weak);
      expect(fit.N).toBeGreaterThanOrEqual(0);
      expect(fit.N).toBeLessThanOrEqual(1);
      expect((fit.a * chi) / (1 + fit.N * chi) / full).toBeCloseTo(1, 12);
    },
  );
});

describe('a racetrack coil against three-dimensional finite elements [tool]', () => {
  const air = read<{ lines: Record<string, SpatialLine>; L_per_turn2_H: number }>('racetrack-air');
  const rods = read<{ lines: Record<string, SpatialLine>; L_per_turn2_H: number }>('racetrack-six-rods');
  const window: WindingWindow = {
    x: 0,
    y: 0,
    straight: 52e-3,
    inner: 3.2e-3,
    outer: 7.5e-3,
    bottom: -13e-3,
    top: -2e-3,
  };
  const coil = fieldFilaments(window);
  const cells = cellFilaments(window);
  const L = mutualInductance(cells, cells);

  const ofCoil = (x: number, y: number, z: number): readonly [number, number, number] => {
    coilField(coil, 1e-3 * x, 1e-3 * y, 1e-3 * z, H);
    return [MU0 * H.x, MU0 * H.y, MU0 * H.z];
  };

  it('in air: 1 % of the peak, inductance 1 %', () => {
    expect(Math.abs(L / air.L_per_turn2_H - 1)).toBeLessThan(0.01);
    for (const line of Object.values(air.lines)) expect(worstOnLine(line, ofCoil)).toBeLessThan(0.01);
  });

  it('round six rods of µr 4: 1 % of the peak, inductance 1 %', () => {
    const rod = meshOf(ROD);
    const coupling = assemble([-26, -15.6, -5.2, 5.2, 15.6, 26].map((y) => pole(rod, 0, 1e-3 * y)));
    const load = coilLoad(coupling, coil).map((value) => 3 * value);
    const density = solveCharges(coupling, Array<number>(6).fill(4), load);
    const second = secondHarmonic(coupling, Array<number>(6).fill(4), density, (x, y, z, out) =>
      coilField(coil, x, y, z, out),
    );
    const core = MU0 * dot(linkageWeights(coupling, coil), density);
    expect(Math.abs((L + core) / rods.L_per_turn2_H - 1)).toBeLessThan(0.01);
    for (const line of Object.values(rods.lines)) {
      const worst = worstOnLine(line, (x, y, z) => {
        const one = ofCoil(x, y, z);
        const other = fluxDensity({ coupling, density, second }, x, y, z);
        return [one[0] + other[0], one[1] + other[1], one[2] + other[2]];
      });
      expect(worst).toBeLessThan(0.01);
    }
  });
});

describe('field, gradient and potential of a coil agree with each other [exact]', () => {
  const coil = fieldFilaments({
    x: 1e-3,
    y: 0,
    straight: 40e-3,
    inner: 3e-3,
    outer: 7e-3,
    bottom: -12e-3,
    top: -2e-3,
  });
  const out = new Float64Array(8);
  const e = 1e-6;
  const at = (x: number, y: number, z: number, part: 'x' | 'y' | 'z') => {
    coilField(coil, x, y, z, H);
    return H[part];
  };

  it('gradient by central differences', () => {
    for (const [x, y, z] of [
      [3e-3, 5e-3, 2e-3],
      [-9e-3, 21e-3, 4e-3],
    ] as const) {
      coilGradient(coil, x, y, z, out);
      const scale = Math.abs(out[2]!) / 1e-3;
      const wanted = [
        at(x, y, z, 'x'),
        at(x, y, z, 'y'),
        at(x, y, z, 'z'),
        (at(x, y, z + e, 'x') - at(x, y, z - e, 'x')) / (2 * e),
        (at(x, y, z + e, 'z') - at(x, y, z - e, 'z')) / (2 * e),
        (at(x, y + e, z, 'z') - at(x, y - e, z, 'z')) / (2 * e),
        (at(x, y + e, z, 'x') - at(x, y - e, z, 'x')) / (2 * e),
        (at(x, y + e, z, 'y') - at(x, y - e, z, 'y')) / (2 * e),
      ];
      wanted.forEach((value, k) => {
        expect(Math.abs(out[k]! - value)).toBeLessThan(k < 3 ? 1e-12 * scale : 1e-6 * scale);
      });
    }
  });

  it('H = −∇ψ outside, and inside too when the potential is unwrapped', () => {
    for (const [x, y, z, threaded] of [
      [12e-3, 3e-3, -5e-3, false],
      [1.5e-3, 4e-3, -6e-3, true],
      [0.5e-3, 4e-3, 3e-3, true],
    ] as const) {
      coilField(coil, x, y, z, H);
      const psi = (dz: number) => coilPotential(coil, x, y, z + dz, threaded);
      expect(Math.abs(-(psi(e) - psi(-e)) / (2 * e) - H.z)).toBeLessThan(1e-5 * Math.abs(H.z));
    }
    // Along the axis through the whole coil ψ falls by the full ampere-turn.
    const far = (z: number) => coilPotential(coil, 1e-3, 0, z, true);
    expect(Math.abs(far(-5) - far(5) - 1)).toBeLessThan(1e-5);
  });
});

describe('eddy currents in a solid pole', () => {
  const F = { re: 0, im: 0 };

  // [paper: LandauLifshitz], § 59, computed from its formula, a/δ in front.
  it.each([
    [1, 0.925506, -0.22441],
    [2, 0.536534, -0.369308],
    [4, 0.251111, -0.217669],
    [10, 0.100069, -0.094938],
  ])('a/δ = %d to the printed digits [paper]', (ratio, re, im) => {
    // With µ = 1/µ0, σ = 2, radius 1: (a/δ)² = ω.
    eddyFactor(ratio ** 2, 1, 1 / MU0, 2, F);
    expect(Math.abs(F.re - re)).toBeLessThan(6e-7);
    expect(Math.abs(F.im - im)).toBeLessThan(6e-7);
  });

  it('its power series, to 1e-9 [exact]', () => {
    // 2 J₁(x)/(x J₀(x)) = 1 + x²/8 + x⁴/48 + 11 x⁶/3072 + 19 x⁸/30720 + …, x² = −2j at a/δ = 1, here a/δ = 0.1.
    eddyFactor(0.01, 1, 1 / MU0, 2, F);
    const s = 0.02;
    expect(Math.abs(F.re - (1 - s ** 2 / 48 + (19 * s ** 4) / 30720))).toBeLessThan(1e-9);
    expect(Math.abs(F.im - (-s / 8 + (11 * s ** 3) / 3072))).toBeLessThan(1e-9);
  });

  it('at low frequency nothing is lost, at high frequency inductance falls and loss grows', () => {
    const metal = { radius: 2.375e-3, mu: 200, conductivity: 6e6 };
    const fit = { a: 3e-9, N: 0.07, rest: 0 };
    const still = { re: 0, im: 0 };
    coreInductance(fit, metal, 0, still);
    expect(still.im).toBe(0);
    expect(still.re).toBeCloseTo((3e-9 * 199) / (1 + 0.07 * 199), 18);
    let before = still.re;
    let loss = 0;
    for (const f of [100, 1000, 5000, 20000]) {
      coreInductance(fit, metal, 2 * Math.PI * f, F);
      expect(F.re).toBeLessThan(before);
      expect(-f * F.im).toBeGreaterThan(loss);
      before = F.re;
      loss = -f * F.im;
    }
  });
});
