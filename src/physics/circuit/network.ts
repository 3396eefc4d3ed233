import { complexArray, divideInto, type ComplexArray } from '../numerics/complex.ts';
import { factorComplex, solveComplex } from '../numerics/complex-lu.ts';
import type { CoilCore } from './coilCore.ts';

/**
 * Nodal analysis of any network of resistors, capacitors and coils. Nodes are indices into `Network.nodes`; node 0
 * is ground. Frequencies are complex, s = σ + jω in rad/s, so that the answer to a decaying partial is as exact as
 * that to a steady tone (s = j2πf). Source: [Ho1975] for nodal analysis and its stamps, [Tellegen1952] for reciprocity.
 */
export interface Network {
  /** Names, node 0 being ground. */
  readonly nodes: readonly string[];
  readonly elements: readonly NetworkElement[];
  /** The node whose voltage is asked for, not ground. */
  readonly output: number;
}

/** Anything between two nodes. */
export type NetworkElement = Resistor | Capacitor | CoilBranch;

interface TwoTerminal {
  /** Letters, digits and underscores; unique within its kind. */
  readonly name: string;
  readonly plus: number;
  readonly minus: number;
}

/** A resistor, or one leg of a pot. */
export interface Resistor extends TwoTerminal {
  readonly kind: 'resistor';
  /** Ω, above zero. */
  readonly resistance: number;
}

/** A capacitor, the cable, or what an input has across it. */
export interface Capacitor extends TwoTerminal {
  readonly kind: 'capacitor';
  /** F, zero or more. */
  readonly capacitance: number;
}

/** An EMF in series with the winding's impedance, and the self-capacitance across both. */
export interface CoilBranch extends TwoTerminal {
  readonly kind: 'coil';
  readonly winding: Winding;
  /** F, zero or more. */
  readonly capacitance: number;
}

/** What stands in series with a coil's EMF: of constant figures, or one that varies with frequency. */
export type Winding =
  | {
      readonly kind: 'constant';
      /** Ω, above zero. */
      readonly resistance: number;
      /** H, zero or more. */
      readonly inductance: number;
      /** Resistance across the inductance alone, Ω; null for a loss-free core. */
      readonly coreLoss: number | null;
    }
  | {
      /** An impedance that varies freely with frequency, as eddy currents make it. */
      readonly kind: 'impedance';
      /** Writes the whole series impedance at s = sRe + j sIm, Ω, into out.re[at], out.im[at]; never zero. */
      readonly at: ComplexFunction;
      /** What the EMF is multiplied with, written in the same way: eddy currents take from it too; absent for 1. */
      readonly emf?: ComplexFunction;
      /** Of what both come, Ω and the core, for programs that take a chain of inductors and resistors (coreLadder). */
      readonly wound?: { readonly resistance: number; readonly core: CoilCore };
    };

/** Writes its value at s = sRe + j sIm (rad/s) into out.re[at], out.im[at]. */
export type ComplexFunction = (sRe: number, sIm: number, out: ComplexArray, at: number) => void;

/** The coils of a network in the order of its elements: the order of `NetworkSolver.transfer`. */
export function coilsOf(network: Network): CoilBranch[] {
  return network.elements.filter((element) => element.kind === 'coil');
}

/**
 * Prepared once a network, then asked at as many frequencies as one likes without allocating.
 *
 * One factorisation and one right-hand side answer for every EMF at once: all elements are reciprocal, so the
 * voltage at the output per ampere pushed into node i equals the voltage at node i per ampere pushed into the output.
 */
export class NetworkSolver {
  /** Output voltage per volt of each coil's EMF at the frequency last solved, V/V, in the order of `coilsOf`. */
  readonly transfer: ComplexArray;
  /** Voltage of every node but ground per ampere into the output, V/A; node i at index i − 1. */
  readonly impedance: ComplexArray;
  private readonly order: number;
  private readonly coils: readonly CoilBranch[];
  private readonly conductance: Float64Array;
  private readonly capacitance: Float64Array;
  private readonly matrix: ComplexArray;
  private readonly rows: Int32Array;
  private readonly drive: ComplexArray;
  private readonly series: ComplexArray;

  /** @throws RangeError when an element or a node is out of range. */
  constructor(network: Network) {
    const n = network.nodes.length - 1;
    checkNetwork(network);
    this.order = n;
    this.coils = coilsOf(network);
    this.conductance = new Float64Array(n * n);
    this.capacitance = new Float64Array(n * n);
    this.matrix = complexArray(n * n);
    this.rows = new Int32Array(n);
    this.drive = complexArray(n);
    this.drive.re[network.output - 1] = 1;
    this.impedance = complexArray(n);
    this.series = complexArray(this.coils.length);
    this.transfer = complexArray(this.coils.length);
    for (const element of network.elements) {
      if (element.kind === 'resistor') stamp(this.conductance, n, element, 1 / element.resistance);
      else stamp(this.capacitance, n, element, element.capacitance);
    }
  }

  /**
   * Solve at s = sRe + j sIm, rad/s; results are left in `transfer` and `impedance`.
   * @throws RangeError when a node hangs in the air at this frequency (at s = 0: behind capacitors alone).
   */
  solve(sRe: number, sIm: number): void {
    const { order: n, matrix, series, coils, impedance, transfer } = this;
    const { conductance, capacitance } = this;
    for (let i = 0; i < n * n; i++) {
      const c = capacitance[i]!;
      matrix.re[i] = conductance[i]! + sRe * c;
      matrix.im[i] = sIm * c;
    }
    for (let k = 0; k < coils.length; k++) {
      const coil = coils[k]!;
      seriesAdmittance(coil.winding, sRe, sIm, series, k);
      stamp(matrix.re, n, coil, series.re[k]!);
      stamp(matrix.im, n, coil, series.im[k]!);
    }
    if (!factorComplex(n, matrix, this.rows)) {
      throw new RangeError(
        `Every node must have a way to ground; got one without at s = ${sRe} + j${sIm} rad/s. Connect it or leave it out.`,
      );
    }
    solveComplex(n, matrix, this.rows, this.drive, impedance);
    for (let k = 0; k < coils.length; k++) {
      const { plus, minus } = coils[k]!;
      const re = (plus ? impedance.re[plus - 1]! : 0) - (minus ? impedance.re[minus - 1]! : 0);
      const im = (plus ? impedance.im[plus - 1]! : 0) - (minus ? impedance.im[minus - 1]! : 0);
      // The EMF behind its series impedance is a current source E·y (Norton), pushed into `plus` out of `minus`.
      const driveRe = re * series.re[k]! - im * series.im[k]!;
      const driveIm = re * series.im[k]! + im * series.re[k]!;
      const { winding } = coils[k]!;
      if (winding.kind === 'impedance' && winding.emf) {
        winding.emf(sRe, sIm, transfer, k);
        const factorRe = transfer.re[k]!;
        const factorIm = transfer.im[k]!;
        transfer.re[k] = driveRe * factorRe - driveIm * factorIm;
        transfer.im[k] = driveRe * factorIm + driveIm * factorRe;
      } else {
        transfer.re[k] = driveRe;
        transfer.im[k] = driveIm;
      }
    }
  }
}

/** Add an admittance between an element's nodes to a nodal matrix that leaves ground out. */
function stamp(matrix: Float64Array, n: number, { plus, minus }: TwoTerminal, value: number): void {
  const p = plus - 1;
  const m = minus - 1;
  if (p >= 0) matrix[p * n + p]! += value;
  if (m >= 0) matrix[m * n + m]! += value;
  if (p >= 0 && m >= 0) {
    matrix[p * n + m]! -= value;
    matrix[m * n + p]! -= value;
  }
}

/** 1 / (R + sL ∥ core loss), or of the free impedance, S. */
function seriesAdmittance(winding: Winding, sRe: number, sIm: number, out: ComplexArray, at: number): void {
  let re: number;
  let im: number;
  if (winding.kind === 'constant') {
    const { resistance, inductance, coreLoss } = winding;
    re = sRe * inductance;
    im = sIm * inductance;
    if (coreLoss !== null) {
      divideInto(out, at, re * coreLoss, im * coreLoss, re + coreLoss, im);
      re = out.re[at]!;
      im = out.im[at]!;
    }
    re += resistance;
  } else {
    winding.at(sRe, sIm, out, at);
    re = out.re[at]!;
    im = out.im[at]!;
  }
  divideInto(out, at, 1, 0, re, im);
}

function checkNetwork({ nodes, elements, output }: Network): void {
  const node = (what: string, index: number, least: number): void => {
    if (!(Number.isInteger(index) && index >= least && index < nodes.length)) {
      throw new RangeError(`${what} must be a node from ${least} to ${nodes.length - 1}; got ${index}.`);
    }
  };
  const above = (what: string, value: number, unit: string): void => {
    if (!(value > 0 && value < Infinity)) {
      throw new RangeError(`${what} must be above zero and finite; got ${value} ${unit}.`);
    }
  };
  const atLeastZero = (what: string, value: number, unit: string): void => {
    if (!(value >= 0 && value < Infinity)) {
      throw new RangeError(`${what} must be zero or more and finite; got ${value} ${unit}.`);
    }
  };
  node('The output', output, 1);
  for (const element of elements) {
    node(`The plus end of ${element.name}`, element.plus, 0);
    node(`The minus end of ${element.name}`, element.minus, 0);
    if (element.kind === 'resistor') above(`Resistance of ${element.name}`, element.resistance, 'Ω');
    else atLeastZero(`Capacitance of ${element.name}`, element.capacitance, 'F');
    if (element.kind === 'coil' && element.winding.kind === 'constant') {
      const { resistance, inductance, coreLoss } = element.winding;
      above(`Resistance of ${element.name}`, resistance, 'Ω');
      atLeastZero(`Inductance of ${element.name}`, inductance, 'H');
      if (coreLoss !== null) above(`Core loss of ${element.name}`, coreLoss, 'Ω');
    }
  }
}
