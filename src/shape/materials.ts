/** What magnets and plates are made of, by name, in the order in which they are offered; what each of them does is for physics to say. */

/** As the trade orders them: alnico by number, ceramic by number, neodymium. */
export const MAGNET_GRADES = [
  'alnico 2',
  'alnico 3',
  'alnico 4',
  'alnico 5',
  'alnico 8',
  'ceramic 1',
  'ceramic 5',
  'ceramic 8',
  'neodymium',
] as const;
export type MagnetGrade = (typeof MAGNET_GRADES)[number];

/** Metals of plates that a magnet does not hold. */
export const PLATE_METALS = ['nickel silver', 'brass', 'copper'] as const;
export type PlateMetal = (typeof PLATE_METALS)[number];
