/** Time to render four seconds of a six-string chord, and where it goes. Run with `npm run bench -- sound`. Asserts nothing. */
import { render } from '../../src/physics/rendered.ts';
import type { ResolvedSheet as Sheet } from '../../src/sheet/sheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { median } from './tools/median.ts';

const sheet = exampleSheet();
const pickups = sheet.pickups.map((pickup) => ({ ...pickup, sounds: true }));
const unlike = pickups.map((pickup, i) => ({
  ...pickup,
  rows: pickup.rows.map((row) => ({ ...row, coil: { ...row.coil, inductance: 2 + i } })),
}));
const phrases: [string, Sheet][] = [
  ['one pickup', sheet],
  ['three pickups of like coils', { ...sheet, pickups }],
  ['three pickups of unlike coils', { ...sheet, pickups: unlike }],
  ['one pickup, 96 kHz', { ...sheet, listen: { ...sheet.listen, sampleRate: 96000 } }],
];
for (const [name, phrase] of phrases) {
  const { samples, sampleRate } = render(phrase);
  const ms = median(9, () => render(phrase));
  console.log(`render, ${samples.length / sampleRate} s chord, ${name}: ${ms.toFixed(1)} ms`);
}
