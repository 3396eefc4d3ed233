/** A Gaussian bell by its width, which is the full width at half of its height. */

/** Its standard deviation over that width: 1/(2√(2 ln 2)). */
export const SIGMA_PER_WIDTH = 1 / (2 * Math.sqrt(2 * Math.LN2));

/** The area under it over width times height: √(π/(4 ln 2)). */
export const BELL_AREA = SIGMA_PER_WIDTH * Math.sqrt(2 * Math.PI);
