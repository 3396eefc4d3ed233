import type { Coil, ResolvedSheet, Row, Sheet } from '../sheet/sheet.ts';

const FIGURES = ['resistance', 'inductance', 'capacitance'] as const;

function givenRow(row: Row, where: string): Row<Coil> {
  const { resistance, inductance, capacitance, coreLoss } = row.coil;
  if (resistance === null || inductance === null || capacitance === null) {
    const missing = FIGURES.filter((name) => row.coil[name] === null).join(', ');
    throw new RangeError(`Coil figures must be given, all of them; got none for ${missing} of ${where}.`);
  }
  return { ...row, coil: { resistance, inductance, capacitance, coreLoss } };
}

/**
 * The sheet as the circuit needs it, every coil with its figures.
 * @throws RangeError when a coil's resistance, inductance or capacitance is left to the build
 */
export function givenSheet(sheet: Sheet): ResolvedSheet {
  const pickups = sheet.pickups.map((pickup, p) => ({
    ...pickup,
    rows: pickup.rows.map((row, r) => givenRow(row, `pickup ${p + 1}, row ${r + 1}`)),
  }));
  return { ...sheet, pickups };
}
