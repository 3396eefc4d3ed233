import { expect, it } from 'vitest';
import { polePlace, polePlaces } from '../../src/shape/poleRow.ts';

const row = (count: number) => ({ pitch: 10e-3, heights: { length: count } });

it('[exact] poles stand evenly about the middle, the treble one first', () => {
  expect(polePlaces(row(4)).map((y) => 1e3 * y)).toEqual([15, 5, -5, -15]);
  expect(polePlaces(row(5)).map((y) => 1e3 * y)).toEqual([20, 10, 0, -10, -20]);
  expect(polePlaces(row(1))).toEqual([0]);
  expect(polePlaces(row(6)).map((_, k) => polePlace(row(6), k))).toEqual(polePlaces(row(6)));
});

it('[exact] half way between two numbers is half way between two poles', () => {
  expect(polePlace(row(6), 2.5)).toBe(0);
});
