import { expect, it } from 'vitest';
import { buffersOf } from '../../src/jobs/answer.ts';
import { predict, render } from '../../src/physics/predict.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

// A buffer that the physics kept for its next result would be empty by then: it has moved to the page.
it.each([
  ['predict', predict],
  ['render', render],
] as const)('no array of what %s returns is kept or shared with the next result [exact]', (_, door) => {
  const first = door(exampleSheet());
  const copy = structuredClone(first);
  const buffers = buffersOf(first);
  expect(buffers.length).toBeGreaterThan(0);
  structuredClone(first, { transfer: buffers });
  expect(buffers.every((b) => b.byteLength === 0)).toBe(true);
  expect(door(exampleSheet())).toEqual(copy);
});
