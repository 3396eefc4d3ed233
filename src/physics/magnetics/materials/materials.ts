/** Magnet grades, pole steels and metals of plates. Figures are the catalogue's minimum or nominal values; a batch may differ by 5 %. */

import type { MagnetGrade, PlateMetal, SteelGrade } from '../../../shape/materials.ts';
import type { OwnGrade } from '../../../shape/ownGrade.ts';
import type { OwnSteel } from '../../../shape/ownSteel.ts';
import { MU0 } from '../../numerics/constants.ts';

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

/** A grade by name, at 20 °C, or by its figures. */
export type GivenGrade = MagnetGrade | MagnetMaterial;

/** Figures of a grade; units stand at the type. */
export const magnetOf = (grade: GivenGrade): MagnetMaterial =>
  typeof grade === 'string' ? MAGNETS[grade] : grade;

/**
 * Change of the remanence, 1/K, from 20 °C as far as a magnet comes back when it cools. Source: alnico −0.02 % and ferrite −0.2 %
 * [MMPA0100] (from memory); samarium cobalt 1:5 −0.043 %, 2:17 −0.03 %, neodymium −0.09 to −0.13 % [Caltech40m], of which −0.11 %.
 */
const PER_KELVIN: readonly (readonly [beginning: string, change: number])[] = [
  ['alnico', -2e-4],
  ['ceramic', -2e-3],
  ['samarium cobalt 1:5', -4.3e-4],
  ['samarium cobalt 2:17', -3e-4],
  ['neodymium', -1.1e-3],
];

/**
 * A named grade at a temperature.
 *
 * @param celsius °C; at 20 the name itself
 * @returns remanence, and (BH)max of a curved law with it so that the curve keeps its shape; coercivity, recoil permeability and conductivity
 *   are those at 20 °C: Hc of alnico moves by less than Br does, and straight laws have no knee within reach (a ferrite's comes nearer in
 *   the cold). Range: −40 to 100 °C
 * Source: linear in the temperature, as data sheets give it; above the knee the remanence's coefficient is all that counts [Modelica4].
 */
export function gradeAt(grade: MagnetGrade, celsius: number): GivenGrade {
  if (celsius === 20) return grade;
  const material = MAGNETS[grade];
  const [, change] = PER_KELVIN.find(([beginning]) => grade.startsWith(beginning))!;
  const share = 1 + change * (celsius - 20);
  return {
    ...material,
    remanence: material.remanence * share,
    energyProduct: material.energyProduct * share ** (material.law === 'straight' ? 2 : 1),
  };
}

/** Above this share of Br²/4µ0 a curve is a straight line with its knee out of reach: alnico has a third at most, ferrites and rare earths 0.8 and more. */
const STRAIGHT = 0.6;
/** S/m, of cast alnico and of sintered rare earths about as much. */
const CURVED_CONDUCTIVITY = 1.8e6;
const STRAIGHT_CONDUCTIVITY = 0.9e6;

/**
 * The law of a grade that is known by Br (T), Hc (A/m) and (BH)max (J/m³), which must be within energyLimits of shape/ownGrade.ts.
 *
 * Where the recoil permeability is not given: of a straight line it is Br²/4µ0(BH)max, within 14 % of the grades'; of a curve it lies
 * between its slope at the remanence and that to −Hc, a third of the way in the logarithm: within 40 % of cast alnicos, which is no
 * more than an estimate; the field hardly follows it, the inductance over rods does.
 * Source: the product of a straight line, [Parker1990] ch. 2; the estimate is ours.
 */
export function ownMaterial({ remanence, coercivity, energyProduct, recoil }: OwnGrade): MagnetMaterial {
  const whole = remanence ** 2 / (4 * MU0);
  const rest = { remanence, coercivity, energyProduct };
  if (energyProduct > STRAIGHT * whole)
    return {
      ...rest,
      recoil: recoil ?? Math.max(1.001, whole / energyProduct),
      conductivity: STRAIGHT_CONDUCTIVITY,
      law: 'straight',
    };
  const fullness = energyProduct / (remanence * coercivity);
  const bend = (2 * Math.sqrt(fullness) - 1) / fullness;
  const chord = remanence / (MU0 * coercivity);
  const start = Math.max(1, chord * (1 - bend));
  return {
    ...rest,
    recoil: recoil ?? start ** (2 / 3) * chord ** (1 / 3),
    conductivity: CURVED_CONDUCTIVITY,
    law: 'curved',
  };
}

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

/**
 * A steel: round poles, blades and walls that carry much are put on its curve (solveStatic), plates are linear and warned of. Its permeability
 * is that at the small fields of a coil and, far from saturation, of the magnet.
 */
export interface SteelMaterial extends OwnSteel {
  /** Relative permeability at the small alternating field of a coil, at low frequency; absent: the same, 1. */
  readonly alternating?: number;
  /** Hz, at which that relaxes (see permeabilityAt); absent: it doesn't. */
  readonly relaxation?: number;
}

/** A steel by name, or by its figures, or either with what a coil finds in it, units as in SteelMaterial. */
export type GivenSteel =
  | SteelGrade
  | {
      readonly of: SteelGrade | OwnSteel;
      readonly alternating?: number;
      readonly relaxation?: number;
    };

/** Figures of a steel; units stand at the type. */
export function steelOf(given: GivenSteel): SteelMaterial {
  if (typeof given === 'string') return STEELS[given];
  const { of, ...coil } = given;
  return { ...(typeof of === 'string' ? STEELS[of] : of), ...coil };
}

/** Relative permeability that a coil finds, at low frequency, 1. */
export const alternatingMu = ({ permeability, alternating }: SteelMaterial): number =>
  alternating ?? permeability;

/**
 * Sources: conductivity of low-carbon steel [CRC]; initial permeability 500–900 annealed [CRC], 100–300 as drawn or
 * machined (from memory); the hardened grade is common practice for stiff screws, from memory. Silicon steel sheet with 3 % silicon, not oriented: 47 µΩ cm, 2.0 T,
 * initial permeability 500 (catalogues give 300–1500); ferritic stainless with 17 % chromium, annealed: 60 µΩ cm, 1.5 T, 200 (100–600); both
 * from memory. Saturation of low-carbon steel 2.1 T [Bozorth1951] (from memory); hardened tool steel 1.9 T, from memory. Handbooks give the
 * initial permeability of one steel up to forty times apart: what is known of each stands in shape/steelMu.ts.
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
