/** Four, five and seven strings in every place of the sheet; npm test has eight. */
import { test } from '../browser/rig/app.ts';
import { usesStrings, type StringSet } from '../browser/rig/stringSets.ts';
import { soakPlan } from './tools/plan.ts';

const SETS: readonly StringSet[] = [
  [4, 'bass, four strings, 0.045 to 0.105', 'G2', 'E1'],
  [5, 'bass, five strings, 0.045 to 0.130', 'G2', 'B0'],
  [7, 'seven strings, 0.010 to 0.059', 'E4', 'B1'],
];
const { count } = soakPlan('strings', 0, SETS.length);

for (const [i, set] of SETS.entries())
  test.runIf(i < count)(
    `${set[0]} strings: chosen, drawn, played, sent and taken back, and axe finds nothing to object to`,
    ({ openSheet }) => usesStrings(openSheet, set),
  );
