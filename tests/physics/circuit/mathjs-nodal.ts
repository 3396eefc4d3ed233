/**
 * The same network solved by mathjs alone, along another way than the program's: modified nodal analysis with every
 * EMF as a voltage source whose current is an unknown, and every inner node of a coil kept. mathjs supplies the
 * complex numbers and the solution (`lusolve`).
 */
import { add, complex, divide, lusolve, multiply, type Complex } from 'mathjs';
import type { Network } from '../../../src/physics/circuit/network.ts';

/** Output voltage per volt of the EMF of coil `active`, at s = sRe + j sIm rad/s. */
export function mathjsTransfer(network: Network, active: number, sRe: number, sIm: number): Complex {
  const s = complex(sRe, sIm);
  const coils = network.elements.filter((element) => element.kind === 'coil');
  const nodes = network.nodes.length - 1;
  // A coil adds two inner nodes (EMF end, inductance end) and one unknown current.
  const size = nodes + 3 * coils.length;
  const zero = complex(0, 0);
  const matrix: Complex[][] = Array.from({ length: size }, () => Array.from({ length: size }, () => zero));
  const drive: Complex[] = Array.from({ length: size }, () => zero);
  const put = (i: number, j: number, value: Complex): void => {
    if (i > 0 && j > 0) matrix[i - 1]![j - 1] = add<Complex>(matrix[i - 1]![j - 1]!, value);
  };
  const admittance = (i: number, j: number, value: Complex): void => {
    const minus = multiply(-1, value) as Complex;
    put(i, i, value);
    put(j, j, value);
    put(i, j, minus);
    put(j, i, minus);
  };
  const one = complex(1, 0);
  let coil = 0;
  for (const element of network.elements) {
    const { plus, minus } = element;
    if (element.kind === 'resistor') admittance(plus, minus, complex(1 / element.resistance, 0));
    else admittance(plus, minus, multiply(s, element.capacitance) as Complex);
    if (element.kind !== 'coil') continue;
    if (element.winding.kind !== 'constant') throw new Error('Only fixed windings here.');
    const { resistance, inductance, coreLoss } = element.winding;
    const emfEnd = nodes + 3 * coil + 1;
    const coreEnd = emfEnd + 1;
    const current = emfEnd + 2;
    put(emfEnd, current, one);
    put(current, emfEnd, one);
    put(minus, current, complex(-1, 0));
    put(current, minus, complex(-1, 0));
    drive[current - 1] = complex(coil === active ? 1 : 0, 0);
    admittance(emfEnd, coreEnd, complex(1 / resistance, 0));
    admittance(coreEnd, plus, divide(1, multiply(s, inductance)) as Complex);
    if (coreLoss !== null) admittance(coreEnd, plus, complex(1 / coreLoss, 0));
    coil++;
  }
  const solution = lusolve(matrix, drive) as unknown as Complex[][];
  return solution[network.output - 1]![0]!;
}

/** Level difference in dB and phase difference in degrees of two transfers. */
export function difference(
  a: { re: number; im: number },
  b: { re: number; im: number },
): { db: number; degrees: number } {
  const ratio = divide(complex(a.re, a.im), complex(b.re, b.im)) as Complex;
  return {
    db: Math.abs(20 * Math.log10(Math.hypot(ratio.re, ratio.im))),
    degrees: Math.abs((Math.atan2(ratio.im, ratio.re) * 180) / Math.PI),
  };
}
