/** Magnet grades, pole steels and metals of plates. Figures are the catalogue's minimum or nominal values; a batch may differ by 5 %. */

import type { MagnetGrade, PlateMetal } from '../../../shape/materials.ts';

/** A magnet grade's second quadrant, at full magnetisation. */
export interface MagnetMaterial {
  /** Remanence, T. */
  readonly remanence: number;
  /** Coercivity of B, A/m. */
  readonly coercivity: number;
  /** Energy product, J/m³. */
  readonly energyProduct: number;
  /** Relative permeability for small changes about the working point. */
  readonly recoil: number;
  /** S/m. */
  readonly conductivity: number;
  /** 'curved': the working point slides along the catalogue curve; 'straight': B = µ0 µ_recoil H + Br throughout. */
  readonly law: 'curved' | 'straight';
}

/**
 * Sources: [MMPA0100] cast grades and sintered ferrites (recoil permeabilities and alnico 4 from memory);
 * conductivities of alnico [ASTMA1070]; neodymium is N42, the middle of the ranges that catalogues print.
 */
export const MAGNETS: Readonly<Record<MagnetGrade, MagnetMaterial>> = {
  'alnico 2': curved(0.75, 44.6e3, 13.5e3, 6.4, 1.5e6),
  'alnico 3': curved(0.7, 38.2e3, 10.7e3, 6.5, 1.7e6),
  'alnico 4': curved(0.56, 57.3e3, 10.7e3, 4.1, 1.3e6),
  'alnico 5': curved(1.28, 50.9e3, 43.8e3, 4.3, 2.1e6),
  'alnico 8': curved(0.82, 131e3, 42.2e3, 2.1, 1.9e6),
  // Ferrites insulate; their knee lies beyond what a bar under steel poles sees.
  'ceramic 1': straight(0.23, 148e3, 8.4e3, 1.1, 0),
  'ceramic 5': straight(0.38, 191e3, 27.1e3, 1.05, 0),
  'ceramic 8': straight(0.385, 235e3, 27.8e3, 1.05, 0),
  neodymium: straight(1.3, 907e3, 330e3, 1.05, 0.65e6),
};

function curved(
  remanence: number,
  coercivity: number,
  energyProduct: number,
  recoil: number,
  conductivity: number,
): MagnetMaterial {
  return { remanence, coercivity, energyProduct, recoil, conductivity, law: 'curved' };
}

function straight(
  remanence: number,
  coercivity: number,
  energyProduct: number,
  recoil: number,
  conductivity: number,
): MagnetMaterial {
  return { remanence, coercivity, energyProduct, recoil, conductivity, law: 'straight' };
}

/** Steels of slugs and screws. */
export type SteelGrade = 'low-carbon, as drawn' | 'low-carbon, annealed' | 'tool steel, hardened';

/** A steel as linear: saturation is not in the model. */
export interface SteelMaterial {
  /** Relative permeability at the small fields of a coil and, far from saturation, of the magnet. */
  readonly permeability: number;
  /** S/m. */
  readonly conductivity: number;
}

/**
 * Sources: conductivity of low-carbon steel [CRC]; initial permeability 500–900 annealed [CRC], 100–300 as drawn or
 * machined (from memory); the hardened grade is common practice for stiff screws, from memory.
 */
export const STEELS: Readonly<Record<SteelGrade, SteelMaterial>> = {
  'low-carbon, as drawn': { permeability: 200, conductivity: 5.8e6 },
  'low-carbon, annealed': { permeability: 700, conductivity: 5.8e6 },
  'tool steel, hardened': { permeability: 80, conductivity: 4e6 },
};

/**
 * Resistivity of metals of plates at 20 °C, Ω m: annealed copper [NBS100]; cartridge brass, 70 % copper, 28 % of copper's
 * conductance, and nickel silver with 18 % nickel, 6 % of it [ASMVol2] (both from memory). A batch may differ by 5 %.
 */
export const PLATE_RESISTIVITY: Readonly<Record<PlateMetal, number>> = {
  'nickel silver': 2.87e-7,
  brass: 6.16e-8,
  copper: 1.724e-8,
};
