import type { Network } from '../../../src/physics/circuit/network.ts';

/** One coil, a capacitor and, if asked for, a resistor across it: the second-order low-pass. */
export function lowPass(parts: {
  resistance: number;
  inductance: number;
  capacitance: number;
  coreLoss?: number | null;
  load?: number;
}): Network {
  const { resistance, inductance, capacitance, coreLoss = null, load } = parts;
  return {
    nodes: ['0', 'out'],
    output: 1,
    elements: [
      {
        kind: 'coil',
        name: 'coil',
        plus: 1,
        minus: 0,
        winding: { kind: 'constant', resistance, inductance, coreLoss },
        capacitance: 0,
      },
      { kind: 'capacitor', name: 'load', plus: 1, minus: 0, capacitance },
      ...(load === undefined
        ? []
        : [{ kind: 'resistor' as const, name: 'load', plus: 1, minus: 0, resistance: load }]),
    ],
  };
}
