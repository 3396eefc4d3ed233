/** A player's own recording through a sheet: beside `predict`, since few bring one. */
import type { Sheet } from '../sheet/sheet.ts';
import { fieldsOf, type Fields } from './field.ts';
import { resolve } from './heard/resolve.ts';
import type { Sound } from './prediction.ts';
import { through as throughOf, type Recording } from './sound/through.ts';

/** A player's own recording, and the sheet through which it was made; null when it is the bare string's. */
export interface ThroughPlaying {
  readonly recording: Recording;
  readonly from: Sheet | null;
  readonly fromFields?: Fields | null;
}

/**
 * As the namesake in sound/through.ts.
 * @param fields of the sheet's pickups
 * @throws FieldError where a build can't be computed
 */
export const through = (
  sheet: Sheet,
  { recording, from, fromFields }: ThroughPlaying,
  fields: Fields = fieldsOf(sheet),
): Sound =>
  throughOf(resolve(sheet, fields), {
    recording,
    from: from && resolve(from, fromFields ?? fieldsOf(from)),
  });
