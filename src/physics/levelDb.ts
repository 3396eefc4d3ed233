/** Levels of curves and partials, in decibels. */

/** V for a string that moves at 1 m/s: 0 dB. */
const REFERENCE_LEVEL = 0.1;
/** Everything below is shown as this, dB. */
const FLOOR_DB = -120;

/** Level over the reference level, dB, not below the floor. @param volts V */
export function toDb(volts: number): number {
  return Math.max(FLOOR_DB, 20 * Math.log10(volts / REFERENCE_LEVEL));
}

/** V; `toDb` turned round. @param level dB */
export const fromDb = (level: number): number => REFERENCE_LEVEL * 10 ** (level / 20);
