/** What strings are made of, to a magnet. */
import type { WrapMetal } from '../../sheet/sheet.ts';
import type { WrapMaterial } from './woundSteel.ts';

/** Steel of the strings. Source: [Bozorth1951] for the saturation of iron alloys; initial permeability from memory. */
export const STRING_STEEL = {
  /** Susceptibility at small fields. */
  susceptibility: 99,
  /** Saturation magnetisation, A/m (µ0 Ms = 2 T). */
  saturation: 1.59e6,
} as const;

/**
 * Saturation: low-carbon steel 2.1 T, nickel 0.61 T [Bozorth1951]; stainless steel with 17 % chromium 1.5 T (from memory).
 * Relative permeability at small fields of drawn wire, from memory: low-carbon steel 100–300, here the least, as it is
 * bent as well; nickel, which tension and bending make hard to magnetise, 10–40; ferritic stainless 50–100; austenitic
 * stainless hardly above 1, more where drawing has made some of it martensite. The plating is too thin to count.
 * Across the string that matters little, 7 % between 20 and 100; along it, see tests/reference/wound-strings.
 */
export const WRAPS: Readonly<Record<WrapMetal, WrapMaterial>> = {
  'nickel-plated steel': { permeability: 100, saturation: 1.67e6 },
  nickel: { permeability: 20, saturation: 4.85e5 },
  'ferritic stainless steel': { permeability: 60, saturation: 1.2e6 },
  'austenitic stainless steel': { permeability: 1.02, saturation: Infinity },
  bronze: { permeability: 1, saturation: Infinity },
};
