/** What handbooks give for the initial permeability of steels. */
import type { SteelGrade } from './materials.ts';

/**
 * Least and most initial permeability of each, 1, as bought; one piece may lie outside, and handbooks together have one steel up to forty
 * times apart. Sources: low-carbon steel annealed [CRC]; cold-rolled 1018 about 280 [Bowler2006], as drawn or machined 100 to 300 from
 * memory; the others from memory of catalogues.
 */
export const MU_KNOWN: Readonly<Record<SteelGrade, readonly [least: number, most: number]>> = {
  'low-carbon, as drawn': [100, 300],
  'low-carbon, annealed': [500, 900],
  'tool steel, hardened': [40, 150],
  'silicon steel sheet': [300, 1500],
  'stainless, ferritic': [100, 600],
};
