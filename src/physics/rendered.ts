/**
 * From a sheet to what it sounds like. Not in predict.ts: figures are wanted as soon as the page opens, a sound a moment later.
 * Pure; nothing is kept between calls. `fields` are those of the sheet's pickups; left out, they are computed.
 */
import type { Sheet } from '../sheet/sheet.ts';
import { fieldsOf, type Fields } from './field.ts';
import { resolve } from './heard/resolve.ts';
import type { Beginning, Sound } from './prediction.ts';
import { beginning as beginningOf } from './sound/beginning.ts';
import { render as renderOf } from './sound/render.ts';

/**
 * As the namesake in sound/render.ts.
 * @throws FieldError where a build can't be computed
 */
export const render = (sheet: Sheet, fields: Fields = fieldsOf(sheet)): Sound =>
  renderOf(resolve(sheet, fields));

/** As the namesake in sound/beginning.ts. @throws as render does */
export const beginning = (sheet: Sheet, fields: Fields = fieldsOf(sheet)): Beginning =>
  beginningOf(resolve(sheet, fields));
