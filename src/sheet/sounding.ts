/** The selector. Pure. */
import type { Sheet } from './sheet.ts';

/** Lets exactly the given pickups through. */
export const withSounding = (sheet: Sheet, indices: readonly number[]): Sheet => ({
  ...sheet,
  pickups: sheet.pickups.map((p, i) =>
    p.sounds === indices.includes(i) ? p : { ...p, sounds: indices.includes(i) },
  ),
});
