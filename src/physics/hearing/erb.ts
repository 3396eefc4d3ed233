/** The scale of the ear's filters: equivalent rectangular bandwidths (ERB), and how many of them lie below a frequency. */

/** Hz: 24.673 (0.004368 f + 1). */
const NARROWEST = 24.673;
/** 1/Hz. */
const GROWTH = 0.004368;
/** 1/(NARROWEST · GROWTH · log10 e). */
const PER_DECADE = 21.366;

/** Equivalent rectangular bandwidth of the ear's filter at f (Hz, ≥ 0), Hz. Source: [GlasbergMoore1990] with the digits of [ANSIS34]. */
export const erbWidth = (f: number): number => NARROWEST * (GROWTH * f + 1);

/** How many ERB lie below f (Hz, ≥ 0): the ERB-number scale. Source: [GlasbergMoore1990] with the digits of [ANSIS34]. */
export const erbNumber = (f: number): number => PER_DECADE * Math.log10(GROWTH * f + 1);

/** The frequency below which so many ERB lie, Hz; `erbNumber` turned round. */
export const frequencyOfErbNumber = (number: number): number => (10 ** (number / PER_DECADE) - 1) / GROWTH;

/** ERB numbers of the filters of a pattern, a quarter apart: centred from 48 Hz to 15 kHz. */
export const FILTERS = Float64Array.from({ length: 150 }, (_, i) => 1.75 + 0.25 * i);
/** Their centre frequencies, Hz. */
export const CENTRES = FILTERS.map(frequencyOfErbNumber);
