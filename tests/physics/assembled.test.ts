/** What is assembled for a sheet: nothing before a refusal, and never more than the unknowns that its builds are cut for. */
import { expect, it, vi } from 'vitest';
import { FieldSolver } from '../../src/physics/field.ts';
import { FieldError } from '../../src/physics/fieldFaults.ts';
import type * as Assemble from '../../src/physics/magnetics/charges/assemble.ts';
import { assemble } from '../../src/physics/magnetics/charges/assemble.ts';
import { AS_THE_ROW, withOwn } from '../../src/sheet/singlePoles.ts';
import type { Cover, PickupBuild, Sheet } from '../../src/sheet/sheet.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

// Counted, not replaced: nothing is solved without it.
vi.mock('../../src/physics/magnetics/charges/assemble.ts', async (original) => {
  const real = await original<typeof Assemble>();
  return { ...real, assemble: vi.fn(real.assemble) };
});

const RODS = builtSheet('six rods');

const withBuild = (sheet: Sheet, change: Partial<PickupBuild>): Sheet => ({
  ...sheet,
  pickups: sheet.pickups.map((p) => (p.build ? { ...p, build: { ...p.build, ...change } } : p)),
});

const cover: Cover = { metal: 'brass', thickness: 0.0004, clearance: 0.0025, holes: 'every row' };

it('[exact] a cover that comes to a string is refused before anything is solved', () => {
  vi.mocked(assemble).mockClear();
  const low = withBuild(RODS, { cover, gapBass: 0.003, gapTreble: 0.003 });
  expect(() => new FieldSolver().fields(low)).toThrow('The cover must stay 0.2 mm below string');
  expect(assemble).not.toHaveBeenCalled();
});

it('[exact] a sheet with one pickup that can’t be computed is refused before the others are solved', () => {
  vi.mocked(assemble).mockClear();
  const [good] = RODS.pickups;
  const [bad] = withBuild(RODS, { gapBass: 0.0005, cover }).pickups;
  expect(() => new FieldSolver().fields({ ...RODS, pickups: [good!, bad!] })).toThrow(FieldError);
  expect(assemble).not.toHaveBeenCalled();
});

it('[exact] a bevel or dome too small to be filed is a flat end', () => {
  const tipped = (shape: 'chamfered' | 'domed' | 'coned', size: number): Sheet => {
    const rows = RODS.pickups[0]!.build!.rows.map((row) => ({
      ...row,
      pole: { ...row.pole, tip: { shape, size } },
    }));
    return withBuild(RODS, { rows });
  };
  const flat = new FieldSolver().fields(tipped('domed', 0));
  for (const shape of ['chamfered', 'domed', 'coned'] as const) {
    expect(new FieldSolver().fields(tipped(shape, 1e-195))).toEqual(flat);
  }
});

/** Unknowns of the largest matrix that a sheet's fields take. */
function largest(sheet: Sheet): number {
  vi.mocked(assemble).mockClear();
  new FieldSolver().fields(sheet);
  return Math.max(
    ...vi
      .mocked(assemble)
      .mock.results.map(({ value }) => (value as Assemble.Coupling).representatives.count),
  );
}

it('[exact] a bar magnetised along itself, and rods that alternate, take no more unknowns than others', () => {
  const over = builtSheet('steel poles over a ceramic bar');
  const bars = over.pickups[0]!.build!.bars.map((bar) => ({
    ...bar,
    direction: 'along the length' as const,
  }));
  expect(largest(withBuild(over, { bars }))).toBe(largest(over));
  const rows = RODS.pickups[0]!.build!.rows.map((row) => {
    const up = row.up === 'north' ? 'south' : 'north';
    return {
      ...row,
      pole: withOwn(
        row.pole,
        row.pole.heights.map((_, k) => (k % 2 === 0 ? null : { ...AS_THE_ROW, up })),
      ),
    };
  });
  expect(largest(withBuild(RODS, { rows }))).toBe(largest(RODS));
});
