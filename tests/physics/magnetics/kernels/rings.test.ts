/**
 * Rings alone: kernel, flux, demagnetising factors.
 *
 *   field of a ring, both modes          direct sum over its azimuth                       1e-12
 *   flux through a disc                  quadrature of the field                           1e-9
 *   flux conservation                    Σ A K = A/2 within a body, 0 between two          1e-12
 *   sphere along and across, spheroid    [Osborn1945]                                      printed digits / 1 %
 *   cylinders, χ → 0 and χ → ∞           [Chen1991]                                        1 %
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assemble, ringSelfBlocks } from '../../../../src/physics/magnetics/charges/assemble.ts';
import { meanMagnetisation } from '../../../../src/physics/magnetics/charges/bodyMean.ts';
import { boxMesh } from '../../../../src/physics/magnetics/bodies/boxMesh.ts';
import { solveCharges, times } from '../../../../src/physics/magnetics/charges/chargeSolver.ts';
import type { Body } from '../../../../src/physics/magnetics/bodies/body.ts';
import { fieldLoad, remanenceLoad } from '../../../../src/physics/magnetics/charges/load.ts';
import { discFlux, ringField } from '../../../../src/physics/magnetics/kernels/ringKernel.ts';
import { ringMesh } from '../../../../src/physics/magnetics/bodies/ringMesh.ts';
import type { ProfilePoint } from '../../../../src/shape/pole.ts';
import { gaussLegendre } from '../../../../src/physics/numerics/quadrature.ts';
import type { Vector } from '../../../../src/physics/numerics/vector.ts';
import { meshOf, pole } from '../reference.ts';

const mode0 = { radial: 0, axial: 0, azimuthal: 0 };
const mode1 = { radial: 0, axial: 0, azimuthal: 0 };

function direct(r: number, zeta: number, a: number) {
  const steps = 20000;
  const sum = { r0: 0, z0: 0, r1: 0, z1: 0, p1: 0 };
  for (let k = 0; k < steps; k++) {
    const phi = (2 * Math.PI * (k + 0.5)) / steps;
    const c = Math.cos(phi);
    const s = Math.sin(phi);
    const share = 1 / (4 * Math.PI * steps);
    const inPhase = (r * r + a * a + zeta * zeta - 2 * r * a * c) ** -1.5;
    sum.r0 += share * (r - a * c) * inPhase;
    sum.z0 += share * zeta * inPhase;
    sum.r1 += share * c * (r - a * c) * inPhase;
    sum.z1 += share * c * zeta * inPhase;
    // At a quarter turn the azimuthal direction is −x.
    sum.p1 += share * c * (a * c) * (r * r + a * a + zeta * zeta - 2 * r * a * s) ** -1.5;
  }
  return sum;
}

describe('a ring of charge', () => {
  it('both modes agree with the direct sum, near the axis and far from it [exact]', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 3, noNaN: true }),
        fc.double({ min: 0.05, max: 3, noNaN: true }),
        (r, zeta) => {
          const wanted = direct(r, zeta, 1);
          ringField(r, zeta, 1, mode0, mode1);
          const size = Math.hypot(wanted.r0, wanted.z0);
          for (const [got, want] of [
            [mode0.radial, wanted.r0],
            [mode0.axial, wanted.z0],
            [mode1.radial, wanted.r1],
            [mode1.axial, wanted.z1],
            [mode1.azimuthal, wanted.p1],
          ] as const) {
            expect(Math.abs(got - want)).toBeLessThan(1e-11 * size);
          }
        },
      ),
      { seed: 7, numRuns: 40 },
    );
  });

  it('the flux through a disc is the quadrature of its field [exact]', () => {
    const { x, w } = gaussLegendre(100);
    for (const [R, zeta, a] of [
      [0.6, 0.3, 1],
      [1, 0.4, 1],
      [1.7, -0.5, 1],
    ] as const) {
      let sum = 0;
      x.forEach((t, i) => {
        const r = 0.5 * R * (1 + t);
        ringField(r, zeta, a, mode0, mode1);
        sum += 0.5 * R * w[i]! * 2 * Math.PI * r * mode0.axial;
      });
      expect(Math.abs(discFlux(R, zeta, a) - sum)).toBeLessThan(1e-9);
    }
  });
});

describe('flux conservation', () => {
  const rod = meshOf([
    [0, -17],
    [2.4, -17],
    [2.4, -1],
    [1.4, 0],
    [0, 0],
  ]);

  it('what a panel emits splits in halves over its own closed body [exact]', () => {
    const K = ringSelfBlocks(rod)[0];
    for (let j = 0; j < rod.n; j++) {
      let sum = 0;
      for (let i = 0; i < rod.n; i++) sum += rod.area[i]! * K[i * rod.n + j]!;
      expect(Math.abs(sum / rod.area[j]! - 0.5)).toBeLessThan(1e-9);
    }
  });

  it('no net flux between bodies, rods and bars, touching ones too [exact]', () => {
    const bar = boxMesh({ x: 6e-3, y: 20e-3, z: 3e-3 });
    const coupling = assemble([
      pole(rod),
      pole(rod, 0, 10e-3),
      pole(
        meshOf([
          [0, -21],
          [8, -21],
          [8, -17],
          [0, -17],
        ]),
      ),
      { kind: 'box', mesh: bar, x: 12e-3, y: 0, z: -5e-3 },
    ]);
    const { offsets, matrix } = coupling;
    const size = coupling.representatives.count;
    expect(size).toBe(offsets[4]);
    coupling.bodies.forEach((target, t) => {
      for (let j = 0; j < size; j++) {
        if (j >= offsets[t]! && j < offsets[t + 1]!) continue;
        let sum = 0;
        let gross = 0;
        for (let i = 0; i < target.mesh.n; i++) {
          const flux = target.mesh.area[i]! * matrix[(offsets[t]! + i) * size + j]!;
          sum += flux;
          gross += Math.abs(flux);
        }
        expect(Math.abs(sum)).toBeLessThan(1e-9 * gross + 1e-25);
      }
    });
  });
});

describe('symmetries of the solution', () => {
  it('a mirror halves the unknowns and leaves the charges as they are, to 1e-6 [exact]', () => {
    const rod = meshOf([
      [0, -17],
      [2.4, -17],
      [2.4, 0],
      [0, 0],
    ]);
    const bar = boxMesh({ x: 6e-3, y: 40e-3, z: 3e-3 });
    const bodies: readonly Body[] = [
      ...[-10, 0, 10].map((y) => pole(rod, 0, 1e-3 * y)),
      ...[-10, 0, 10].map((y) => pole(rod, 15e-3, 1e-3 * y, -1e-3)),
      { kind: 'box', mesh: bar, x: 7.5e-3, y: 0, z: -10e-3 },
    ];
    const mu = [20, 20, 20, 200, 200, 200, 4];
    const [half, whole] = [assemble(bodies), assemble(bodies, 0)];
    expect(half.representatives.count).toBeLessThan(0.55 * whole.representatives.count);
    const M = bodies.map((_, b) => ({ x: b === 6 ? 1 : 0, y: 0, z: b < 3 ? 1 : 0 }));
    const one = solveCharges(half, mu, remanenceLoad(half, M), 1e-9);
    const two = solveCharges(whole, mu, remanenceLoad(whole, M), 1e-9);
    const most = Math.max(...two.map(Math.abs));
    one.forEach((value, i) => expect(Math.abs(value - two[i]!)).toBeLessThan(1e-6 * most));
    // Opposite on images.
    const across = bodies.map(() => ({ x: 0, y: 1, z: 0 }));
    const three = solveCharges(half, mu, remanenceLoad(half, across), 1e-9);
    const four = solveCharges(whole, mu, remanenceLoad(whole, across), 1e-9);
    const largest = Math.max(...four.map(Math.abs));
    three.forEach((value, i) => expect(Math.abs(value - four[i]!)).toBeLessThan(1e-6 * largest));
  });

  it('nor does it matter which of the magnets are opposite on images, where poles touch a bar and stand on a plate, to 1e-6 [exact]', () => {
    const rod = meshOf([
      [0, -9],
      [2.4, -9],
      [2.4, 0],
      [0, 0],
    ]);
    const bodies: readonly Body[] = [
      ...[-8, 0, 8].map((y) => pole(rod, 0, 1e-3 * y)),
      { kind: 'box', mesh: boxMesh({ x: 4e-3, y: 30e-3, z: 3e-3 }), x: 4.45e-3, y: 0, z: -6e-3 },
      { kind: 'box', mesh: boxMesh({ x: 16e-3, y: 30e-3, z: 1e-3 }), x: 0, y: 0, z: -9.5e-3, joins: true },
    ];
    const mu = [20, 200, 20, 4, 300];
    const [half, whole] = [assemble(bodies), assemble(bodies, 0)];
    const z = (value: number): Vector => ({ x: 0, y: 0, z: value });
    for (const M of [
      [z(1), z(0.5), z(1), { x: 1, y: 0, z: 0 }, z(0)],
      [z(1), z(0), z(-1), { x: 0, y: 1, z: 0 }, z(0)],
      [z(1), z(1), z(-1), { x: 1, y: 1, z: 0 }, z(0)],
    ]) {
      const one = solveCharges(half, mu, remanenceLoad(half, M), 1e-9);
      const two = solveCharges(whole, mu, remanenceLoad(whole, M), 1e-9);
      const most = Math.max(...two.map(Math.abs));
      one.forEach((value, i) => expect(Math.abs(value - two[i]!)).toBeLessThan(1e-6 * most));
      const [field, other] = [times(half, one), times(whole, two)];
      field.forEach((h, i) => expect(Math.abs(h - other[i]!)).toBeLessThan(1e-6 * most));
    }
  });

  it('a pickup of another size has the same charges at corresponding places, to 1e-6 [exact]', () => {
    const solve = (scale: number) => {
      const rod = ringMesh(
        [
          [0, -17],
          [2.4, -17],
          [2.4, -1],
          [1.6, 0],
          [0, 0],
        ].map(([r, z]) => ({ r: scale * r!, z: scale * z! })),
      );
      const bar = boxMesh({ x: 6 * scale, y: 30 * scale, z: 3 * scale });
      const coupling = assemble([
        pole(rod, 0, -5 * scale, 0),
        pole(rod, 0, 6 * scale, scale),
        { kind: 'box', mesh: bar, x: 8 * scale, y: scale, z: -10 * scale },
      ]);
      const M = [0, 0, 1].map((x) => ({ x, y: 0, z: 1 - x }));
      return solveCharges(coupling, [5, 200, 4], remanenceLoad(coupling, M), 1e-9);
    };
    const wanted = solve(1e-3);
    const most = Math.max(...wanted.map(Math.abs));
    fc.assert(
      fc.property(fc.double({ min: 1e-4, max: 1, noNaN: true }), (scale) => {
        solve(scale).forEach((value, i) => expect(Math.abs(value - wanted[i]!)).toBeLessThan(1e-6 * most));
      }),
      { seed: 11, numRuns: 6 },
    );
  });

  it('charges superpose, to 1e-6 [exact]', () => {
    const rod = meshOf([
      [0, -17],
      [2.4, -17],
      [2.4, 0],
      [0, 0],
    ]);
    const coupling = assemble([pole(rod), pole(rod, 0, 10e-3), pole(rod, 12e-3, 3e-3, 1e-3)]);
    const mu = [4, 200, 50];
    const solve = (x: number, z: number) =>
      solveCharges(
        coupling,
        mu,
        remanenceLoad(
          coupling,
          mu.map(() => ({ x, y: 0, z })),
        ),
        1e-9,
      );
    const [one, two, sum] = [solve(1, 0), solve(0, 1), solve(2, -3)];
    const most = Math.max(...sum.map(Math.abs));
    sum.forEach((value, i) => expect(Math.abs(2 * one[i]! - 3 * two[i]! - value)).toBeLessThan(1e-6 * most));
  });
});

/** Demagnetising factor N = (H₀ − H)/M of a body in a uniform field, mean over its volume (magnetometric). */
function demagnetising(profile: readonly ProfilePoint[], chi: number, axis: 'x' | 'z', fineness = 1): number {
  const coupling = assemble([pole(ringMesh(profile, fineness))]);
  const load = fieldLoad(
    coupling,
    () => (_x, _y, _z, out) => {
      out.x = axis === 'x' ? 1 : 0;
      out.y = 0;
      out.z = axis === 'z' ? 1 : 0;
    },
    () => 8,
    false,
    () => 1,
    () => false,
  ).map((value) => value * chi);
  const M = meanMagnetisation(coupling, solveCharges(coupling, [1 + chi], load), 0)[axis];
  return 1 / M - 1 / chi;
}

function spheroid(ratio: number, pieces: number): readonly ProfilePoint[] {
  return Array.from({ length: pieces + 1 }, (_, k) => ({
    r: k === 0 || k === pieces ? 0 : Math.sin((Math.PI * k) / pieces),
    z: -ratio * Math.cos((Math.PI * k) / pieces),
  }));
}

function cylinder(ratio: number): readonly ProfilePoint[] {
  return [
    { r: 0, z: -ratio },
    { r: 1, z: -ratio },
    { r: 1, z: ratio },
    { r: 0, z: ratio },
  ];
}

describe('demagnetising factors', () => {
  it('a sphere has a third along and across, χ 2 and 199 [paper: Osborn1945]', () => {
    for (const chi of [2, 199]) {
      expect(Math.abs(demagnetising(spheroid(1, 24), chi, 'z', 0.2) * 3 - 1)).toBeLessThan(2e-3);
      expect(Math.abs(demagnetising(spheroid(1, 24), chi, 'x', 0.2) * 3 - 1)).toBeLessThan(5e-3);
    }
  });

  it.each([
    [2, 0.173564],
    [5, 0.055821],
  ])('prolate spheroid, %d times as long as thick [paper: Osborn1945]', (ratio, N) => {
    expect(Math.abs(demagnetising(spheroid(ratio, 24), 9, 'z', 0.2) / N - 1)).toBeLessThan(0.01);
  });

  // [Chen1991]: magnetometric factors at χ = 0 and χ = ∞.
  it.each([
    [1, 0.311577, 0.25897],
    [2, 0.181864, 0.14091],
    [5, 0.079907, 0.0506],
  ])('cylinder %d times as long as thick: χ → 0 and χ → ∞, 1 % [paper: Chen1991]', (ratio, low, high) => {
    expect(Math.abs(demagnetising(cylinder(ratio), 1e-4, 'z') / low - 1)).toBeLessThan(0.01);
    expect(Math.abs(demagnetising(cylinder(ratio), 1e5, 'z', 2) / high - 1)).toBeLessThan(0.01);
  });
});

describe('profiles', () => {
  it('are refused in words when they do not close or fall', () => {
    expect(() =>
      ringMesh([
        { r: 1, z: 0 },
        { r: 1, z: 1 },
        { r: 0, z: 1 },
      ]),
    ).toThrow('start and end on the axis');
    expect(() =>
      ringMesh([
        { r: 0, z: 0 },
        { r: 1, z: 0 },
        { r: 1, z: -1 },
        { r: 0, z: 1 },
      ]),
    ).toThrow('height must not fall; got -1 m after 0 m');
    expect(() => boxMesh({ x: 0, y: 1, z: 1 })).toThrow('edges must be above 0; got 0 m');
  });
});
