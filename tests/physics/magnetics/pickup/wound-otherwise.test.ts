/** A coil that is wound otherwise on the same poles and magnets: what stays is taken over, and what comes is what would have come without. */
import { describe, expect, it } from 'vitest';
import { solvePickup, type SolvedPickup } from '../../../../src/physics/magnetics/pickup/solvePickup.ts';
import { fieldOnStrings } from '../../../../src/physics/magnetics/overPickup/pickupField.ts';
import type { BuiltPickup } from '../../../../src/physics/magnetics/build/build.ts';
import { sixRods, stringSet, twoRows } from '../../../fixtures/pickups.ts';

const wound = (build: BuiltPickup, share: number): BuiltPickup => ({
  ...build,
  rows: build.rows.map((row, r) => ({
    ...row,
    // Row by row otherwise, so that two coils have no symmetry left.
    winding: row.winding && { ...row.winding, turns: Math.round(row.winding.turns * (share - 0.05 * r)) },
  })),
});

/** Takes the place of everything that is kept. */
function otherwise(): void {
  for (const length of [0.0141, 0.0142, 0.0143, 0.0144]) {
    const build = sixRods('alnico 5');
    const rows = build.rows.map((row) => ({ ...row, heights: [0], pole: { ...row.pole, length } }));
    solvePickup({ ...build, rows });
  }
}

const string = stringSet()[4]!;

const told = (pickup: SolvedPickup): unknown => {
  const { coils, mutual, magnets } = pickup;
  return { coils, mutual, magnets, heard: fieldOnStrings(pickup, [string]) };
};

/** At another gap, slanted, under other strings: whatever of that is kept. */
function play(pickup: SolvedPickup): void {
  const { build } = pickup;
  fieldOnStrings(pickup, [string], 0, { ...build, gapBass: build.gapBass + 5e-4 });
  fieldOnStrings(pickup, [string], 0.1);
  for (const other of [
    { ...string, coreDiameter: 0.9 * string.coreDiameter },
    { ...string, wrap: null },
    { ...string, y: 0 },
  ])
    fieldOnStrings(pickup, [other]);
}

describe('turns, with the bodies that are there', () => {
  const uneven = twoRows();
  it.each([
    ['six rods', sixRods('alnico 5')],
    ['two rows', twoRows()],
    [
      'two rows of unlike heights',
      {
        ...uneven,
        rows: uneven.rows.map((row, r) => ({ ...row, heights: row.heights.map((_, k) => 1e-4 * k * r) })),
      },
    ],
    [
      'six rods on a plate',
      {
        ...sixRods('alnico 5'),
        steel: [
          {
            grade: 'low-carbon, as drawn' as const,
            size: { x: 0.012, y: 0.062, z: 1e-3 },
            centre: { x: 0, y: 0, z: -17.5e-3 },
          },
        ],
      },
    ],
  ])('give to the bit what they give by themselves: %s [exact]', (_, build) => {
    otherwise();
    const alone = told(solvePickup(wound(build, 0.8)));
    otherwise();
    const before = solvePickup(build);
    play(before);
    play(solvePickup(wound(build, 0.9)));
    const after = solvePickup(wound(build, 0.8));
    expect(told(after)).toEqual(alone);
    expect(after.coupling).toBe(before.coupling);
    expect(after.coils[0]!.figures.inductance).toBeLessThan(0.7 * before.coils[0]!.figures.inductance);
  });
});
