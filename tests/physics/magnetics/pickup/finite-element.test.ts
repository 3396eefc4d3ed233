/**
 * Boundary elements at the default mesh against finite elements by general-purpose programs (tests/reference/finite-element):
 *
 *   one rod, chamfered rod                 0.3 % of the peak, on the axis and along r, 1–4 mm up
 *   steel slug on a ferrite disc           0.4 % of the same
 *   alnico 5 and alnico 2 rods             1.5 % on their curves, from 0.5 mm up
 *   six rods                               0.3 % of the peak, every component
 *   two rows 0.8 mm beside a bar           1.5 % of the peak, every component
 *   the same 0.05 mm beside, and touching  2 % over a pole, 2.5 % of the peak in every component
 *   a slug 0.05 mm over a bar, and on it   1.5 % of the peak, every component
 */
import { describe, expect, it } from 'vitest';
import { assemble } from '../../../../src/physics/magnetics/charges/assemble.ts';
import type { Neighbour } from '../../../../src/physics/magnetics/bodies/boxCuts.ts';
import { boxMesh } from '../../../../src/physics/magnetics/bodies/boxMesh.ts';
import { solveMagnets } from '../../../../src/physics/magnetics/charges/magnetSolve.ts';
import { MAGNETS } from '../../../../src/physics/magnetics/materials/materials.ts';
import { fluxDensity, meshOf, pole, read, solved, worstOnLine } from '../reference.ts';
import type { AxialCase, SpatialLine } from '../reference.ts';

const ROW = [-26, -15.6, -5.2, 5.2, 15.6, 26];

/** The slug's edge stands on the ferrite disc: its panels need a node there, as at any edge of charge. */
function withContact(profile: AxialCase['bodies'][number]['profile_rz_mm']): typeof profile {
  const last = profile.length - 1;
  const [r, z] = profile[last - 1]!;
  return r > 5 ? [...profile.slice(0, last), [2.375, z], profile[last]!] : profile;
}

describe('bodies of revolution against finite elements [tool]', () => {
  const cases = read<Record<string, AxialCase>>('axisymmetric');

  it.each(Object.keys(cases))('%s: 0.3 % of the peak on the axis and along r, 0.4 % over steel', (name) => {
    const { bodies, axis_z_mm, axis_Bz_T, lines } = cases[name]!;
    const limit = bodies.some(({ mu_r }) => mu_r > 100) ? 0.004 : 0.003;
    const field = solved(
      bodies.map(({ profile_rz_mm }) => pole(meshOf(withContact(profile_rz_mm)))),
      bodies.map(({ mu_r, Br_z_T }) => ({ mu: mu_r, Br: Br_z_T })),
    );
    axis_z_mm.forEach((z, i) => {
      if (z < 1 || z > 4) return;
      const [, , bz] = fluxDensity(field, 0, 0, z);
      expect(Math.abs(bz / axis_Bz_T[i]! - 1)).toBeLessThan(limit);
    });
    for (const [label, { r_mm, Bz_T, Bradial_T }] of Object.entries(lines)) {
      const z = Number(/z=(\d)mm/.exec(label)![1]);
      r_mm.forEach((r, i) => {
        const [bx, , bz] = fluxDensity(field, r, 0, z);
        expect(Math.abs(bz - Bz_T[i]!)).toBeLessThan(limit * Bz_T[0]!);
        expect(Math.abs(bx - Bradial_T[i]!)).toBeLessThan(limit * Bz_T[0]!);
      });
    }
  });
});

describe('a bevel tightens the pattern just above the pole [tool, practice]', () => {
  const cases = read<Record<string, AxialCase>>('axisymmetric');

  /** Half width at half maximum of Bz over radius, mm, by straight lines between samples. */
  const halfWidth = (r: readonly number[], values: readonly number[]): number => {
    const half = 0.5 * values[0]!;
    const i = values.findIndex((value) => value < half);
    const share = (values[i - 1]! - half) / (values[i - 1]! - values[i]!);
    return r[i - 1]! + share * (r[i]! - r[i - 1]!);
  };

  it.each([
    [1, 0.85],
    [2, 0.92],
    [3, 0.97],
    [4, 0.995],
  ])('%d mm up by finite elements, and by boundary elements to 0.3 %', (z, most) => {
    const [flat, bevelled] = ['A1_mu4', 'A2_mu4'].map((name) => {
      const { bodies, lines } = cases[name]!;
      const { r_mm, Bz_T } = lines[`z=${z}mm`]!;
      const field = solved(
        bodies.map(({ profile_rz_mm }) => pole(meshOf(profile_rz_mm))),
        bodies.map(({ mu_r, Br_z_T }) => ({ mu: mu_r, Br: Br_z_T })),
      );
      const finite = halfWidth(r_mm, Bz_T);
      const ours = halfWidth(
        r_mm,
        r_mm.map((r) => fluxDensity(field, r, 0, z)[2]),
      );
      expect(Math.abs(ours / finite - 1)).toBeLessThan(0.003);
      return finite;
    });
    expect(bevelled! / flat!).toBeLessThan(most);
  });
});

describe('alnico rods on their demagnetisation curves against finite elements [tool]', () => {
  const cases =
    read<Record<string, Pick<AxialCase, 'axis_z_mm' | 'axis_Bz_T'> & { mu_recoil_across: number }>>(
      'alnico-rod',
    );

  it.each([
    ['alnico 5', 'A7_alnico5'],
    ['alnico 2', 'A7_alnico2'],
  ] as const)('%s: 1.5 % from 0.5 mm up', (grade, name) => {
    const coupling = assemble([
      pole(
        meshOf([
          [0, -17],
          [2.425, -17],
          [2.425, 0],
          [0, 0],
        ]),
      ),
    ]);
    const { axis_z_mm, axis_Bz_T, mu_recoil_across } = cases[name]!;
    // The reference gives the rod its recoil permeability across, not the grade's.
    const material = { ...MAGNETS[grade], recoil: mu_recoil_across };
    const { density } = solveMagnets(coupling, [
      { kind: 'magnet', material, strength: 1, axis: 'z', sign: 1 },
    ]);
    axis_z_mm.forEach((z, i) => {
      const [, , bz] = fluxDensity({ coupling, density }, 0, 0, z);
      expect(Math.abs(bz / axis_Bz_T[i]! - 1)).toBeLessThan(0.015);
    });
  });
});

describe('whole rows against three-dimensional finite elements [tool]', () => {
  it('six rods: 0.3 % of the peak', () => {
    const rod = meshOf([
      [0, -17],
      [2.425, -17],
      [2.425, 0],
      [0, 0],
    ]);
    const field = solved(
      ROW.map((y) => pole(rod, 0, 1e-3 * y)),
      ROW.map(() => ({ mu: 4, Br: 1 })),
    );
    const { lines } = read<{ lines: Record<string, SpatialLine> }>('six-rods');
    for (const line of Object.values(lines)) {
      expect(worstOnLine(line, (x, y, z) => fluxDensity(field, x, y, z))).toBeLessThan(0.003);
    }
  });

  it('slugs and long screws either side of a bar: 1.5 % of the peak', () => {
    const slug = meshOf([
      [0, -12],
      [2.375, -12],
      [2.375, 0],
      [0, 0],
    ]);
    const screw = meshOf([
      [0, -22],
      [1.7, -22],
      [1.7, -12],
      [2.375, -12],
      [2.375, 0],
      [0, 0],
    ]);
    const bar = boxMesh({ x: 12.7e-3, y: 60e-3, z: 3.2e-3 });
    const field = solved(
      [
        ...ROW.map((y) => pole(slug, -9.5e-3, 1e-3 * y)),
        ...ROW.map((y) => pole(screw, 9.5e-3, 1e-3 * y)),
        { kind: 'box', mesh: bar, x: 0, y: 0, z: -10.4e-3 },
      ],
      [...Array.from({ length: 12 }, () => ({ mu: 200, Br: 0 })), { mu: 4, Br: 0.95, axis: 'x' }],
    );
    const { lines } = read<{ lines: Record<string, SpatialLine> }>('two-rows-and-bar');
    for (const line of Object.values(lines)) {
      expect(worstOnLine(line, (x, y, z) => fluxDensity(field, x, y, z))).toBeLessThan(0.015);
    }
  });
});

describe('steel that touches a magnet, or nearly, against three-dimensional finite elements [tool]', () => {
  const slug = [
    [0, -12],
    [2.375, -12],
    [2.375, 0],
    [0, 0],
  ] as const;
  /** From the bar's centre, m. */
  const neighbour = (x: number, y: number, bottom: number): Neighbour => ({
    x: 1e-3 * x,
    y: 1e-3 * y,
    bottom: 1e-3 * bottom,
    top: 1e-3 * (bottom + 12),
    radius: 2.375e-3,
  });

  const { cases: beside } = read<{
    cases: Record<
      string,
      {
        gap_mm: number;
        over_pole: { y_mm: number; z_mm: number; Bz_T: number }[];
        lines?: Record<string, SpatialLine>;
      }
    >;
  }>('bar-and-poles');

  it.each(Object.keys(beside))('two rows beside a bar, %s: 2 % over a pole, 1–4 mm up', (name) => {
    const { gap_mm, over_pole, lines = {} } = beside[name]!;
    const at = 6.35 + 2.375 + gap_mm;
    const mesh = meshOf(slug);
    const poles = [-at, at].flatMap((x) => ROW.map((y) => [x, y] as const));
    const bar = boxMesh(
      { x: 12.7e-3, y: 60e-3, z: 3.2e-3 },
      1,
      poles.map(([x, y]) => neighbour(x, y, -1.6)),
    );
    const field = solved(
      [
        ...poles.map(([x, y]) => pole(mesh, 1e-3 * x, 1e-3 * y)),
        { kind: 'box', mesh: bar, x: 0, y: 0, z: -10.4e-3 },
      ],
      [...poles.map(() => ({ mu: 200, Br: 0 })), { mu: 4, Br: 0.95, axis: 'x' as const }],
    );
    for (const { y_mm, z_mm, Bz_T } of over_pole) {
      const [, , bz] = fluxDensity(field, at, y_mm, z_mm);
      expect(Math.abs(bz / Bz_T - 1)).toBeLessThan(0.02);
    }
    for (const line of Object.values(lines)) {
      expect(worstOnLine(line, (x, y, z) => fluxDensity(field, x, y, z))).toBeLessThan(0.025);
    }
  });

  const { cases: above } = read<{
    cases: Record<string, { gap_mm: number; lines: Record<string, SpatialLine> }>;
  }>('slug-on-bar');

  it.each(Object.keys(above))('one slug over a bar, %s: 1.5 % of the peak, 1–4 mm up', (name) => {
    const { gap_mm, lines } = above[name]!;
    const bar = boxMesh({ x: 12.7e-3, y: 20e-3, z: 3.2e-3 }, 1, [neighbour(0, 0, 1.6 + gap_mm)]);
    const field = solved(
      [pole(meshOf(slug)), { kind: 'box', mesh: bar, x: 0, y: 0, z: 1e-3 * (-13.6 - gap_mm) }],
      [
        { mu: 200, Br: 0 },
        { mu: 4, Br: 0.95, axis: 'z' },
      ],
    );
    for (const line of Object.values(lines)) {
      expect(worstOnLine(line, (x, y, z) => fluxDensity(field, x, y, z))).toBeLessThan(0.015);
    }
  });
});
