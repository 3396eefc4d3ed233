/** The permeability that explains a reading, taken over for the coils of a pickup. */
import { checkSheet, type Checked } from './check.ts';
import type { Sheet } from './sheet.ts';

/** Digits that a good meter leaves of it. */
const DIGITS = 3;

/** @param permeability for the coil, of all of the pickup's steel, 1; how it relaxes stays as it is */
export function withReadSteel(sheet: Sheet, index: number, permeability: number): Checked {
  return checkSheet({
    ...sheet,
    pickups: sheet.pickups.map((pickup, p) => {
      const { build } = pickup;
      if (p !== index || !build) return pickup;
      const coilSteel = {
        relaxation: null,
        ...build.coilSteel,
        mu: Number(permeability.toPrecision(DIGITS)),
      };
      return { ...pickup, build: { ...build, coilSteel } };
    }),
  });
}
