/** What a zone of a rod knows of its metal. */
import { MU0 } from '../../numerics/constants.ts';
import { curveFluxDensity } from './demagnetisation.ts';
import type { MagnetMaterial } from './materials.ts';

/** A magnet on its curve, or steel that saturates: a linear part, and B at any H along the axis. */
export interface ZoneLaw {
  /** Relative permeability of the linear part. */
  readonly mu: number;
  /** T. */
  readonly remanence: number;
  /** An H (A/m) on whose scale the curve bends. */
  readonly scale: number;
  /** Highest slice of a pole, as a share of its radius. */
  readonly slice: number;
  /** B (T) at H (A/m). */
  readonly fluxDensity: (H: number) => number;
}

/** @param strength share of full magnetisation, 1 */
export function magnetZones(material: MagnetMaterial, strength: number): ZoneLaw {
  return {
    mu: material.recoil,
    remanence: strength * material.remanence,
    scale: strength * material.coercivity,
    slice: 0.5,
    fluxDensity: (H) => curveFluxDensity(material, strength, H),
  };
}

/** A steel that saturates, B = µ0 H + µ0 Ms H/(a + |H|). */
export interface SaturatingSteel {
  /** Relative permeability at small H, 1 + Ms/a. */
  readonly permeability: number;
  /** µ0 Ms, T. */
  readonly saturation: number;
}

/** H (A/m) at which half of the saturation is reached, the law's a. */
const halfway = ({ permeability, saturation }: SaturatingSteel): number =>
  saturation / MU0 / (permeability - 1);

/**
 * B (T) at H (A/m), any sign.
 * Source: Fröhlich's relation, [Bozorth1951] ch. 11 (the chapter from memory). A typical low-carbon steel: µ0 Ms 2.1 T.
 */
export function steelFluxDensity(steel: SaturatingSteel, H: number): number {
  return MU0 * H + (steel.saturation * H) / (halfway(steel) + Math.abs(H));
}

/** Relative permeability of the chord to H (A/m). */
export const steelChord = (steel: SaturatingSteel, H: number): number =>
  1 + steel.saturation / MU0 / (halfway(steel) + Math.abs(H));

/**
 * The linear part has the initial permeability (1), which is what the unsaturated tip has across as well; half of it moves
 * the field 0.5 mm above the tip by 0.6 %.
 */
export function steelZones(steel: SaturatingSteel): ZoneLaw {
  return {
    mu: steel.permeability,
    remanence: 0,
    scale: halfway(steel),
    // Where a thin pole is full its flux leaves by the side; slices twice as high leave it 2.8 % low instead of 1 %.
    slice: 0.25,
    fluxDensity: (H) => steelFluxDensity(steel, H),
  };
}
