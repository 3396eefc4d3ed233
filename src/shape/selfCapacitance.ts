/** What self-capacitance is known to: everything that says so, or reckons with it, takes it from here. */

/** Of a finished bare winding over what is computed from its layers, shares; see physics/magnetics/coil/wire.ts for why. */
export const BARE_WINDING = { least: 0.7, most: 1.45 } as const;

/** What leads and grounded metal add to a single coil, F. */
export const LEADS_AND_METAL = { least: 15e-12, most: 65e-12 } as const;

const percent = (share: number): string => `${share < 1 ? '−' : '+'}${Math.round(100 * Math.abs(share - 1))}`;
const pico = (farads: number): number => Math.round(farads * 1e12);

/** «−30 to +45 %», «15 to 65 pF». */
export const BARE_SPREAD = `${percent(BARE_WINDING.least)} to ${percent(BARE_WINDING.most)} %`;
export const LEADS_SPREAD = `${pico(LEADS_AND_METAL.least)} to ${pico(LEADS_AND_METAL.most)} pF`;
