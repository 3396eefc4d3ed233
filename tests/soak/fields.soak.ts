/** Random sheets that the check lets through: finite figures, or a refusal before anything is solved. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FieldSolver } from '../../src/physics/field.ts';
import { FieldError } from '../../src/physics/fieldFaults.ts';
import { arbitrarySheet } from '../fixtures/arbitrarySheet.ts';
import { soakPlan, spread } from './tools/plan.ts';

/** Every number in it. */
function* numbers(value: unknown): Iterable<number> {
  if (typeof value === 'number') yield value;
  else if (value instanceof Float64Array) yield* value;
  else if (Array.isArray(value)) for (const item of value) yield* numbers(item);
  else if (value && typeof value === 'object') yield* numbers(Object.values(value));
}

describe('fields of random sheets [exact]', () => {
  const { count, seed } = soakPlan('fields', 40, 5000);

  it('are finite, or refused in words', () => {
    const seconds: number[] = [];
    fc.assert(
      fc.property(arbitrarySheet, (sheet) => {
        const { user, system } = process.cpuUsage();
        try {
          const fields = new FieldSolver().fields(sheet);
          expect([...numbers(fields)].every(Number.isFinite)).toBe(true);
        } catch (error) {
          if (!(error instanceof FieldError)) throw error;
          expect(error.message).not.toBe('');
        }
        const used = process.cpuUsage();
        seconds.push((used.user + used.system - user - system) / 1e6);
      }),
      { seed, numRuns: count },
    );
    console.log(`processor time a sheet: ${spread(seconds, 's')}`);
  });
});
