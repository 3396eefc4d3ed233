import { expect, it } from 'vitest';
import { buildBodies } from '../../../../src/physics/magnetics/pickup/buildBodies.ts';
import type { BuiltPickup } from '../../../../src/physics/magnetics/build/build.ts';
import { fieldOnStrings } from '../../../../src/physics/magnetics/overPickup/pickupField.ts';
import { offsetsOf } from '../../../../src/physics/magnetics/bodies/body.ts';
import { solvePickup } from '../../../../src/physics/magnetics/pickup/solvePickup.ts';
import { stringSet, twoRows } from '../../../fixtures/pickups.ts';

const build = twoRows();
const unlike: BuiltPickup = {
  ...build,
  rows: build.rows.map((row) => ({ ...row, heights: [0, 3e-4, 5e-4, 2e-4, 1e-4, -2e-4] })),
};

const unknowns = (of: BuiltPickup): number => {
  const { bodies } = buildBodies(of);
  return offsetsOf(bodies)[bodies.length]!;
};

it('poles of unlike heights in two rows are cut into fewer rings than those that are mirrored', () => {
  expect(unknowns(unlike)).toBeLessThan(0.8 * unknowns(build));
});

it('and the strings over them see what a finer mesh has, within 1.5 % of the peak [mesh: fineness 1.6]', () => {
  const strings = stringSet();
  const fluxes = (fineness: number): readonly number[] =>
    fieldOnStrings(solvePickup(unlike, fineness), strings).strings.flatMap(({ rows }) =>
      rows.map(({ fluxDensity }) => fluxDensity),
    );
  const finer = fluxes(1.6);
  const peak = Math.max(...finer);
  for (const [i, value] of fluxes(1).entries())
    expect(Math.abs(value - finer[i]!)).toBeLessThan(0.015 * peak);
});
