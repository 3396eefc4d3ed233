/** Linear least squares by figures of which none may be below 0. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { nonNegativeLeast } from '../../../src/physics/numerics/nonNegative.ts';

const problem = fc.integer({ min: 1, max: 6 }).chain((n) =>
  fc.record({
    columns: fc.array(
      fc
        .array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 9, maxLength: 9 })
        .filter((column) => Math.hypot(...column) > 0.1)
        .map((column) => Float64Array.from(column)),
      { minLength: n, maxLength: n },
    ),
    b: fc
      .array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 9, maxLength: 9 })
      .map((values) => Float64Array.from(values)),
  }),
);

/** The conditions of Kuhn and Tucker, which only the least fulfils. */
it('[exact] what is above 0 has no slope, and what is 0 would only rise, to 1e-7', () => {
  const property = fc.property(problem, ({ columns, b }) => {
    const x = nonNegativeLeast(columns, b);
    const left = b.map((value, i) => value - columns.reduce((sum, column, j) => sum + column[i]! * x[j]!, 0));
    columns.forEach((column, j) => {
      const slope = column.reduce((sum, value, i) => sum + value * left[i]!, 0) / Math.hypot(...column);
      expect(x[j]).toBeGreaterThanOrEqual(0);
      expect(slope).toBeLessThan(1e-7);
      if (x[j]! > 0) expect(Math.abs(slope)).toBeLessThan(1e-7);
    });
  });
  fc.assert(property, { seed: 41, numRuns: 300 });
});
