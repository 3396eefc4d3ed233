import fc from 'fast-check';
import { expect, it } from 'vitest';
import { Pen } from '../../src/plot/pen.ts';

it('writes the figure that the language itself writes for the rounded number [exact]', () => {
  const digits = fc.integer({ min: 0, max: 5 });
  fc.assert(
    fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), digits, (value, places) => {
      const pen = new Pen(places);
      pen.move(value, 0);
      const rounded = Math.round(value * 10 ** places) / 10 ** places;
      expect(pen.text).toBe(`M${String(rounded)} 0`);
    }),
    { seed: 20240510, numRuns: 2000 },
  );
});

it('writes a point that does not move only once, and a run’s letter only once [exact]', () => {
  const pen = new Pen(1);
  pen.move(0, 0);
  pen.line(1, 1);
  pen.line(1.01, 1.01);
  pen.line(2, 1);
  pen.close();
  expect(pen.text).toBe('M0 0L1 1 2 1Z');
  expect(pen.down).toBe(false);
});
