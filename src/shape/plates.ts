/** Plates of metal about a pickup. */

/** By the name that the document has for each, in the order in which they are told. */
export const PLATES = ['cover', 'basePlate'] as const;
export type PlateName = (typeof PLATES)[number];

/** What a maker calls them. */
export const PLATE_WORDS: Readonly<Record<PlateName, string>> = { cover: 'cover', basePlate: 'base plate' };
