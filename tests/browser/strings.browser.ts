/** Four and eight strings in every place of the sheet; five and seven: tests/soak/strings.browser.soak.ts. */
import { test } from './rig/app.ts';
import { usesStrings, type StringSet } from './rig/stringSets.ts';

const SETS: readonly StringSet[] = [
  [4, 'bass, four strings, 0.045 to 0.105', 'G2', 'E1'],
  [8, 'eight strings, 0.010 to 0.074', 'E4', 'F♯1'],
];

for (const set of SETS)
  test(`${set[0]} strings: chosen, drawn, played, sent and taken back, and axe finds nothing to object to`, ({
    openSheet,
  }) => usesStrings(openSheet, set));
