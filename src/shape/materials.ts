/** What magnets, steel and plates are made of, by name, in the order in which they are offered; what each of them does is for physics to say. */

/** As the trade orders them: alnico by number, ceramic by number, samarium cobalt, neodymium; «neodymium» alone is N42. */
export const MAGNET_GRADES = [
  'alnico 2',
  'alnico 3',
  'alnico 4',
  'alnico 5',
  'alnico 8',
  'ceramic 1',
  'ceramic 5',
  'ceramic 8',
  'samarium cobalt 1:5',
  'samarium cobalt 2:17',
  'neodymium',
  'neodymium N35',
  'neodymium N52',
] as const;
export type MagnetGrade = (typeof MAGNET_GRADES)[number];

/** What a choice of grades says of the maker's own; see ownGrade.ts. */
export const OWN_GRADE = 'own grade';
export const CHOSEN_GRADES = [...MAGNET_GRADES, OWN_GRADE] as const;
export type ChosenGrade = (typeof CHOSEN_GRADES)[number];

/** Steels of poles and of what redirects a field; slugs and screws of which nothing is said are of the first. */
export const STEEL_GRADES = [
  'low-carbon, as drawn',
  'low-carbon, annealed',
  'tool steel, hardened',
  'silicon steel sheet',
  'stainless, ferritic',
] as const;
export type SteelGrade = (typeof STEEL_GRADES)[number];

/** Slugs and screws are turned from drawn low-carbon stock (common practice), unless said otherwise. */
export const POLE_STEEL: SteelGrade = 'low-carbon, as drawn';

/** What a choice of steels says of the maker's own; see ownSteel.ts. */
export const OWN_STEEL = 'own steel';
export const CHOSEN_STEELS = [...STEEL_GRADES, OWN_STEEL] as const;
export type ChosenSteel = (typeof CHOSEN_STEELS)[number];

/** Metals of plates that a magnet does not hold. */
export const PLATE_METALS = ['nickel silver', 'brass', 'copper'] as const;
export type PlateMetal = (typeof PLATE_METALS)[number];

/** Metals that a magnet holds: what is asked for of a cover or a base plate and can't be computed; see checkBuild.ts. */
export const MAGNETIC_METALS = ['steel', 'nickel'] as const;
