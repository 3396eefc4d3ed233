import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { harnessNetwork } from '../../../src/physics/circuit/harness.ts';
import { coilsOf, NetworkSolver } from '../../../src/physics/circuit/network.ts';
import { frequency, wired } from './arbitraries.ts';

const runs = { seed: 20240612, numRuns: 1000 };

/**
 * Rounding, as a share of the modulus: at a node with tens of ohms to one side and gigohms to the other a double
 * keeps about eight digits of the small real part.
 */
const ROUNDING = 1e-8;

describe('any harness, as theory has it for passive reciprocal networks', () => {
  it('[exact] is finite', () => {
    fc.assert(
      fc.property(wired, frequency, ({ pickups, harness, sounding }, f) => {
        const solver = new NetworkSolver(harnessNetwork(pickups, harness, sounding));
        solver.solve(0, 2 * Math.PI * f);
        for (const values of [solver.transfer, solver.impedance]) {
          expect([...values.re, ...values.im].every(Number.isFinite)).toBe(true);
        }
      }),
      runs,
    );
  });

  // [Brune1931]: positive real.
  it('[exact] has a driving-point impedance that is positive real: Re Z ≥ 0 wherever Re s ≥ 0', () => {
    fc.assert(
      fc.property(
        wired,
        frequency,
        fc.constantFrom(0, 0.01, 1, 30),
        ({ pickups, harness, sounding }, f, ratio) => {
          const network = harnessNetwork(pickups, harness, sounding);
          const solver = new NetworkSolver(network);
          const omega = 2 * Math.PI * f;
          solver.solve(ratio * omega, omega);
          const re = solver.impedance.re[network.output - 1]!;
          const im = solver.impedance.im[network.output - 1]!;
          expect(re).toBeGreaterThan(-ROUNDING * Math.hypot(re, im));
          // On the real axis it is real.
          solver.solve(omega, 0);
          expect(solver.impedance.im[network.output - 1]).toBe(0);
          expect(solver.impedance.re[network.output - 1]).toBeGreaterThan(0);
        },
      ),
      runs,
    );
  });

  // Maximum power transfer: a source E behind R can give no load more than |E|²/(4R), whatever lies between.
  it('[exact] gives the input no more power than each coil has to give', () => {
    fc.assert(
      fc.property(wired, frequency, ({ pickups, harness, sounding }, f) => {
        const network = harnessNetwork(pickups, harness, sounding);
        const solver = new NetworkSolver(network);
        solver.solve(0, 2 * Math.PI * f);
        coilsOf(network).forEach(({ winding }, k) => {
          if (winding.kind !== 'constant') return;
          const gain = solver.transfer.re[k]! ** 2 + solver.transfer.im[k]! ** 2;
          const available = harness.input.resistance / (4 * winding.resistance);
          expect(gain).toBeLessThanOrEqual(available * (1 + ROUNDING));
        });
      }),
      runs,
    );
  });

  it('[exact] is reciprocal: voltage at one node per ampere into another, both ways', () => {
    fc.assert(
      fc.property(wired, frequency, fc.nat(), fc.nat(), ({ pickups, harness, sounding }, f, a, b) => {
        const network = harnessNetwork(pickups, harness, sounding);
        const from = 1 + (a % (network.nodes.length - 1));
        const to = 1 + (b % (network.nodes.length - 1));
        const there = new NetworkSolver({ ...network, output: from });
        const back = new NetworkSolver({ ...network, output: to });
        there.solve(0, 2 * Math.PI * f);
        back.solve(0, 2 * Math.PI * f);
        const re = there.impedance.re[to - 1]!;
        const im = there.impedance.im[to - 1]!;
        const gap = Math.hypot(back.impedance.re[from - 1]! - re, back.impedance.im[from - 1]! - im);
        expect(gap).toBeLessThanOrEqual(ROUNDING * Math.hypot(re, im));
      }),
      runs,
    );
  });

  it('[exact] answers the conjugate frequency with the conjugate', () => {
    fc.assert(
      fc.property(wired, frequency, ({ pickups, harness, sounding }, f) => {
        const solver = new NetworkSolver(harnessNetwork(pickups, harness, sounding));
        solver.solve(-3, 2 * Math.PI * f);
        const re = [...solver.transfer.re];
        const im = [...solver.transfer.im];
        solver.solve(-3, -2 * Math.PI * f);
        expect([...solver.transfer.re]).toEqual(re);
        expect([...solver.transfer.im]).toEqual(im.map((value) => -value));
      }),
      runs,
    );
  });
});
