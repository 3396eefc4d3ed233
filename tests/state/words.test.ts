/** What the headings say of a prediction. */
import { expect, it } from 'vitest';
import { predict } from '../../src/physics/predict.ts';
import { fallWords } from '../../src/state/words.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const sheet = exampleSheet();
const plucked = (angle: number, partial = 1) => {
  const asked = { ...sheet, listen: { ...sheet.listen, partial, pluck: { ...sheet.listen.pluck, angle } } };
  return fallWords(asked, predict(asked));
};

it('says how the chosen partial begins to fall as it is plucked, and what either direction alone would do', () => {
  const towards =
    /^partial 1 falls by 60 dB in ([\d.]+) s as plucked; towards the pickup alone ([\d.]+) s, across it ([\d.]+) s$/;
  const [, asPlucked, fast, slow] = towards.exec(plucked(Math.PI / 2))!;
  expect(asPlucked).toBe(fast);
  expect(Number(slow)).toBeGreaterThan(Number(fast));
  expect(towards.exec(plucked(0))![1]).toBe(slow);
});

it('says nothing of a partial that is not there', () => {
  expect(plucked(0.5, 12)).toMatch(/^partial 12 /);
  expect(plucked(0.5, 5000)).toBe('');
});
