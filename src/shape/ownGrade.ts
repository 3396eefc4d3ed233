/** A magnet grade by the figures of its data sheet, and what these allow each other. */
import { MU0 } from './constants.ts';

/** Second quadrant at full magnetisation. */
export interface OwnGrade {
  /** Remanence Br, T. */
  readonly remanence: number;
  /** Coercivity Hc of B, A/m. */
  readonly coercivity: number;
  /** (BH)max, J/m³. */
  readonly energyProduct: number;
  /** Recoil permeability, 1; null: derived from the others. */
  readonly recoil: number | null;
}

/** Where a choice of grades says that it is the maker's own; before it has figures they are those of cast alnico 5. */
export const STARTING_GRADE: OwnGrade = {
  remanence: 1.28,
  coercivity: 50.9e3,
  energyProduct: 43.8e3,
  recoil: 4.3,
};

/** The most that Hc of B can be, A/m: no field drives B faster down than its own B of µ0 H. @param remanence T */
export const mostCoercivity = (remanence: number): number => remanence / MU0;

/** Share of Br Hc/4. */
const LEAST = 0.95;

/**
 * Between which (BH)max must lie, J/m³. A demagnetisation curve bulges: it runs above the straight line from Br to −Hc, whose product is
 * Br Hc/4 (5 % less is let through: data sheets give each figure's least, which are not of one magnet), and below Br + µ0 H, on which the magnetisation is whole down to −Hc.
 *
 * @param grade remanence in T, coercivity in A/m
 */
export function energyLimits({
  remanence,
  coercivity,
}: Pick<OwnGrade, 'remanence' | 'coercivity'>): readonly [least: number, most: number] {
  const half = Math.min(coercivity, 0.5 * mostCoercivity(remanence));
  return [LEAST * 0.25 * remanence * coercivity, half * (remanence - MU0 * half)];
}

/** The most that a recoil permeability can be: no flatter than to −Hc, and no less than 1. */
export const mostRecoil = ({ remanence, coercivity }: Pick<OwnGrade, 'remanence' | 'coercivity'>): number =>
  Math.max(1, remanence / (MU0 * coercivity));
