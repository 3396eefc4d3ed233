/**
 * A box of steel in zones of their own permeability:
 *
 *   zones of one permeability                       no charge between them, the field of the box without any within 2e-3 [exact]
 *   zones of unlike ones                            two boxes that stand on each other, 1 % of the peak [exact]
 *   what enters leaves                              no charge in all, 1e-6 of what is there [exact]
 *   with the mirror symmetries and without          1e-5 of the peak [exact]
 *   two magnets together                            superposition, 1e-6 of the peak [exact]
 */
import { describe, expect, it } from 'vitest';
import { assemble } from '../../../../src/physics/magnetics/charges/assemble.ts';
import type { Coupling } from '../../../../src/physics/magnetics/charges/assemble.ts';
import { chargeField } from '../../../../src/physics/magnetics/charges/chargeField.ts';
import { solveManyCharges } from '../../../../src/physics/magnetics/charges/chargeSolver.ts';
import { remanenceLoad } from '../../../../src/physics/magnetics/charges/load.ts';
import type { BoxBody } from '../../../../src/physics/magnetics/bodies/body.ts';
import { boxBodies } from '../../../../src/physics/magnetics/pickup/boxBodies.ts';

const box = (centre: readonly [number, number, number], size: readonly [number, number, number]) => ({
  centre: { x: centre[0], y: centre[1], z: centre[2] },
  size: { x: size[0], y: size[1], z: size[2] },
});

const bar = { ...box([0, 0, -16.5e-3], [8e-3, 50e-3, 5e-3]), stiff: true };
const other = { ...box([9e-3, 0, -10e-3], [4e-3, 50e-3, 6e-3]), stiff: true };
const blade = { ...box([0, 0, -7e-3], [2e-3, 50e-3, 14e-3]), joins: true };

/** Bar, another beside, and a blade; in zones or not. */
const bodiesOf = (zoned: boolean): readonly BoxBody[] => boxBodies([bar, other, { ...blade, zoned }], []);

const up = { x: 0, y: 0, z: 1 };
const none = { x: 0, y: 0, z: 0 };

const places = [-6e-3, 0, 3e-3].flatMap((x) => [0, 20e-3].map((y) => [x, y, 2e-3] as const));

const fieldOf = (coupling: Coupling, density: Float64Array): readonly number[] =>
  places.map(([x, y, z]) => {
    const H = { x: 0, y: 0, z: 0 };
    chargeField(coupling, density, x, y, z, H);
    return H.z;
  });

function expectWithin(found: readonly number[], wanted: readonly number[], share: number): void {
  const peak = Math.max(...wanted.map(Math.abs));
  found.forEach((h, i) => {
    expect(Math.abs(h - wanted[i]!)).toBeLessThan(share * peak);
  });
}

const solve = (
  coupling: Coupling,
  zones: readonly number[] | undefined,
  magnetisation = [up, none, none],
): Float64Array =>
  solveManyCharges(coupling, [
    {
      mu: [1.05, 1.05, 200],
      zones: [undefined, undefined, zones],
      load: remanenceLoad(coupling, magnetisation),
    },
  ])[0]!;

const zoned = bodiesOf(true);
const { count, sheets, ends } = zoned[2]!.mesh.zones!;
const unlike = Array.from({ length: count }, (_, k) => (k === 0 ? 25 : k === 1 ? 60 : 200));
const coupling = assemble(zoned);

describe('a blade in zones [exact]', () => {
  it('of one permeability has no charge between them, and the field of a blade without any', () => {
    const density = solve(coupling, undefined);
    const inside = density.subarray(coupling.offsets[2]! + sheets, coupling.offsets[3]);
    expect(Math.max(...inside.map(Math.abs))).toBeLessThan(1e-9);
    const plain = assemble(bodiesOf(false));
    expectWithin(fieldOf(coupling, density), fieldOf(plain, solve(plain, undefined)), 2e-3);
  });

  it('of unlike ones does what boxes do that stand on each other', () => {
    const half = 0.5 * blade.size.z;
    const [low, middle] = [ends[1]! + blade.centre.z, ends[2]! + blade.centre.z];
    const [bottom, top] = [blade.centre.z - half, blade.centre.z + half];
    const piece = (from: number, to: number) => ({
      ...blade,
      size: { ...blade.size, z: to - from },
      centre: { ...blade.centre, z: 0.5 * (from + to) },
    });
    const stacked = assemble(
      boxBodies([bar, other, piece(bottom, low), piece(low, middle), piece(middle, top)], []),
    );
    const density = solveManyCharges(stacked, [
      { mu: [1.05, 1.05, 25, 60, 200], load: remanenceLoad(stacked, [up, none, none, none, none]) },
    ])[0]!;
    expectWithin(fieldOf(coupling, solve(coupling, unlike)), fieldOf(stacked, density), 0.01);
  });

  it('has as much charge of either sign', () => {
    const density = solve(coupling, unlike);
    const { mesh } = zoned[2]!;
    let sum = 0;
    let size = 0;
    mesh.area.forEach((area, j) => {
      const q = area * density[coupling.offsets[2]! + j]!;
      sum += q;
      size += Math.abs(q);
    });
    expect(Math.abs(sum)).toBeLessThan(1e-6 * size);
  });

  it('is the same without the use of symmetry, and magnets add up', () => {
    const whole = assemble(zoned, 0);
    const both = [up, { x: 1, y: 0, z: 0 }, none];
    const alone = [none, { x: 1, y: 0, z: 0 }, none];
    const first = fieldOf(coupling, solve(coupling, unlike));
    expectWithin(fieldOf(whole, solve(whole, unlike)), first, 1e-5);
    const second = fieldOf(coupling, solve(coupling, unlike, alone));
    expectWithin(
      fieldOf(coupling, solve(coupling, unlike, both)),
      first.map((h, i) => h + second[i]!),
      1e-6,
    );
  });
});
