/** Figures that are read, not typed: levels and frequencies as a maker writes them. */
export { decibels, hertz } from '../../sheet/shown.ts';
