/** A pickup off its guitar, as meters see it. */
import type { Instrument } from '../sheet/sheet.ts';
import { curveFeatures, type CurveFeatures } from './circuit/features.ts';
import { aloneNetwork } from './circuit/harness.ts';
import { NetworkSolver } from './circuit/network.ts';
import { reachOn } from './heard/reachOn.ts';
import type { HeardPickup } from './heard/resolved.ts';
import { toDb } from './levelDb.ts';
import { stopString } from './string/note.ts';

/** What stands at a pickup's leads, Ω (null: nothing) and F. */
export interface Load {
  readonly resistance: number | null;
  readonly capacitance: number;
}

/** Nothing at all. */
export const UNLOADED: Load = { resistance: null, capacitance: 0 };

/** Impedance at its leads, Ω. */
export interface Impedance {
  readonly re: number;
  readonly im: number;
}

/** Hz; a bare winding of few turns resonates beyond what is heard. */
const LOWEST = 20;
const HIGHEST = 100_000;
const POINTS = 400;

/** A pickup with a load at its leads. */
export class Alone {
  private readonly solver: NetworkSolver;
  private readonly hot: number;
  private readonly weights: readonly number[];

  /**
   * @param weights how much of what drives the pickup each coil gets, a share each, with the sign of its connection; see weightsOf
   * @throws RangeError when a part is out of range
   */
  constructor(pickup: HeardPickup, load: Load, weights: readonly number[]) {
    const network = aloneNetwork(pickup, load);
    this.solver = new NetworkSolver(network);
    this.hot = network.output - 1;
    this.weights = weights;
  }

  /** At a frequency, Hz, with the load in parallel; Ω. */
  impedance(frequency: number): Impedance {
    this.solver.solve(0, 2 * Math.PI * frequency);
    const { re, im } = this.solver.impedance;
    return { re: re[this.hot]!, im: im[this.hot]! };
  }

  /** Its magnitude at a frequency (Hz), dB over 1 Ω. */
  impedanceDb = (frequency: number): number => {
    const { re, im } = this.impedance(frequency);
    return 20 * Math.log10(Math.hypot(re, im));
  };

  /** What a bridge in its series setting shows as inductance at a frequency (Hz), H. */
  readInductance = (frequency: number): number => this.impedance(frequency).im / (2 * Math.PI * frequency);

  /** Voltage at the leads for one that all coils together are given, at a frequency (Hz), dB over a tenth of it. */
  levelDb = (frequency: number): number => {
    this.solver.solve(0, 2 * Math.PI * frequency);
    const { re, im } = this.solver.transfer;
    let sumRe = 0;
    let sumIm = 0;
    this.weights.forEach((weight, c) => {
      sumRe += weight * re[c]!;
      sumIm += weight * im[c]!;
    });
    return toDb(Math.hypot(sumRe, sumIm));
  };

  /** Where the level peaks, up to 100 kHz, and how high: frequencies in Hz, heights in dB; see curveFeatures. */
  features(): CurveFeatures {
    const frequencies = Float64Array.from(
      { length: POINTS },
      (_, i) => LOWEST * (HIGHEST / LOWEST) ** (i / (POINTS - 1)),
    );
    return curveFeatures(this.levelDb, frequencies, frequencies.map(this.levelDb));
  }
}

/**
 * Of what drives a pickup from above each coil gets what the chosen string gives it, as shares of the whole with the signs of
 * their connections, so that they add: the curve of the circuit alone has them so.
 *
 * @param string 1 is the highest
 */
export function weightsOf(instrument: Instrument, pickup: HeardPickup, string: number): number[] {
  const { length } = stopString(instrument, string, 0);
  const areas = pickup.rows.map((_, row) => reachOn(instrument, pickup, row, string, length).area);
  const whole = areas.reduce((sum, area) => sum + area, 0);
  return areas.map((area, row) => {
    const crossed = pickup.reversed !== (row > 0 && pickup.phase === 'out');
    return ((crossed ? -1 : 1) * area) / whole;
  });
}

/** Capacitance of the windings at the leads, F: of two in series, of the two one behind the other. */
export function leadCapacitance({ rows, join }: HeardPickup): number {
  const all = rows.map(({ coil }) => coil.capacitance);
  return join === 'series' && all.length > 1
    ? 1 / all.reduce((sum, one) => sum + 1 / one, 0)
    : all.reduce((sum, one) => sum + one, 0);
}

/** DC resistance of a pickup at its leads, 20 °C, Ω. */
export function leadResistance({ rows, join }: HeardPickup): number {
  const all = rows.map(({ coil }) => coil.resistance);
  return join === 'series' || all.length === 1
    ? all.reduce((sum, one) => sum + one, 0)
    : 1 / all.reduce((sum, one) => sum + 1 / one, 0);
}
