/** Figures that were read, typed in for the coils of a pickup. */
import { checkSheet, type Checked } from './check.ts';
import type { CoilFigures, Sheet } from './sheet.ts';

/** Digits that a good meter has. */
const DIGITS = 4;

/** What is null stays as it is. The build, the harness and the load stay too. */
export function withReadCoils(sheet: Sheet, index: number, coils: readonly Partial<CoilFigures>[]): Checked {
  const kept = (value: number | null | undefined, otherwise: number | null): number | null =>
    value === null || value === undefined ? otherwise : Number(value.toPrecision(DIGITS));
  return checkSheet({
    ...sheet,
    pickups: sheet.pickups.map((pickup, p) =>
      p !== index
        ? pickup
        : {
            ...pickup,
            rows: pickup.rows.map((row, r) => ({
              ...row,
              coil: {
                ...row.coil,
                resistance: kept(coils[r]?.resistance, row.coil.resistance),
                inductance: kept(coils[r]?.inductance, row.coil.inductance),
                capacitance: kept(coils[r]?.capacitance, row.coil.capacitance),
              },
            })),
          },
    ),
  });
}
