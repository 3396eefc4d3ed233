/** The rows of the charge equation for a box of several permeabilities. */
import type { BoxZones } from '../bodies/boxZones.ts';

/** Permeabilities of every body, along and across a pole's axis. */
export interface Permeabilities {
  readonly mu: ArrayLike<number>;
  readonly across?: ArrayLike<number> | undefined;
  /** Those of a box's zones, where they differ. */
  readonly zones?: readonly (ArrayLike<number> | undefined)[] | undefined;
}

/**
 * Rows of a box in zones. On a sheet between two of them (susceptibilities χ below and χ′ above) both sides' M·n and a σ that is their
 * difference give
 *
 *     σ (1 + (χ + χ′)/2) = (χ − χ′) H·n
 *
 * with H that of everything else; on the surface χ′ is 0, which is the equation of any other body. Equal permeabilities leave no σ.
 * Source: both conditions at a surface, [Jackson1999] § 5.8.
 */
export class ZoneRows {
  /** 1 + (χ + χ′)/2, and χ − χ′ with which the field enters, of every row. */
  readonly weights: Float64Array;
  readonly factors: Float64Array;
  /** A mean of the zones', for which the whole box is factored. */
  readonly mu: number;

  /**
   * @param whole permeability (1) of all zones, where they have none of their own
   * @param chords permeabilities of the zones
   * @param rectangles which of them the rows are; left out, all in turn
   */
  constructor(
    { zone, beyond }: BoxZones,
    whole: number,
    chords?: ArrayLike<number>,
    rectangles?: Int32Array | null,
  ) {
    this.mu = chords ? geometricMean(chords) : whole;
    const chi = (k: number): number => (k < 0 ? 0 : (chords?.[k] ?? whole) - 1);
    const n = rectangles?.length ?? zone.length;
    this.weights = new Float64Array(n);
    this.factors = new Float64Array(n);
    for (let i = 0; i < n; i++) {
      const j = rectangles ? rectangles[i]! : i;
      const [here, there] = [chi(zone[j]!), chi(beyond[j]!)];
      this.weights[i] = 1 + 0.5 * (here + there);
      this.factors[i] = here - there;
    }
  }

  /** Has the rows, divided by their own weights, be those of the one permeability that is factored; values from `first` on. */
  even(v: Float64Array, first: number): void {
    for (let i = 0; i < this.weights.length; i++) {
      v[first + i] = (v[first + i]! * 0.5 * (this.mu + 1)) / this.weights[i]!;
    }
  }
}

/** Of permeabilities above 0, 1. */
export const geometricMean = (values: ArrayLike<number>): number =>
  Math.exp(Array.from(values).reduce((sum, value) => sum + Math.log(value), 0) / values.length);
