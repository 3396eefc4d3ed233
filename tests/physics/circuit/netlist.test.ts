import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { netlist } from '../../../src/physics/circuit/netlist.ts';
import { NetworkSolver } from '../../../src/physics/circuit/network.ts';
import { decibels } from '../../../src/physics/numerics/complex.ts';
import { circuits, coredCircuits } from './circuits.ts';
import { deckName, decks } from './decks.ts';

const folder = `${import.meta.dirname}/../../reference/ngspice`;

interface Row {
  frequency: number;
  level: number;
  phase: number;
}

function stored(name: string): Row[] {
  const lines = readFileSync(`${folder}/${name}.csv`, 'utf8').trim().split('\n').slice(1);
  return lines.map((line) => {
    const [frequency, level, phase] = line.split(',').map(Number);
    return { frequency: frequency!, level: level!, phase: phase! };
  });
}

/** Angle in (−180°, 180°]. */
function wrapped(degrees: number): number {
  return degrees - 360 * Math.round(degrees / 360);
}

describe('the circuit against ngspice (version and command in tests/reference/ngspice/README.md)', () => {
  it('what is exported now is what the simulator was given', () => {
    const names = readdirSync(folder).filter((file) => file.endsWith('.cir'));
    expect(names.sort()).toEqual([...decks().keys()].map((name) => `${name}.cir`).sort());
    for (const [name, text] of decks()) expect(text).toBe(readFileSync(`${folder}/${name}.cir`, 'utf8'));
  });

  for (const [circuit, network] of Object.entries({ ...circuits, ...coredCircuits })) {
    network.coils.forEach((_, coil) => {
      it(`[tool] ${circuit}, coil ${coil + 1}: level within 0.001 dB, phase within 0.01°; with solid cores 0.02 dB, 0.1°`, () => {
        const solver = new NetworkSolver(network);
        const rows = stored(deckName(circuit, coil));
        expect(rows).toHaveLength(61);
        rows.forEach(({ frequency, level, phase }, i) => {
          const f = 20 * 10 ** (i / 20);
          // Seven digits are printed.
          expect(Math.abs(frequency / f - 1)).toBeLessThan(1e-6);
          solver.solve(0, 2 * Math.PI * f);
          const re = solver.transfer.re[coil]!;
          const im = solver.transfer.im[coil]!;
          const degrees = ((Math.atan2(im, re) - phase) * 180) / Math.PI;
          // The printed digits allow 5e-5 dB. A core is handed on as a chain of finite length.
          const cored = circuit in coredCircuits;
          expect(Math.abs(decibels(re, im) - level)).toBeLessThan(cored ? 0.02 : 0.001);
          expect(Math.abs(wrapped(degrees))).toBeLessThan(cored ? 0.1 : 0.01);
        });
      });
    });
  }
});

describe('what a netlist refuses', () => {
  const sweep = { perDecade: 1, from: 20, to: 20000 };
  const network = circuits['single-coil']!;
  it('a coil that is not there', () => {
    expect(() => netlist(network, { title: 'x', coil: 1, sweep })).toThrow(
      /driven coil must be one of the network's 1; got 1/,
    );
  });
  it('a winding with a free impedance', () => {
    const elements = network.elements.map((element) =>
      element.kind === 'coil'
        ? { ...element, winding: { kind: 'impedance' as const, at: () => undefined } }
        : element,
    );
    expect(() => netlist({ ...network, elements }, { title: 'x', coil: 0, sweep })).toThrow(
      /varies with frequency/,
    );
  });
});
