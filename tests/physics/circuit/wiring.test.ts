import { describe, expect, it } from 'vitest';
import { harnessTransfer, type CoilTransfer } from '../../../src/physics/circuit/harness.ts';
import { NetworkSolver, type NetworkElement } from '../../../src/physics/circuit/network.ts';
import type { Coil } from '../../../src/sheet/sheet.ts';
import { coilA, coilB, coilC, controls, harness, pickup } from './circuits.ts';

const frequencies = Float64Array.from({ length: 31 }, (_, i) => 20 * 10 ** (i / 10));

/** The two number their nodes differently, so they round differently; the condition takes some of sixteen digits. */
const ROUNDING = 1e-10;

/** Parts as one reads them off a drawing: name, two nodes, value. */
const R = (name: string, plus: number, minus: number, resistance: number): NetworkElement => {
  return { kind: 'resistor', name, plus, minus, resistance };
};
const C = (name: string, plus: number, minus: number, capacitance: number): NetworkElement => {
  return { kind: 'capacitor', name, plus, minus, capacitance };
};
const E = (name: string, plus: number, minus: number, coil: Coil): NetworkElement => {
  const { resistance, inductance, coreLoss, capacitance } = coil;
  const winding = { kind: 'constant', resistance, inductance, coreLoss } as const;
  return { kind: 'coil', name, plus, minus, winding, capacitance };
};

describe('the wiring, against the same circuit written out by hand', () => {
  // Audio taper of 250 kΩ less 2 × 10 Ω: at 0.7 the wiper has 0.125 + 1.75 × 0.2 = 0.475 of it below, at 0.3 0.075,
  // at 0.9 0.825.
  const below = (share: number): number => 10 + share * 249980;
  const cableAndInput = (out: number): NetworkElement[] => [
    C('cable', out, 0, 300e-12),
    R('input', out, 0, 1e6),
    C('input', out, 0, 30e-12),
  ];
  const compare = (
    transfers: readonly CoilTransfer[],
    nodes: number,
    output: number,
    elements: NetworkElement[],
  ): void => {
    const names = Array.from({ length: nodes + 1 }, (_, i) => String(i));
    const solver = new NetworkSolver({ nodes: names, output, elements });
    expect(transfers).toHaveLength(solver.transfer.re.length);
    frequencies.forEach((f, i) => {
      solver.solve(0, 2 * Math.PI * f);
      transfers.forEach(({ re, im }, k) => {
        const size = Math.hypot(re[i]!, im[i]!);
        expect(Math.hypot(solver.transfer.re[k]! - re[i]!, solver.transfer.im[k]! - im[i]!)).toBeLessThan(
          ROUNDING * size,
        );
      });
    });
  };

  it('[exact] two coils in series, volume 7, tone 3, bleed with its resistor beside it, 3 m of cable', () => {
    const bleed = { capacitance: 1e-9, resistance: 150e3, arrangement: 'parallel' } as const;
    const set = harness([controls(0.7, 0.3, { bleed })]);
    compare(harnessTransfer([pickup([coilB, coilC])], set, [true], frequencies), 4, 1, [
      // 1 jack, 2 volume's hot end, 3 between the coils, 4 between tone pot and capacitor.
      E('upper', 2, 3, coilB),
      E('lower', 3, 0, coilC),
      R('track above', 2, 1, 250e3 - below(0.475)),
      R('track below', 1, 0, below(0.475)),
      C('bleed', 2, 1, 1e-9),
      R('bleed', 2, 1, 150e3),
      R('tone', 2, 4, below(0.075)),
      C('tone', 4, 0, 22e-9),
      ...cableAndInput(1),
    ]);
  });

  it('[exact] neck and bridge with own controls, the bridge parallel, out of phase, bleed in series, no tone', () => {
    const bleed = { capacitance: 680e-12, resistance: 130e3, arrangement: 'series' } as const;
    const sets = [controls(0.7, 0.3), controls(0.9, 1, { bleed, tone: null })];
    const bridge = pickup([coilB, coilC], { join: 'parallel', phase: 'out' });
    const transfers = harnessTransfer(
      [pickup([coilA], { name: 'neck', reversed: true }), bridge],
      harness(sets, { wiring: 'own' }),
      [true, true],
      frequencies,
    );
    compare(transfers, 5, 1, [
      // 1 joined wipers, 2 neck's hot end, 3 neck's tone, 4 bridge's hot end, 5 inside the bridge's bleed.
      E('neck', 0, 2, coilA),
      E('bridge 1', 4, 0, coilB),
      E('bridge 2', 0, 4, coilC),
      R('neck above', 2, 1, 250e3 - below(0.475)),
      R('neck below', 1, 0, below(0.475)),
      R('neck tone', 2, 3, below(0.075)),
      C('neck tone', 3, 0, 22e-9),
      R('bridge above', 4, 1, 250e3 - below(0.825)),
      R('bridge below', 1, 0, below(0.825)),
      C('bleed', 4, 5, 680e-12),
      R('bleed', 5, 1, 130e3),
      ...cableAndInput(1),
    ]);
  });
});
