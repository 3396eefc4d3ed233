/** Time of `predict` for a sheet of three pickups. Run with `npm run bench -- predict`. Asserts nothing. */
import { predict } from '../../src/physics/predict.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { median } from './tools/median.ts';

const sheet = exampleSheet();
const all = { ...sheet, pickups: sheet.pickups.map((pickup) => ({ ...pickup, sounds: true })) };
const low = { ...all, listen: { ...all.listen, string: 6 } };
for (const [name, one] of [
  ['one of three sounds', sheet],
  ['all three sound', all],
  ['all three sound, string 6', low],
] as const) {
  console.log(`predict, ${name}: ${median(101, () => predict(one)).toFixed(2)} ms`);
}
