/** The parts list of a sheet: one line a part, each figure with the place in the sheet where it stands. */
import { calledApart } from '../../sheet/calledApart.ts';
import type { Sheet } from '../../sheet/sheet.ts';
import type { Prediction } from '../../state/types.ts';
import type { PartsRow } from './cells.ts';
import { controlRows } from './controlRows.ts';
import { magnetsRows } from './magnetsRow.ts';
import { pickupRows } from './pickupRows.ts';
import { stringRow } from './stringRow.ts';

export function partsRows(sheet: Sheet, chosen: number, prediction: Prediction | null): PartsRow[] {
  const several = sheet.pickups.length > 1;
  const strings = sheet.instrument.strings.length;
  const called = calledApart(sheet.pickups);
  return [
    ...sheet.pickups.flatMap((pickup, i) =>
      pickupRows({ ...pickup, name: called[i]! }, i, several, i === chosen, strings, prediction?.pickups[i]),
    ),
    ...magnetsRows(sheet),
    ...controlRows(sheet),
    stringRow(sheet),
  ];
}
