import { describe, expect, it } from 'vitest';
import { NetworkSolver } from '../../../src/physics/circuit/network.ts';
import { circuits } from './circuits.ts';
import { difference, mathjsTransfer } from './mathjs-nodal.ts';
import { transferAt } from './transferAt.ts';

/** Limits claimed for the circuit. Two direct solvers in double precision agree far better; see below. */
const DB = 0.001;
const DEGREES = 0.01;

describe('the general circuit against mathjs lusolve', () => {
  for (const [name, network] of Object.entries(circuits)) {
    it(`[tool] ${name}: every coil, 20 Hz to 20 kHz`, () => {
      const solver = new NetworkSolver(network);
      for (let i = 0; i <= 30; i++) {
        const omega = 2 * Math.PI * 20 * 10 ** (i / 10);
        solver.solve(0, omega);
        network.coils.forEach((_, k) => {
          const ours = { re: solver.transfer.re[k]!, im: solver.transfer.im[k]! };
          const theirs = mathjsTransfer(network, k, 0, omega);
          const { db, degrees } = difference(ours, theirs);
          expect(db).toBeLessThan(DB);
          expect(degrees).toBeLessThan(DEGREES);
          // Neither side approximates, so what is left is rounding: ten digits leave six for the condition.
          const size = Math.hypot(theirs.re, theirs.im);
          expect(Math.hypot(ours.re - theirs.re, ours.im - theirs.im) / size).toBeLessThan(1e-10);
        });
      }
    });
  }

  it('[tool] at complex frequencies: decaying partials', () => {
    const network = circuits['volume-7-tone-3-bleed-parallel']!;
    for (const [sigma, f] of [
      [-0.7, 82.4],
      [-12, 1318],
      [-150, 5200],
      [40, 900],
    ] as const) {
      const omega = 2 * Math.PI * f;
      const transfer = transferAt(network, sigma, omega);
      network.coils.forEach((_, k) => {
        const theirs = mathjsTransfer(network, k, sigma, omega);
        const error = Math.hypot(transfer.re[k]! - theirs.re, transfer.im[k]! - theirs.im);
        expect(error / Math.hypot(theirs.re, theirs.im)).toBeLessThan(1e-10);
      });
    }
  });
});

describe('a winding with a free impedance', () => {
  it('[exact] equals the fixed winding whose formula it is given', () => {
    const network = circuits['series-in-phase']!;
    const free = {
      ...network,
      elements: network.elements.map((element) => {
        if (element.kind !== 'coil' || element.winding.kind !== 'constant') return element;
        const { resistance, inductance, coreLoss } = element.winding;
        const loss = coreLoss!;
        return {
          ...element,
          winding: {
            kind: 'impedance' as const,
            // R + sL·Rc/(sL + Rc) on the axis s = jω, multiplied out by hand.
            at: (
              _sRe: number,
              sIm: number,
              out: { re: Float64Array; im: Float64Array },
              at: number,
            ): void => {
              const x = sIm * inductance;
              out.re[at] = resistance + (x * x * loss) / (loss * loss + x * x);
              out.im[at] = (x * loss * loss) / (loss * loss + x * x);
            },
          },
        };
      }),
    };
    for (const f of [20, 440, 4000, 19000]) {
      const a = transferAt(network, 0, 2 * Math.PI * f);
      const b = transferAt(free, 0, 2 * Math.PI * f);
      for (let k = 0; k < 2; k++) {
        expect(b.re[k]).toBeCloseTo(a.re[k]!, 12);
        expect(b.im[k]).toBeCloseTo(a.im[k]!, 12);
      }
    }
  });
});

describe('what a network refuses', () => {
  const network = circuits['single-coil']!;
  const withElement = (element: (typeof network.elements)[number]): (() => unknown) => {
    return () => new NetworkSolver({ ...network, elements: [...network.elements, element] });
  };
  it('names the part, the rule and what it got', () => {
    expect(withElement({ kind: 'resistor', name: 'x', plus: 1, minus: 0, resistance: 0 })).toThrow(
      'Resistance of x must be above zero and finite; got 0 Ω.',
    );
    expect(withElement({ kind: 'capacitor', name: 'x', plus: 1, minus: 0, capacitance: NaN })).toThrow(
      /Capacitance of x must be .* got NaN F/,
    );
    expect(withElement({ kind: 'resistor', name: 'x', plus: 99, minus: 0, resistance: 1 })).toThrow(
      /plus end of x must be a node/,
    );
  });
  it('a node without a way to ground is refused, not solved', () => {
    const floating = new NetworkSolver({ ...network, nodes: [...network.nodes, 'alone'] });
    expect(() => floating.solve(0, 1000)).toThrow(/way to ground/);
  });
});
