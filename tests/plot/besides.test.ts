import { describe, expect, it } from 'vitest';
import {
  alongLine,
  commonLevels,
  onCommonNodes,
  signedLevels,
  strengthDifference,
} from '../../src/plot/besides.ts';
import type { PlaneField } from '../../src/plot/planeField.ts';

const STEP = 5e-4;
/** On a lattice as the section's, of an upright line charge at (0, −depth) in the plane: B = k r / r². */
function lineCharge(k: number, depth: number, outlines: readonly Float64Array[] = []): PlaneField {
  const [nu, nv] = [145, 85];
  const [u0, v0] = [-0.036, -0.021];
  const bu = new Float32Array(nu * nv);
  const bv = new Float32Array(nu * nv);
  for (let j = 0; j < nv; j++) {
    for (let i = 0; i < nu; i++) {
      const [u, v] = [u0 + i * STEP, v0 + j * STEP + depth];
      const r2 = Math.max(u * u + v * v, 1e-8);
      bu[j * nu + i] = (k * u) / r2;
      bv[j * nu + i] = (k * v) / r2;
    }
  }
  return { u0, v0, step: STEP, nu, nv, bu, bv, outlines };
}

describe('the difference of two fields', () => {
  const weak = lineCharge(1e-4, 0.005);
  const strong = lineCharge(1.5e-4, 0.005);

  it('is what the second has more, with its sign [exact]', () => {
    const more = strengthDifference(weak, strong)!;
    const less = strengthDifference(strong, weak)!;
    for (let k = 0; k < more.values.length; k += 97) {
      expect(more.values[k]!).toBeCloseTo(0.5 * Math.hypot(weak.bu[k]!, weak.bv[k]!), 6);
      expect(less.values[k]!).toBe(-more.values[k]!);
    }
    expect(strengthDifference(weak, weak)!.values[5]).toBe(0);
  });

  it('has no value where either has none, and is none of unlike lattices', () => {
    const holed = { ...strong, bu: strong.bu.slice() };
    holed.bu[40] = NaN;
    expect(strengthDifference(weak, holed)!.values[40]).toBeNaN();
    expect(strengthDifference(holed, weak)!.values[40]).toBeNaN();
    expect(strengthDifference(weak, { ...strong, u0: 0 })).toBeNull();
  });

  it('has as many levels above as below, at whole steps [exact]', () => {
    const levels = signedLevels(strengthDifference(weak, strong)!);
    expect(levels).toHaveLength(8);
    levels.forEach((level, k) => {
      expect(level).toBeCloseTo(-levels[levels.length - 1 - k]!, 12);
      expect((level / levels[4]!) % 1).toBeCloseTo(0, 9);
    });
    expect(signedLevels({ values: [0, 0, NaN] })).toEqual([]);
    expect(signedLevels({ values: [] })).toEqual([]);
  });
});

describe('along a level line over a line charge', () => {
  // B upright is k h / (u² + h²): half of its most at u = h; its strength on the axis is k/h, which falls by k/h².
  const h = 0.008;
  const line = alongLine(lineCharge(1e-4, 0.005), h - 0.005)!;

  it('field, width and gradient are those in closed form [exact]', () => {
    expect(line.peak).toBeCloseTo(1e-4 / h, 5);
    expect(line.at).toBeCloseTo(0, 12);
    expect(line.width).toBeCloseTo(2 * h, 4);
    // Over ± 0.5 mm the difference is k/(h² − (0.5 mm)²).
    expect(line.fall / (1e-4 / (h * h - 25e-8))).toBeCloseTo(1, 2);
  });

  it('is nothing where there is no field', () => {
    expect(alongLine(lineCharge(1e-4, 0.005), 0.5)).toBeNull();
  });
});

describe('two plans of unlike size', () => {
  /** B = x + 10 y on nodes that begin at y0. */
  const plan = (y0: number, ny: number, more = 0) => ({
    ...{ x0: -1, y0, dx: 0.5, dy: 0.5, nx: 5, ny },
    values: Float32Array.from(
      { length: 5 * ny },
      (_, k) => -1 + 0.5 * (k % 5) + 10 * (y0 + 0.5 * Math.floor(k / 5)) + more,
    ),
  });

  it('are compared on the nodes that both have [exact]', () => {
    const { first, second, difference } = onCommonNodes(plan(-2, 9), plan(-3, 13, 0.25))!;
    for (const grid of [first, second, difference]) expect(grid).toMatchObject({ y0: -2, nx: 5, ny: 9 });
    expect(Array.from(difference.values).every((value) => value === 0.25)).toBe(true);
    expect(first.values[7]).toBeCloseTo(-1 + 0.5 * 2 + 10 * -1.5, 6);
    const turned = onCommonNodes(plan(-3, 13, 0.25), plan(-2, 9))!;
    expect(Array.from(turned.difference.values).every((value) => value === -0.25)).toBe(true);
    expect(onCommonNodes(plan(-2, 9), plan(-1.75, 9))).toBeNull();
    expect(onCommonNodes(plan(-2, 3), plan(4, 3))).toBeNull();
  });

  it('have the same lines, below the stronger of them [exact]', () => {
    const grids = [{ ...plan(0, 1), values: [0.01, NaN, 0.032] }, plan(0, 0)];
    expect(commonLevels(grids, 7).map((level) => Math.round(1e3 * level))).toEqual([5, 10, 15, 20, 25, 30]);
    expect(commonLevels([plan(0, 0)], 7)).toEqual([]);
  });
});
