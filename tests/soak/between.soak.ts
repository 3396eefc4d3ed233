/** Fields between known heights, over random pickups that can be computed, against the exact ones at the same heights. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { widened } from '../../src/physics/betweenHeights.ts';
import { FieldSolver } from '../../src/physics/field.ts';
import { fieldQuestion } from '../../src/physics/fieldQuestion.ts';
import { BuildError } from '../../src/physics/magnetics/build/checkBuild.ts';
import { acceptedSheet } from '../fixtures/acceptedSheet.ts';
import { climbed, differences } from '../physics/ladder.ts';
import { soakPlan, spread } from './tools/plan.ts';

const { count, seed } = soakPlan('between', 2, 30);

it('level within 0.1 dB and reach within 0.05 mm at random gaps of random pickups [exact]', () => {
  const off = { level: [] as number[], reach: [] as number[] };
  const shares = fc.array(fc.double({ min: 0.02, max: 0.98, noNaN: true }), { minLength: 4, maxLength: 4 });
  fc.assert(
    fc.property(acceptedSheet, shares, (sheet, places) => {
      const question = fieldQuestion(
        sheet,
        sheet.pickups.findIndex(({ build }) => build),
      )!;
      const solver = new FieldSolver();
      let known;
      try {
        known = climbed(solver, question);
      } catch (error) {
        // A magnet that is driven past its curve has no field at any gap.
        if (error instanceof RangeError && !(error instanceof BuildError)) return;
        throw error;
      }
      const gaps = known.map((one) => one.question.build.gapTreble - question.build.gapTreble);
      const [least, most] = [Math.min(...gaps), Math.max(...gaps)];
      for (const share of places) {
        const found = differences(solver, known, widened(question, least + share ** 2 * (most - least)));
        if (!found) continue;
        off.level.push(found.level);
        off.reach.push(found.reach);
        expect(found.level).toBeLessThan(0.1);
        expect(found.reach).toBeLessThan(0.05e-3);
      }
    }),
    { seed, numRuns: count, endOnFailure: true },
  );
  expect(off.level.length).toBeGreaterThan(2 * count);
  console.log(
    `level: ${spread(off.level, 'dB')}; reach: ${spread(
      off.reach.map((m) => 1e3 * m),
      'mm',
    )}`,
  );
});
