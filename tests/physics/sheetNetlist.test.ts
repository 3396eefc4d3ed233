/** The circuit of a whole sheet, as page and command line write it, against ngspice: output stored under tests/reference. */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { curveCsv, netlists } from '../../src/physics/outputs.ts';
import { predict } from '../../src/physics/predict.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { furthest, storedRows } from '../fixtures/ngspice.ts';

const reference = (name: string): string =>
  readFileSync(`${import.meta.dirname}/../reference/ngspice-sheet/${name}`, 'utf8');

/** Coils as they were measured, without a build: its deck stays the same to the letter. */
const checked = checkSheet(JSON.parse(reference('single-coils.json')));
if (!checked.ok) throw new Error(checked.message);
const { sheet } = checked;
const fields = sheet.pickups.map(() => null);

it('the deck is, to the letter, what the simulator was given', () => {
  const decks = netlists(sheet, fields);
  expect(decks.map(({ suffix }) => suffix)).toStrictEqual(['pickup-1-coil-1']);
  expect(decks[0]!.text).toBe(reference('single-coils.cir'));
});

it('[tool] what it printed agrees with the curve file within 0.05 dB from 20 Hz to 20 kHz', () => {
  const lines = curveCsv(predict(sheet, fields)).trimEnd().split('\r\n').slice(1);
  const curve = lines.map((line) => line.split(',').map(Number) as [number, number, ...number[]]);
  const rows = storedRows(reference('single-coils.csv')).filter(
    ({ frequency }) => frequency <= curve.at(-1)![0],
  );
  expect(rows.length).toBeGreaterThan(280);
  // The first voice is that pickup. Between the curve's frequencies, which lie closer than the deck's, a straight line will do.
  const levelAt = (frequency: number): number => {
    const above = curve.findIndex(([f]) => f >= frequency * (1 - 1e-9));
    const [f1, l1] = curve[above]!;
    const [f0, l0] = curve[Math.max(0, above - 1)]!;
    return f1 === f0 ? l1 : l0 + ((l1 - l0) * Math.log(frequency / f0)) / Math.log(f1 / f0);
  };
  expect(furthest(rows, levelAt)).toBeLessThan(0.05);
});
