/** The metal in a string's cross-section: a round core, and round wire wound about it turn to turn. */

/** Metals of wrap wire. What they weigh stands in sheet/strings.ts, what they are to a magnet in physics/string/metals.ts. */
export type WrapMetal =
  | 'nickel-plated steel'
  | 'nickel'
  | 'ferritic stainless steel'
  | 'austenitic stainless steel'
  | 'bronze';

/**
 * Share of the ring between core and outer diameter that a layer of round wire fills, turns touching: each turn is π(c + w)
 * long for every w of string, w = (D − c)/2 being the wire's diameter, so that the layer has π² (D² − c²)/16 of metal to a
 * length of string. Exact but for the turns' lean, which is part of a per cent.
 */
export const WRAP_FILL = Math.PI / 4;

/** Cross-section of a round wire, m². @param diameter m */
export const roundSection = (diameter: number): number => (Math.PI * diameter ** 2) / 4;

/** Metal of the wrap for a length of string, m³/m. @param diameter of the string, m @param core its diameter, m */
export const wrapSection = (diameter: number, core: number): number =>
  WRAP_FILL * (roundSection(diameter) - roundSection(core));
