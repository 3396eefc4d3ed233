/**
 * A blade of 1 mm that stands on a strong bar, by finite elements (tests/reference/redirecting). What it carries would saturate it,
 * which is not computed of boxes: as linear steel it is within 2 % of the peak, and the maker is told.
 */
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import type { BuiltPickup } from '../../../../src/physics/magnetics/build/build.ts';
import { fieldOnStrings } from '../../../../src/physics/magnetics/overPickup/pickupField.ts';
import { solvePickup } from '../../../../src/physics/magnetics/pickup/solvePickup.ts';
import { fluxDensityAt } from '../../../fixtures/fluxDensity.ts';
import { sixRods, stringSet } from '../../../fixtures/pickups.ts';

type Edges = Record<'x_mm' | 'y_mm' | 'z_mm', readonly [number, number]>;

const { blade, bar, points_mm, linear_mu200 } = JSON.parse(
  readFileSync(new URL('../../../reference/redirecting/saturating-blade.json', import.meta.url), 'utf8'),
) as {
  readonly blade: Edges;
  readonly bar: Edges;
  readonly points_mm: readonly (readonly [number, number, number])[];
  readonly linear_mu200: { readonly Bz_T: readonly number[] };
};

const boxOf = ({ x_mm, y_mm, z_mm }: Edges) => {
  const edge = ([from, to]: readonly [number, number]): number => 1e-3 * (to - from);
  const middle = ([from, to]: readonly [number, number]): number => 0.5e-3 * (from + to);
  return {
    size: { x: edge(x_mm), y: edge(y_mm), z: edge(z_mm) },
    centre: { x: middle(x_mm), y: middle(y_mm), z: middle(z_mm) },
  };
};

const build: BuiltPickup = {
  ...sixRods('alnico 5'),
  rows: [{ ...sixRods('alnico 5').rows[0]!, heights: [], winding: null }],
  bars: [{ ...boxOf(bar), grade: 'neodymium', strength: 1, axis: 'z', sign: 1 }],
  steel: [{ ...boxOf(blade), grade: 'low-carbon, as drawn' }],
};

it('[tool] is within 2 % of the peak of linear steel 2–4 mm up; that it would saturate is said', () => {
  const pickup = solvePickup(build);
  const B = { x: 0, y: 0, z: 0 };
  const peak = Math.max(...linear_mu200.Bz_T);
  points_mm.forEach(([x, y, z], i) => {
    fluxDensityAt(pickup, 1e-3 * x, 1e-3 * y, 1e-3 * z, B);
    expect(Math.abs(B.z - linear_mu200.Bz_T[i]!) / peak, `${x} ${y} ${z}`).toBeLessThan(0.02);
  });
  const { warnings } = fieldOnStrings(pickup, stringSet());
  expect(warnings).toHaveLength(1);
  expect(warnings[0]).toMatch(/^The steel wall would carry 2\.3 T, and its steel saturates at 2\.1 T/);
});
