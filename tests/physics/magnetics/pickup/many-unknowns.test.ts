import { expect, it } from 'vitest';
import { buildBodies, unknownsOf } from '../../../../src/physics/magnetics/pickup/buildBodies.ts';
import type { BuiltPickup, BuiltPole } from '../../../../src/physics/magnetics/build/build.ts';
import { fieldOnStrings } from '../../../../src/physics/magnetics/overPickup/pickupField.ts';
import { offsetsOf } from '../../../../src/physics/magnetics/bodies/body.ts';
import { solvePickup } from '../../../../src/physics/magnetics/pickup/solvePickup.ts';
import { placedPlates } from '../../../../src/physics/magnetics/build/placedPlates.ts';
import { plateMesh } from '../../../../src/physics/magnetics/plates/plateMesh.ts';
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

/** Everything at once that makes a mesh large: eight long thin poles a row, domed heads, a thin bar that touches them, sheet metal. */
const fullest: BuiltPickup = {
  ...build,
  rows: build.rows.map((row, r) => ({
    ...row,
    offset: 1.75e-3 - 3.5e-3 * r,
    pole: {
      kind: 'steel',
      steel: 'low-carbon, as drawn',
      diameter: 1e-3,
      length: 40e-3,
      head: { diameter: 2e-3, height: 2e-3 },
      shank: null,
      tip: { shape: 'domed', depth: 0.5e-3 },
    },
    heights: [0, 3e-4, 5e-4, 2e-4, 1e-4, -2e-4, 4e-4, -1e-4],
    winding: { ...row.winding!, straight: 110e-3, edge: 30e-3 },
  })),
  bars: build.bars.map((bar) => ({
    ...bar,
    size: { x: 2.5e-3, y: 120e-3, z: 0.5e-3 },
    centre: { x: 0, y: 0, z: -9e-3 },
  })),
  cover: { resistivity: 2.87e-7, thickness: 5e-4, clearance: -1e-3, holed: [true, true] },
  basePlate: { resistivity: 2.87e-7, thickness: 1e-3 },
};

it('no build has more than 1100 unknowns, nor its cover and base plate more than 640 panels', () => {
  expect(unknownsOf(buildBodies(fullest))).toBeLessThanOrEqual(1100);
  expect(plateMesh(placedPlates(fullest)).panelCount).toBeLessThanOrEqual(640);
});

it('nor one that is its own mirror image but for its magnets, of which no half follows from the other', () => {
  const rods = (strength: number): BuiltPole => ({
    kind: 'rod',
    grade: 'alnico 5',
    diameter: 1e-3,
    length: 40e-3,
    tip: { shape: 'domed', depth: 0.5e-3 },
    facing: 'north',
    strength,
  });
  const level = {
    ...fullest,
    rows: fullest.rows.map((row) => ({ ...row, heights: row.heights.map(() => 0) })),
  };
  const alike = { ...level, rows: level.rows.map((row) => ({ ...row, pole: rods(1) })) };
  const unlike = {
    ...alike,
    rows: alike.rows.map((row) => ({ ...row, own: row.heights.map((_, k) => (k === 0 ? rods(0.9) : null)) })),
  };
  const [whole, half] = [unlike, alike].map((of) => unknownsOf(buildBodies(of)));
  expect(half).toBeLessThanOrEqual(1100);
  expect(whole).toBeLessThanOrEqual(1100);
  expect(unknowns(unlike)).toBeLessThan(0.7 * unknowns(alike));
});
