/** What every part of a sheet's pickups does to the field, as figures. */
import type { Fields } from '../physics/field.ts';
import { withoutPart } from '../physics/takenOut.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { takenOut } from '../sheet/takenOut.ts';

/** Significant digits: further ones are not the field's. */
const DIGITS = 6;

/**
 * JSON: a pickup each, null without a build: the field on the chosen string over every row (T), the magnets' flux and what of it goes
 * up through the plane of the tops (Wb), and for every part, taken out alone, the field without it and the share that it has.
 */
export function partsJson(sheet: Sheet, fields: Fields): string {
  const pickups = sheet.pickups.map(({ name, build, rows }, pickup) => {
    const field = fields[pickup] ?? null;
    const whole = withoutPart(sheet, { pickup, part: null }, field);
    if (!whole || !build) return null;
    const parts = takenOut(
      build,
      rows.map(({ offset }) => offset),
    ).map(({ name, part }) => ({ name, rows: of(sheet, pickup, part, field) }));
    return {
      name,
      string: sheet.listen.string,
      field: whole.rows.map((row) => row.field),
      flux: whole.flux,
      parts,
    };
  });
  return (
    JSON.stringify(
      { title: sheet.title, pickups },
      (_, figure: unknown) => (typeof figure === 'number' ? Number(figure.toPrecision(DIGITS)) : figure),
      2,
    ) + '\n'
  );
}

/** Over every row the field without it and its share, or why nothing can be said: without it a magnet may find no working point. */
function of(
  sheet: Sheet,
  pickup: number,
  part: Parameters<typeof withoutPart>[1]['part'],
  field: Fields[number],
) {
  try {
    const figures = withoutPart(sheet, { pickup, part }, field);
    return figures?.rows.map(({ without, share }) => ({ without, share })) ?? null;
  } catch (error) {
    if (error instanceof RangeError) return error.message;
    throw error;
  }
}
