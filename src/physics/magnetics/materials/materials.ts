/** Magnet grades, pole steels and metals of plates. Figures are the catalogue's minimum or nominal values; a batch may differ by 5 %. */

import type { MagnetGrade, PlateMetal, SteelGrade } from '../../../shape/materials.ts';

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
 * conductivities of alnico [ASTMA1070]. Rare earths, from memory of catalogues: samarium cobalt 1:5, Br 0.84–0.97 T, recoil 1.03, resistivity
 * 55 µΩ cm; 2:17, 1.01–1.17 T, 1.1, 86 µΩ cm; neodymium 1.17–1.45 T, 1.05, 150 µΩ cm: N35, N42 (plain «neodymium») and N52 in the middle of
 * their ranges.
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
  'samarium cobalt 1:5': straight(0.92, 680e3, 160e3, 1.03, 1.8e6),
  'samarium cobalt 2:17': straight(1.08, 760e3, 215e3, 1.1, 1.2e6),
  neodymium: straight(1.3, 907e3, 330e3, 1.05, 0.65e6),
  'neodymium N35': straight(1.19, 868e3, 271e3, 1.05, 0.65e6),
  'neodymium N52': straight(1.45, 900e3, 405e3, 1.05, 0.65e6),
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

/** A steel: round poles that carry much are put on its curve (solveStatic), plates and blades are linear and warned of. */
export interface SteelMaterial {
  /** Relative permeability at the small fields of a coil and, far from saturation, of the magnet. */
  readonly permeability: number;
  /** S/m. */
  readonly conductivity: number;
  /** Saturation µ0 Ms, T. */
  readonly saturation: number;
}

/**
 * Sources: conductivity of low-carbon steel [CRC]; initial permeability 500–900 annealed [CRC], 100–300 as drawn or
 * machined (from memory); the hardened grade is common practice for stiff screws, from memory. Silicon steel sheet with 3 % silicon, not oriented: 47 µΩ cm, 2.0 T,
 * initial permeability 500 (catalogues give 300–1500); ferritic stainless with 17 % chromium, annealed: 60 µΩ cm, 1.5 T, 200 (100–600); both
 * from memory. Saturation of low-carbon steel 2.1 T [Bozorth1951] (from memory); hardened tool steel 1.9 T, from memory. Handbooks give the
 * initial permeability of one steel up to forty times apart.
 */
export const STEELS: Readonly<Record<SteelGrade, SteelMaterial>> = {
  'low-carbon, as drawn': { permeability: 200, conductivity: 5.8e6, saturation: 2.1 },
  'low-carbon, annealed': { permeability: 700, conductivity: 5.8e6, saturation: 2.1 },
  'tool steel, hardened': { permeability: 80, conductivity: 4e6, saturation: 1.9 },
  'silicon steel sheet': { permeability: 500, conductivity: 2.1e6, saturation: 2 },
  'stainless, ferritic': { permeability: 200, conductivity: 1.67e6, saturation: 1.5 },
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
