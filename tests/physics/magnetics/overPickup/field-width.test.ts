/**
 * How wide the field is over a pole, against closed forms and finite elements.
 *
 *   point dipole, upright            Bz ∝ (2z² − x²)/(x² + z²)^(5/2): its half falls at a root of a quintic   0.02 mm
 *   lone alnico rods                 tests/reference/finite-element/alnico-rod.json, half width 1 mm up       1.5 %, as their field
 *   six rods, Bz along the strings   tests/reference/finite-element/six-rods.json, 2 to 4 mm up               1 %
 *   two rows beside a bar            tests/reference/finite-element/two-rows-and-bar.json, 2 to 4 mm up       2 %
 */
import { describe, expect, it } from 'vitest';
import { boxMesh } from '../../../../src/physics/magnetics/bodies/boxMesh.ts';
import { solvePickup } from '../../../../src/physics/magnetics/pickup/solvePickup.ts';
import { solveCharged } from '../../../../src/physics/magnetics/pickup/chargedPickup.ts';
import {
  halfMaximumWidth,
  stretchOf,
  tipWidths,
} from '../../../../src/physics/magnetics/overPickup/fieldWidth.ts';
import { fieldOnStrings } from '../../../../src/physics/magnetics/overPickup/pickupField.ts';
import { stringSamples } from '../../../../src/physics/magnetics/overPickup/stringLine.ts';
import { sixRods, twoRows } from '../../../fixtures/pickups.ts';
import { fluxDensity, meshOf, pole, read, rod, solved } from '../reference.ts';
import type { Solved, SpatialLine } from '../reference.ts';

const ROW = [-26, -15.6, -5.2, 5.2, 15.6, 26].map((y) => 1e-3 * y);

/** As tests/reference/finite-element/six-rods.json has them. */
function sixRodField(): Solved {
  return solved(
    ROW.map((y) => pole(rod(), 0, y)),
    ROW.map(() => ({ mu: 4, Br: 1 })),
  );
}

/** As tests/reference/finite-element/two-rows-and-bar.json has them. */
function twoRowField(): Solved {
  const stack = (...steps: readonly (readonly [number, number])[]) =>
    meshOf([[0, steps[0]![1]], ...steps, [0, 0]]);
  const slug = stack([2.375, -12], [2.375, 0]);
  const screw = stack([1.7, -22], [1.7, -12], [2.375, -12], [2.375, 0]);
  const bar = boxMesh({ x: 12.7e-3, y: 60e-3, z: 3.2e-3 });
  return solved(
    [
      ...ROW.map((y) => pole(slug, -9.5e-3, y)),
      ...ROW.map((y) => pole(screw, 9.5e-3, y)),
      { kind: 'box', mesh: bar, x: 0, y: 0, z: -10.4e-3 },
    ],
    [...Array.from({ length: 12 }, () => ({ mu: 200, Br: 0 })), { mu: 4, Br: 0.95, axis: 'x' }],
  );
}

const samples = stringSamples();
/** m; see the table above. */
const CLOSED = 2e-5;
const MESHED = 0.01;
const ALNICO = 0.015;

describe('the width at half of a maximum [exact]', () => {
  it.each([2e-3, 3e-3, 4e-3, 6e-3])('of a point dipole %s m below', (z) => {
    const at = (x: number): number => (2 * z * z - x * x) / Math.hypot(x, z) ** 5;
    // Where (2 − u²) (1 + u²)^(−5/2) is 1, half of its 2 at u = 0.
    let [low, high] = [0, 1];
    for (let i = 0; i < 60; i++) {
      const u = 0.5 * (low + high);
      if ((2 - u * u) * (1 + u * u) ** -2.5 > 1) low = u;
      else high = u;
    }
    expect(Math.abs(halfMaximumWidth(samples, samples.map(at)) - 2 * low * z)).toBeLessThan(CLOSED);
  });

  it('whatever the sense and the size, and from hump to hump across a dip', () => {
    const bell = (middle: number): Float64Array =>
      samples.map((x) => Math.exp(-(((x - middle) / 3e-3) ** 2)));
    const width = 2 * 3e-3 * Math.sqrt(Math.LN2);
    expect(Math.abs(halfMaximumWidth(samples, bell(0)) - width)).toBeLessThan(CLOSED);
    expect(
      halfMaximumWidth(
        samples,
        bell(0).map((b) => -7 * b),
      ),
    ).toBeCloseTo(halfMaximumWidth(samples, bell(0)), 12);
    const two = bell(-6e-3).map((b, i) => b + bell(6e-3)[i]!);
    expect(Math.abs(halfMaximumWidth(samples, two) - width - 12e-3)).toBeLessThan(CLOSED);
    expect(halfMaximumWidth(samples, new Float64Array(samples.length))).toBe(0);
  });

  it('each row has its own stretch, and a neighbour of the other sense no part in it', () => {
    const [near, far] = [9.5e-3, -9.5e-3];
    expect(stretchOf([near, far], 0)).toEqual([0, Infinity]);
    expect(stretchOf([near, far], 1)).toEqual([-Infinity, 0]);
    expect(stretchOf([near], 0)).toEqual([-Infinity, Infinity]);
    const both = samples.map(
      (x) => Math.exp(-(((x - near) / 3e-3) ** 2)) - 1.3 * Math.exp(-(((x - far) / 2e-3) ** 2)),
    );
    const widths = [0, 1].map((r) => halfMaximumWidth(samples, both, ...stretchOf([near, far], r)));
    [3e-3, 2e-3].forEach((s, r) =>
      expect(Math.abs(widths[r]! - 2 * s * Math.sqrt(Math.LN2))).toBeLessThan(CLOSED),
    );
  });
});

describe('over a tip', () => {
  const lone = (grade: 'alnico 5' | 'alnico 2') => {
    const build = sixRods(grade);
    return solveCharged({ ...build, rows: [{ ...build.rows[0]!, heights: [0] }] });
  };

  it.each([
    ['alnico 5', 'A7_alnico5'],
    ['alnico 2', 'A7_alnico2'],
  ] as const)('%s: what finite elements have 1 mm up, to 1.5 % [tool]', (grade, name) => {
    const { half_width_mm_at_z_1_2_3_4: half } =
      read<Record<string, { half_width_mm_at_z_1_2_3_4: readonly number[] }>>('alnico-rod')[name]!;
    const width = tipWidths(lone(grade), 0, 0)[0]!;
    expect(Math.abs(width / (2e-3 * half[0]!) - 1)).toBeLessThan(ALNICO);
  });

  it('a mirrored pickup has mirrored widths, a staggered one its own [exact]', () => {
    const build = sixRods('alnico 5');
    const over = (of: typeof build): number[] => {
      const pickup = solveCharged(of);
      return [26, 15.6, 5.2, -5.2, -15.6, -26].map((y) => tipWidths(pickup, 1e-3 * y, 0)[0]!);
    };
    const level = over(build);
    expect(level.slice(3)).toEqual(level.slice(0, 3).toReversed());
    const heights = [1e-3, 0, 0, 0, 0, 0];
    const staggered = over({ ...build, rows: [{ ...build.rows[0]!, heights }] });
    // By symmetry of the row turned round.
    const turned = over({ ...build, rows: [{ ...build.rows[0]!, heights: heights.toReversed() }] });
    staggered.forEach((width, k) => expect(Math.abs(width / turned[5 - k]! - 1)).toBeLessThan(1e-6));
    expect(Math.abs(staggered[1]! / staggered[4]! - 1)).toBeGreaterThan(1e-4);
  });

  it('a slant turns the line about the pole, which is round [exact]', () => {
    const pickup = lone('alnico 5');
    expect(Math.abs(tipWidths(pickup, 0, 0.2)[0]! / tipWidths(pickup, 0, 0)[0]! - 1)).toBeLessThan(1e-3);
  });
});

describe('along the string', () => {
  const string = { coreDiameter: 0.4e-3, outerDiameter: 0.4e-3, wrap: null, length: 0.648, tension: 70 };
  const over = (y: number) => [{ ...string, y, frequency: 110, place: 0.16 }];

  it.each([
    ['six-rods', sixRodField, [0], MESHED],
    ['two-rows-and-bar', twoRowField, [9.5e-3, -9.5e-3], 2 * MESHED],
  ] as const)('%s: Bz as finite elements have it [tool]', (name, fieldOf, rows, limit) => {
    const field = fieldOf();
    const { lines } = read<{ lines: Record<string, SpatialLine> }>(name);
    for (const [label, { points_mm, Bz_T }] of Object.entries(lines)) {
      if (!label.startsWith('x_line')) continue;
      const x = Float64Array.from(points_mm, ([at]) => 1e-3 * at);
      const ours = Float64Array.from(points_mm, ([px, py, pz]) => fluxDensity(field, px, py, pz)[2]);
      rows.forEach((_, r) => {
        const [width, theirs] = [ours, Float64Array.from(Bz_T)].map((Bz) =>
          halfMaximumWidth(x, Bz, ...stretchOf(rows, r)),
        );
        expect(theirs).toBeGreaterThan(5e-3);
        expect(Math.abs(width! / theirs! - 1)).toBeLessThan(limit);
      });
    }
  });

  it('the answer has it, wider the higher, and over the tip the same at every gap [exact]', () => {
    for (const build of [sixRods('alnico 5'), twoRows()]) {
      const pickup = solvePickup(build);
      const [low, high] = [0, 1e-3].map((up) => {
        const raised = { ...build, gapBass: build.gapBass + up, gapTreble: build.gapTreble + up };
        return fieldOnStrings(pickup, over(5.2e-3), 0, raised).strings[0]!.rows;
      });
      low!.forEach((row, r) => {
        expect(high![r]!.fieldWidth).toBeGreaterThan(row.fieldWidth + 2e-4);
        expect(high![r]!.tipWidth).toBe(row.tipWidth);
        expect(row.tipWidth).toBeLessThan(row.fieldWidth);
      });
    }
  });
});
