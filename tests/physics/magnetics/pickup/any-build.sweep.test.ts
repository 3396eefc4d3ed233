import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BuiltPickup, BuiltPole } from '../../../../src/physics/magnetics/build/build.ts';
import type { Tip } from '../../../../src/shape/pole.ts';
import { BuildError, checkBuild } from '../../../../src/physics/magnetics/build/checkBuild.ts';
import { pickupField } from '../../../../src/physics/magnetics/overPickup/pickupField.ts';
import { sixRods, stringSet, twoRows } from '../../../fixtures/pickups.ts';
import { soakPlan } from '../../../soak/tools/plan.ts';

const grade = fc.constantFrom(
  'alnico 2',
  'alnico 3',
  'alnico 4',
  'alnico 5',
  'alnico 8',
  'ceramic 5',
  'neodymium',
);
const mm = (min: number, max: number) => fc.double({ min: 1e-3 * min, max: 1e-3 * max, noNaN: true });

const tip: fc.Arbitrary<Tip> = fc.oneof(
  fc.constant<Tip>({ shape: 'flat' }),
  fc.record({ shape: fc.constant('chamfered' as const), width: mm(0.2, 1.5), depth: mm(0.2, 1.5) }),
  fc.record({ shape: fc.constant('coned' as const), flat: mm(0.5, 2.5), depth: mm(0.3, 2) }),
  fc.record({ shape: fc.constant('domed' as const), depth: mm(0.3, 1.4) }),
);

const pole: fc.Arbitrary<BuiltPole> = fc.oneof(
  fc.record({
    kind: fc.constant('rod' as const),
    grade,
    strength: fc.double({ min: 0.05, max: 1, noNaN: true }),
    facing: fc.constantFrom('north' as const, 'south' as const),
    diameter: mm(3, 6.5),
    length: mm(8, 22),
    tip,
  }),
  fc.record({
    kind: fc.constant('steel' as const),
    steel: fc.constantFrom('low-carbon, as drawn', 'low-carbon, annealed', 'tool steel, hardened'),
    diameter: mm(3, 5),
    length: mm(12, 24),
    head: fc.option(fc.record({ diameter: mm(5.2, 7), height: mm(1.5, 3) })),
    shank: fc.option(fc.record({ diameter: mm(2, 2.9), length: mm(2, 8) })),
    tip,
  }),
);

const build: fc.Arbitrary<BuiltPickup> = fc
  .tuple(
    pole,
    fc.boolean(),
    fc.array(mm(-1, 1), { minLength: 6, maxLength: 6 }),
    grade,
    fc.constantFrom('x' as const, 'z' as const),
    mm(2.2, 5),
  )
  .map(([pole, pair, heights, bar, axis, gap]) => {
    const base = pair ? twoRows() : sixRods('alnico 5');
    const winding = { inner: 4e-3, edge: 9.2e-3, bottom: -8e-3, top: -2.2e-3, turns: 3000 };
    return {
      ...base,
      rows: base.rows.map((row) => ({ ...row, pole, heights, winding: { ...row.winding!, ...winding } })),
      bars: base.bars.map((b) => ({ ...b, grade: bar, axis })),
      gapBass: gap,
      gapTreble: gap,
    };
  });

function numbers(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  if (value instanceof Float64Array) return [...value];
  if (Array.isArray(value)) return value.flatMap(numbers);
  if (value && typeof value === 'object') return Object.values(value).flatMap(numbers);
  return [];
}

const { count, seed } = soakPlan('pickup/any-build', 8, 2000, 5);

describe('any build', () => {
  it('either names its faults or gives finite figures throughout', () => {
    let computed = 0;
    fc.assert(
      fc.property(build, (candidate) => {
        try {
          const field = pickupField(candidate, stringSet());
          computed++;
          expect(checkBuild(candidate)).toEqual([]);
          expect(numbers(field).every(Number.isFinite)).toBe(true);
          for (const coil of field.coils) {
            expect(coil.inductance).toBeGreaterThan(coil.airInductance);
            expect(coil.core.N).toBeGreaterThan(0);
            expect(coil.core.N).toBeLessThan(1);
          }
        } catch (error) {
          if (!(error instanceof BuildError)) throw error;
          expect(error.faults.length).toBeGreaterThan(0);
        }
      }),
      { seed, numRuns: count },
    );
    // The generator must not only make faults.
    expect(computed).toBeGreaterThan(count / 3);
  });

  it('poles may touch a bar, whatever the sums round to', () => {
    const base = twoRows();
    const bar = base.bars[0]!;
    for (const width of [12.5e-3, 12.7e-3, 12.9e-3, 13.1e-3, 0.3e-3 * 43.1, 12.7e-3 + 1e-4]) {
      const offset = 0.5 * width + 0.5 * 4.75e-3;
      const beside = {
        ...base,
        rows: base.rows.map((row, r) => ({ ...row, offset: r === 0 ? offset : -offset })),
      };
      const build = { ...beside, bars: [{ ...bar, size: { ...bar.size, x: width } }] };
      expect(checkBuild(build)).toEqual([]);
    }
    for (const length of [12.1e-3, 12.3e-3, 12.7e-3, 13.1e-3, 13.3e-3]) {
      const rows = base.rows.map((row) => ({
        ...row,
        pole: { ...row.pole, length, shank: null } as BuiltPole,
      }));
      const under = { ...bar, centre: { x: 0, y: 0, z: -length - 0.5 * bar.size.z } };
      expect(checkBuild({ ...base, rows, bars: [under] })).toEqual([]);
    }
  });
});
