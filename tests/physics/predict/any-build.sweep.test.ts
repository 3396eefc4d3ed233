/** Starting builds, changed at random within the sheet's limits: they are refused by name, or everything is finite. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { FieldSolver } from '../../../src/physics/field.ts';
import { FieldError } from '../../../src/physics/fieldFaults.ts';
import { predict } from '../../../src/physics/predict.ts';
import { render } from '../../../src/physics/rendered.ts';
import { liveSetup } from '../../../src/physics/soundingLive.ts';
import { STARTING_BUILDS } from '../../../src/sheet/builds.ts';
import { checkSheet } from '../../../src/sheet/check.ts';
import { MAGNET_GRADES } from '../../../src/shape/materials.ts';
import type { PickupBuild, Pole, Sheet } from '../../../src/sheet/sheet.ts';
import { builtSheet } from '../../fixtures/builtSheet.ts';
import { soakPlan } from '../../soak/tools/plan.ts';

const range = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const sheets: fc.Arbitrary<Sheet> = fc
  .record({
    start: fc.constantFrom(...STARTING_BUILDS.map(({ name }) => name)),
    grade: fc.constantFrom(...MAGNET_GRADES),
    charge: range(0.05, 1),
    diameter: range(0.0025, 0.006),
    tip: fc.record({
      shape: fc.constantFrom<Pole['tip']['shape']>('flat', 'chamfered', 'coned', 'domed'),
      size: range(0, 0.0012),
    }),
    heights: fc.array(range(-0.001, 0.0012), { minLength: 6, maxLength: 6 }),
    gap: range(0.0015, 0.012),
    turns: range(0.1, 1),
    turned: fc.boolean(),
    slant: range(-0.3, 0.3),
    place: range(0.02, 0.3),
    phase: fc.constantFrom('in' as const, 'out' as const),
    string: fc.integer({ min: 1, max: 6 }),
    depth: range(0.0001, 0.005),
    angle: range(-1.5, 1.5),
  })
  .map(
    ({
      start,
      grade,
      charge,
      diameter,
      tip,
      heights,
      gap,
      turns,
      turned,
      slant,
      place,
      phase,
      ...listen
    }) => {
      const sheet = builtSheet(start);
      const [first] = sheet.pickups;
      const { bars, rows, ...rest } = first!.build!;
      const magnet = { grade, charge };
      const build: PickupBuild = {
        ...rest,
        gapBass: gap,
        gapTreble: gap,
        bars: bars.map((bar) => ({ ...bar, magnet, turned })),
        rows: rows.map((row) => ({
          ...row,
          turns: Math.round(turns * row.turns),
          pole: {
            ...row.pole,
            magnet,
            tip,
            heights,
            diameter: Math.min(diameter, row.pole.diameter + 0.0003),
          },
        })),
      };
      const { string, depth, angle } = listen;
      return {
        ...sheet,
        pickups: [{ ...first!, build, slant, place, phase }],
        listen: {
          ...sheet.listen,
          string,
          play: 'string' as const,
          seconds: 0.5,
          pluck: { ...sheet.listen.pluck, depth, angle },
        },
      };
    },
  );

function numbers(value: unknown): number[] {
  if (typeof value === 'number') return [value];
  if (value instanceof Float64Array) return [...value];
  return value && typeof value === 'object' ? Object.values(value).flatMap(numbers) : [];
}

const { count, seed } = soakPlan('predict/any-build', 8, 2000, 31);

it('[seeded] any build gives finite figures, a finite sound below full scale, or is refused by name', () => {
  let computed = 0;
  const property = fc.property(sheets, (sheet) => {
    expect(checkSheet(sheet)).toMatchObject({ ok: true });
    const solver = new FieldSolver();
    let fields;
    try {
      fields = solver.fields(sheet);
    } catch (error) {
      if (!(error instanceof FieldError)) throw error;
      expect(error.sheetFaults.length).toBeGreaterThan(0);
      return;
    }
    computed++;
    const prediction = predict(sheet, fields);
    expect(numbers(prediction).every(Number.isFinite)).toBe(true);
    expect(numbers(liveSetup(sheet, 48000, 1, fields)).every(Number.isFinite)).toBe(true);
    const { samples } = render(sheet, fields);
    expect(samples.every((value) => Math.abs(value) <= 1)).toBe(true);
    for (const { level, widths, field } of prediction.pickups[0]!.strings) {
      expect(level).toBeGreaterThanOrEqual(0);
      for (const width of widths) expect(width).toBeGreaterThan(1e-3);
      expect(field!.saturation).toBeLessThan(1);
    }
  });
  fc.assert(property, { seed, numRuns: count });
  expect(computed).toBeGreaterThan(count / 2);
});
