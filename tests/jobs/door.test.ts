import { expect, it } from 'vitest';
import { buffersOf } from '../../src/jobs/answer.ts';
import { predict } from '../../src/physics/predict.ts';
import { render } from '../../src/physics/rendered.ts';
import { liveSetup } from '../../src/physics/soundingLive.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { solved as solver } from '../fixtures/solved.ts';

const live = (sheet: Sheet) => liveSetup(sheet, 48000, 1, solver.fields(sheet));

// A buffer that the physics kept for its next result would be empty by then: it has moved to the page.
it.each([
  ['predict', exampleSheet(), (sheet: Sheet) => predict(sheet)],
  ['render', exampleSheet(), (sheet: Sheet) => render(sheet)],
  [
    'predict, pickups as built,',
    builtSheet('six rods'),
    (sheet: Sheet) => predict(sheet, solver.fields(sheet)),
  ],
  [
    'render, pickups as built,',
    builtSheet('six rods'),
    (sheet: Sheet) => render(sheet, solver.fields(sheet)),
  ],
  ['liveSetup, pickups as built,', builtSheet('six rods'), live],
] as const)(
  'no array of what %s returns is kept or shared with the next result [exact]',
  (_, sheet, door) => {
    const first = door(sheet);
    const copy = structuredClone(first);
    const buffers = buffersOf(first);
    expect(buffers.length).toBeGreaterThan(0);
    structuredClone(first, { transfer: buffers });
    expect(buffers.every((b) => b.byteLength === 0)).toBe(true);
    expect(door(sheet)).toEqual(copy);
  },
);
