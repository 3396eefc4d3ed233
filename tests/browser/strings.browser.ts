/**
 * Eight strings in every place of the sheet: as many as there may be, where all of it has least room. Four, five and seven go the
 * same way in tests/soak/strings.browser.soak.ts; a bass with four is among the presets that ends.browser.ts opens.
 */
import { test } from './rig/app.ts';
import { usesStrings } from './rig/stringSets.ts';

test('8 strings: chosen, drawn, played, sent and taken back, and axe finds nothing to object to', ({
  openSheet,
}) => usesStrings(openSheet, [8, 'eight strings, 0.010 to 0.074', 'E4', 'F♯1']));
