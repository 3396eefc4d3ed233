/**
 * The quick way along a string (points of charge) against the exact way (rings and rectangles).
 *
 *   field                      1e-3 of the largest on the line
 *   first derivatives          differences of the exact field, 2e-3 of the largest
 *   second derivatives         differences of the first, 1e-4
 *   two coils                  flux of one through the other, both ways: 1e-6 in air, 1 % with cores
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { mutualInductance } from '../../../../src/physics/magnetics/coil/airInductance.ts';
import { chargeCloud } from '../../../../src/physics/magnetics/charges/chargeCloud.ts';
import type { Line } from '../../../../src/physics/magnetics/charges/chargeCloud.ts';
import { ChargeSources } from '../../../../src/physics/magnetics/charges/gathered.ts';
import { chargeField } from '../../../../src/physics/magnetics/charges/chargeField.ts';
import { linkageWeights } from '../../../../src/physics/magnetics/coil/coilCore.ts';
import {
  addCloudField,
  addCoilField,
  coilCloudFields,
  emptyLineField,
  resample,
} from '../../../../src/physics/magnetics/overPickup/lineField.ts';
import { solvePickup } from '../../../../src/physics/magnetics/pickup/solvePickup.ts';
import type { SolvedPickup } from '../../../../src/physics/magnetics/pickup/solvePickup.ts';
import { coilField, fieldFilaments } from '../../../../src/physics/magnetics/coil/winding.ts';
import { twoRows } from '../../../fixtures/pickups.ts';
import { dot } from '../../../../src/physics/numerics/vector.ts';

let pickup: SolvedPickup;
beforeAll(() => {
  pickup = solvePickup(twoRows());
});
const H = { x: 0, y: 0, z: 0 };
const x = Float64Array.from({ length: 61 }, (_, i) => (i - 30) * 1e-3);

/** Exact field in the frame of the line. */
function exact(line: Line, at: number, dy = 0, dz = 0): readonly [number, number, number] {
  const c = Math.cos(line.turn);
  const s = Math.sin(line.turn);
  const y = line.y + dy;
  const { coupling, magnets } = pickup;
  chargeField(coupling, magnets.density, at * c - y * s, at * s + y * c, line.z + dz, H, magnets.second);
  return [H.x * c + H.y * s, H.y * c - H.x * s, H.z];
}

function quick(line: Line, shift = 0) {
  const { coupling, magnets } = pickup;
  const cloud = chargeCloud(new ChargeSources(coupling, [magnets.density], [magnets.second]), line);
  const field = emptyLineField(x.length);
  addCloudField(cloud, 0, { ...line, z: line.z + shift }, x, field);
  return field;
}

const largest = (values: Float64Array) => Math.max(...values.map(Math.abs));

describe('points of charge along a string', () => {
  it.each([
    ['over the poles', { y: 5.2e-3, z: 2e-3, turn: 0 }],
    ['1 mm over them', { y: 5.2e-3, z: 1e-3, turn: 0 }],
    ['between poles', { y: 0, z: 3e-3, turn: 0 }],
    ['slanted', { y: 10e-3, z: 2.5e-3, turn: -0.2 }],
  ] as const)('%s: the field as the rings make it', (_name, line) => {
    const { Hx, Hy, Hz } = quick(line);
    const size = Math.max(largest(Hx), largest(Hz));
    x.forEach((at, i) => {
      const wanted = exact(line, at);
      [Hx[i]!, Hy[i]!, Hz[i]!].forEach((value, k) => {
        expect(Math.abs(value - wanted[k]!)).toBeLessThan(1e-3 * size);
      });
    });
  });

  it('its derivatives as differences of the exact field', () => {
    const line = { y: 6e-3, z: 2.2e-3, turn: -0.1 };
    const { zHx, zHz, yHz, yHx, yHy } = quick(line);
    const e = 1e-5;
    const size = largest(zHz);
    x.forEach((at, i) => {
      const z = exact(line, at, 0, e).map((value, k) => (value - exact(line, at, 0, -e)[k]!) / (2 * e));
      const y = exact(line, at, e).map((value, k) => (value - exact(line, at, -e)[k]!) / (2 * e));
      const pairs = [
        [zHx[i]!, z[0]!],
        [zHz[i]!, z[2]!],
        [yHz[i]!, y[2]!],
        [yHz[i]!, z[1]!],
        [yHx[i]!, y[0]!],
        [yHy[i]!, y[1]!],
      ] as const;
      for (const [got, want] of pairs) expect(Math.abs(got - want)).toBeLessThan(2e-3 * size);
    });
  });

  it('its second derivatives as differences of the first', () => {
    const line = { y: 6e-3, z: 2.2e-3, turn: 0 };
    const here = quick(line);
    const e = 1e-6;
    const [up, down] = [quick(line, e), quick(line, -e)];
    x.forEach((_, i) => {
      expect(Math.abs(here.zzHz[i]! - (up.zHz[i]! - down.zHz[i]!) / (2 * e))).toBeLessThan(
        1e-4 * largest(here.zzHz),
      );
      expect(Math.abs(here.zzHy[i]! - (up.yHz[i]! - down.yHz[i]!) / (2 * e))).toBeLessThan(
        1e-4 * largest(here.zzHz),
      );
    });
  });

  it.each([1, 2])('the cores of %i coils in one pass, as one by one', (rows) => {
    const line = { y: 6e-3, z: 2.2e-3, turn: -0.1 };
    const sets = [pickup.magnets, ...pickup.coils.slice(0, rows)];
    const sources = new ChargeSources(
      pickup.coupling,
      sets.map(({ density }) => density),
      sets.map(({ second }) => second),
    );
    const cloud = chargeCloud(sources, line);
    const together = coilCloudFields(cloud, rows, line, x);
    expect(together).toHaveLength(rows);
    together.forEach((field, r) => {
      const alone = emptyLineField(x.length);
      addCloudField(cloud, r + 1, line, x, alone);
      for (const part of ['Hx', 'Hy', 'Hz', 'zHx', 'zHz', 'yHz', 'yHx', 'yHy'] as const) {
        const size = largest(alone[part]);
        expect(size).toBeGreaterThan(0);
        field[part].forEach((value, i) => {
          expect(Math.abs(value - alone[part][i]!)).toBeLessThan(1e-12 * size);
        });
      }
    });
  });

  it('the coil’s field turns with the line, and splines through its points [exact]', () => {
    const coil = pickup.coils[0]!.filaments;
    const line = { y: 8e-3, z: 2e-3, turn: -0.3 };
    const field = emptyLineField(x.length);
    addCoilField(coil, line, x, field);
    const c = Math.cos(line.turn);
    const s = Math.sin(line.turn);
    const at = x[40]!;
    coilField(coil, at * c - line.y * s, at * s + line.y * c, line.z, H);
    expect(field.Hx[40]).toBeCloseTo(H.x * c + H.y * s, 9);
    expect(field.Hy[40]).toBeCloseTo(H.y * c - H.x * s, 9);
    expect(field.Hz[40]).toBeCloseTo(H.z, 9);
    expect([...resample(field, x, x).Hz]).toEqual([...field.Hz]);
    // Trace of the gradient: ∂xHx from the samples closes it.
    const slope = (field.Hx[41]! - field.Hx[39]!) / (x[41]! - x[39]!);
    expect(Math.abs(slope + field.yHy[40]! + field.zHz[40]!)).toBeLessThan(0.02 * largest(field.zHz));
  });
});

describe('reciprocity of two coils', () => {
  // Each side's charges are another solution of a discretised problem: they agree as far as the mesh does, and better on
  // a finer one.
  it('with cores both ways alike, to 1e-3 on the default mesh and closer on a finer one', () => {
    const apart = [1, 1.5].map((fineness) => {
      const { coupling, coils } = solvePickup(twoRows(), fineness);
      const [there, back] = [
        [0, 1],
        [1, 0],
      ].map(([from, to]) => dot(linkageWeights(coupling, coils[to!]!.filaments), coils[from!]!.density));
      return Math.abs(there! / back! - 1);
    });
    expect(apart[0]!).toBeLessThan(1e-3);
    expect(apart[1]!).toBeLessThan(0.7 * apart[0]!);
  });

  it('in air both ways alike, to 1e-6 [exact]', () => {
    const [one, two] = pickup.coils.map((coil) => coil.filaments);
    // Enough pieces that the outer integral is as good as the inner, which is in closed form.
    expect(Math.abs(mutualInductance(one!, two!) / mutualInductance(two!, one!) - 1)).toBeLessThan(1e-6);
    const tilted = fieldFilaments({
      x: 3e-3,
      y: 2e-3,
      straight: 20e-3,
      inner: 2e-3,
      outer: 5e-3,
      bottom: 4e-3,
      top: 8e-3,
    });
    expect(Math.abs(mutualInductance(one!, tilted) / mutualInductance(tilted, one!) - 1)).toBeLessThan(1e-6);
  });

  it('through the cores both ways, 1e-3 (the mesh; charges are not a symmetric formulation)', () => {
    const [one, two] = pickup.coils as readonly [(typeof pickup.coils)[0], (typeof pickup.coils)[0]];
    const there = dot(linkageWeights(pickup.coupling, two.filaments), one.density);
    const back = dot(linkageWeights(pickup.coupling, one.filaments), two.density);
    expect(Math.abs(there / back - 1)).toBeLessThan(1e-3);
  });
});
