/** The page for the workbench as a document of its own. */
import { readFileSync } from 'node:fs';
import { deflateRawSync } from 'node:zlib';
import { benchPage } from '../benchSheet/benchPage.ts';
import { documentText } from '../benchSheet/html.ts';
import { dayOf, USUAL_WISH } from '../benchSheet/usual.ts';
import { benchFigures } from '../physics/benchFigures.ts';
import type { Fields } from '../physics/field.ts';
import { fragmentOf, jsonOf, SHORT } from '../sheet/link.ts';
import { shortened } from '../sheet/linkWords.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { wrap } from '../sheet/trials.ts';
import type { BenchOptions } from './options.ts';

const STYLES = new URL('../benchSheet/page.css', import.meta.url);

/** HTML, of the chosen pickup or the first that sounds. */
export function benchDocument(
  sheet: Sheet,
  fields: Fields,
  { paper, pickup, address }: BenchOptions,
): string {
  const chosen = pickup ?? sheet.pickups.findIndex(({ sounds }) => sounds);
  const page = benchPage({
    sheet,
    figures: benchFigures(sheet, fields, { ...USUAL_WISH, pickup: chosen }),
    poles: { tops: [], up: [] },
    trial: '',
    date: dayOf(),
    link:
      address === '' ? '' : `${address}#${fragmentOf(deflateRawSync(shortened(jsonOf(wrap(sheet)))), SHORT)}`,
    paper,
  });
  return documentText(page, readFileSync(STYLES, 'utf8'));
}
