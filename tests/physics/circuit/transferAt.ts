import { NetworkSolver, type Network } from '../../../src/physics/circuit/network.ts';
import type { ComplexArray } from '../../../src/physics/numerics/complex.ts';

/** Output voltage per volt of each coil's EMF at one complex frequency, V/V; s in rad/s; order of `coilsOf`. */
export function transferAt(network: Network, sRe: number, sIm: number): ComplexArray {
  const solver = new NetworkSolver(network);
  solver.solve(sRe, sIm);
  return solver.transfer;
}
