import { describe, expect, it } from 'vitest';
import {
  poleForm,
  poleOutline,
  poleProfile,
  tipRoom,
  topDiameter,
  type GivenPole,
} from '../../src/shape/pole.ts';

const rod: GivenPole = {
  kind: 'rod',
  diameter: 5e-3,
  length: 17e-3,
  tip: { shape: 'flat', size: 0 },
  head: { diameter: 6e-3, height: 2e-3 },
};
const screw: GivenPole = { ...rod, kind: 'screw' };
const tipped = (shape: GivenPole['tip']['shape'], size: number, of = rod) =>
  poleForm({ ...of, tip: { shape, size } });

/** In mm, so that figures read as they are on a drawing. */
const mm = (points: readonly { r: number; z: number }[]): number[][] =>
  points.map(({ r, z }) => [Number((1e3 * r).toFixed(9)), Number((1e3 * z).toFixed(9)) + 0]);

/** Of the body of revolution, m³: sum of frusta. */
function volume(points: readonly { r: number; z: number }[]): number {
  return points.slice(1).reduce((sum, b, i) => {
    const a = points[i]!;
    return sum + (Math.PI * (b.z - a.z) * (a.r ** 2 + a.r * b.r + b.r ** 2)) / 3;
  }, 0);
}

describe('the profile of a pole Ø 5 × 17 mm [exact]', () => {
  it('flat: a cylinder', () => {
    const profile = poleProfile(poleForm(rod), 4);
    expect(mm(profile)).toEqual([
      [0, -17],
      [2.5, -17],
      [2.5, 0],
      [0, 0],
    ]);
    expect(volume(profile)).toBeCloseTo(Math.PI * 2.5e-3 ** 2 * 17e-3, 15);
  });

  it('chamfered by 1 mm at 45°, coned 2 mm deep to a flat of a tenth', () => {
    expect(mm(poleProfile(tipped('chamfered', 1e-3), 4)).slice(2)).toEqual([
      [2.5, -1],
      [1.5, 0],
      [0, 0],
    ]);
    expect(mm(poleProfile(tipped('coned', 2e-3), 4)).slice(2)).toEqual([
      [2.5, -2],
      [0.25, 0],
      [0, 0],
    ]);
  });

  it('domed 1 mm high: on a sphere of (2.5² + 1)/2 = 3.625 mm, from the side to the top', () => {
    const dome = poleProfile(tipped('domed', 1e-3), 6).slice(2);
    expect(dome).toHaveLength(7);
    expect(mm([dome[0]!, dome.at(-1)!])).toEqual([
      [2.5, -1],
      [0, 0],
    ]);
    for (const { r, z } of dome) expect(Math.hypot(r, z + 3.625e-3)).toBeCloseTo(3.625e-3, 12);
  });

  it('a dome in many pieces comes to the volume of a cap, πh(3a² + h²)/6, four to it within 2.5 %, twice as many to a quarter of that', () => {
    const cap = (Math.PI * 1e-3 * (3 * 2.5e-3 ** 2 + 1e-3 ** 2)) / 6;
    const shaft = Math.PI * 2.5e-3 ** 2 * 16e-3;
    const off = (pieces: number): number =>
      (volume(poleProfile(tipped('domed', 1e-3), pieces)) - shaft) / cap - 1;
    expect(Math.abs(off(400))).toBeLessThan(1e-5);
    expect(off(4)).toBeLessThan(0);
    expect(off(4)).toBeGreaterThan(-0.025);
    expect(off(8) / off(4)).toBeCloseTo(0.25, 2);
  });

  it('a screw has its head above its shaft, and its tip on the head', () => {
    expect(mm(poleProfile(tipped('chamfered', 0.5e-3, screw), 4))).toEqual([
      [0, -17],
      [2.5, -17],
      [2.5, -2],
      [3, -2],
      [3, -0.5],
      [2.5, 0],
      [0, 0],
    ]);
    expect(topDiameter(poleForm(screw))).toBe(6e-3);
  });

  it('a rod has no use for its head, and a shank stands below', () => {
    expect(poleForm(rod).head).toBeNull();
    expect(topDiameter(poleForm(rod))).toBe(5e-3);
    const shank = { diameter: 3e-3, length: 4e-3 };
    expect(mm(poleProfile({ ...poleForm(rod), shank }, 4)).slice(0, 4)).toEqual([
      [0, -17],
      [1.5, -17],
      [1.5, -13],
      [2.5, -13],
    ]);
  });
});

describe('limits of a tip', () => {
  it('[exact] leaves 2 % of the top as land and a tenth of what carries it as side', () => {
    expect(tipRoom(rod).land).toBeCloseTo(2.45e-3, 12);
    expect(tipRoom(rod).side).toBeCloseTo(15.3e-3, 12);
    expect(tipRoom(screw).land).toBeCloseTo(2.94e-3, 12);
    expect(tipRoom(screw).side).toBeCloseTo(1.8e-3, 12);
  });

  it('less than a file leaves is flat', () => {
    for (const shape of ['chamfered', 'coned', 'domed'] as const)
      expect(tipped(shape, 9e-6).tip).toEqual({ shape: 'flat' });
    expect(tipped('domed', 1e-5).tip).toEqual({ shape: 'domed', depth: 1e-5 });
  });

  it('larger than there is room for, it ends on the axis instead of crossing it [exact]', () => {
    for (const shape of ['chamfered', 'domed'] as const)
      for (const { r, z } of poleProfile(tipped(shape, 4e-3), 8)) {
        expect(r).toBeGreaterThanOrEqual(0);
        expect(r).toBeLessThanOrEqual(2.5e-3 + 1e-15);
        expect(z).toBeLessThanOrEqual(0);
      }
  });
});

it('[exact] the outline from the side is the profile and its mirror image, closed over the top', () => {
  for (const form of [poleForm(rod), tipped('domed', 1e-3), tipped('coned', 1e-3, screw)]) {
    const outline = poleOutline(form);
    expect(outline.map(({ x, z }) => [0 - x, z]).toReversed()).toEqual(outline.map(({ x, z }) => [x, z]));
    expect(Math.max(...outline.map(({ x }) => x))).toBe(0.5 * topDiameter(form));
    expect(outline[0]).toEqual({ x: 2.5e-3, z: -17e-3 });
  }
});
