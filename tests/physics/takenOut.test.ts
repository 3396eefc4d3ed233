/** What the parts of a sheet's pickup do to the field on its strings, each taken out. */
import { expect, it } from 'vitest';
import { withoutPart } from '../../src/physics/takenOut.ts';
import type { Pickup, Sheet } from '../../src/sheet/sheet.ts';
import { withStartingSteel } from '../../src/sheet/startingBlocks.ts';
import { takenOut } from '../../src/sheet/takenOut.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { fieldsOf } from '../fixtures/solved.ts';

const bare = builtSheet('six rods');
const alone: Sheet = { ...bare, pickups: [{ ...bare.pickups[0]!, slant: 0.15 }] };
const [pickup] = alone.pickups as [Pickup];
const kept: Sheet = {
  ...alone,
  pickups: [{ ...pickup, build: withStartingSteel(pickup, 'keeper plate') }],
};

it('a keeper taken out leaves the field of the pickup that never had one, on a slanted string, 0.3 % [exact]', () => {
  const at = alone.listen.string - 1;
  const [without] = fieldsOf(alone);
  const [withIt] = fieldsOf(kept);
  const named = takenOut(kept.pickups[0]!.build!, [0]);
  expect(named.map(({ name }) => name)).toEqual(['rods', 'steel plate']);
  const figures = withoutPart(kept, { pickup: 0, part: named[1]!.part }, withIt);
  const [row] = figures!.rows;
  const field = (of: typeof withIt): number => of!.strings[at]!.rows[0]!.fluxDensity;
  expect(row!.field / field(withIt)).toBeCloseTo(1, 2.5);
  expect(row!.without / field(without)).toBeCloseTo(1, 2.5);
  expect(row!.share).toBeCloseTo(row!.field / row!.without - 1, 12);
  expect(row!.share).toBeGreaterThan(0.02);
  // Without its only magnets nothing is left.
  expect(withoutPart(kept, { pickup: 0, part: named[0]!.part }, withIt)!.rows[0]!.share).toBeNull();
});

it('parts have a maker’s names, and all of a kind go together', () => {
  const { build } = builtSheet('six rods').pickups[0]!;
  const bars = Array.from({ length: 2 }, (_, i) => ({
    ...{ magnet: { grade: 'ceramic 5' as const, charge: 1 }, direction: 'across the width' as const },
    ...{ turned: i > 0, width: 3e-3, length: 60e-3, thickness: 6e-3, across: 0, top: -4e-3 },
    offset: 14e-3 * (1 - 2 * i),
  }));
  expect(takenOut({ ...build!, bars }, [0]).map(({ name }) => name)).toEqual([
    'rods',
    'bar magnet 1',
    'bar magnet 2',
    'all bar magnets',
  ]);
});
