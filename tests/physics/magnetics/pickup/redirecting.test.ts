/**
 * Steel and magnets that redirect the field, at the default mesh, against finite elements (tests/reference/redirecting):
 *
 *   plate under six rods, channel round them        0.5 % of the peak, 2–4 mm up, every component; gains 0.003
 *   a blade between two ferrite bars                1 % of the same
 *   a rod on a plate and walls of 0.5 mm            1 % of the same
 *   side magnets, poles that alternate              0.3 % of the same; gains 0.002
 *   a slug on a strong disc magnet, linear and
 *   saturating                                      0.6 % on its axis and in its middle
 *   a pole of Ø 3.2 mm on the same magnet           1.5 % on its axis
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { assemble } from '../../../../src/physics/magnetics/charges/assemble.ts';
import { times } from '../../../../src/physics/magnetics/charges/chargeSolver.ts';
import { solveMagnets } from '../../../../src/physics/magnetics/charges/magnetSolve.ts';
import { poleCarries, solveStatic } from '../../../../src/physics/magnetics/charges/saturation.ts';
import type { BodyMaterial } from '../../../../src/physics/magnetics/materials/bodyMaterial.ts';
import { buildBodies } from '../../../../src/physics/magnetics/pickup/buildBodies.ts';
import { MU0 } from '../../../../src/physics/numerics/constants.ts';
import { twoRows } from '../../../fixtures/pickups.ts';
import { fluxDensity, meshOf, pole, worstOnLine } from '../reference.ts';
import type { AxialCase, Solved } from '../reference.ts';
import { built, cases, fieldOf } from '../redirecting.ts';
import type { Case } from '../redirecting.ts';

const fields = new Map(
  ['B1_again', 'R1', 'R2', 'R3', 'R4', 'R5'].map((name) => [name, fieldOf(built(cases[name]!.bodies))]),
);

describe('every line 2–4 mm above the poles against three-dimensional finite elements [tool]', () => {
  it.each([
    ['R1', 'a steel plate that six rods stand on', 0.005],
    ['R2', 'a channel of three pieces round them', 0.005],
    ['R3', 'a blade between two ferrite bars', 0.01],
    ['R4', 'side magnets along x', 0.003],
    ['R5', 'poles of alternating polarity', 0.003],
  ] as const)('%s, %s: %f of the peak', (name, _what, limit) => {
    for (const [line, values] of Object.entries(cases[name]!.lines)) {
      if (line.startsWith('z')) continue;
      const worst = worstOnLine(values, (x, y, z) => fluxDensity(fields.get(name)!, x, y, z));
      expect(worst, line).toBeLessThan(limit);
    }
  });
});

it('a rod on a plate of 0.5 mm with walls of 0.5 mm, of the same: 1 % of the peak [tool]', () => {
  const { bodies, lines } = JSON.parse(
    readFileSync(new URL('../../../reference/redirecting/thin-plate.json', import.meta.url), 'utf8'),
  ) as Case;
  const field = fieldOf(built(bodies));
  for (const [line, values] of Object.entries(lines)) {
    expect(
      worstOnLine(values, (x, y, z) => fluxDensity(field, x, y, z)),
      line,
    ).toBeLessThan(0.01);
  }
});

describe('what a part gains 3 mm above an inner and an outermost pole [tool]', () => {
  const above = (name: string, y: number): number => fluxDensity(fields.get(name)!, 0, y, 3)[2];

  it.each([
    ['R1', 'a keeper', 0.003],
    ['R2', 'a channel', 0.003],
    ['R4', 'side magnets', 0.002],
    ['R5', 'turned neighbours', 0.002],
  ] as const)('%s, %s: within %f', (name, _what, limit) => {
    const gains = cases[name]!.gain_over_same_without_the_part!;
    for (const [y, line] of [
      [5.2, 'x_line_y5.2_z3'],
      [26, 'x_line_y26_z3'],
    ] as const) {
      expect(Math.abs(above(name, y) / above('B1_again', y) - Number(gains[line])), line).toBeLessThan(limit);
    }
  });
});

/** A pole on a strong disc magnet, linear and saturating. */
type OnDisc = Record<
  'linear_mu200' | 'saturating',
  AxialCase & { readonly mid_plane: { readonly mean_Bz_over_section_T: number } }
>;

function onDisc(name: string) {
  const cases = JSON.parse(
    readFileSync(new URL(`../../../reference/redirecting/${name}.json`, import.meta.url), 'utf8'),
  ) as OnDisc;
  const [profile, under] = cases.linear_mu200.bodies.map(({ profile_rz_mm }) => profile_rz_mm);
  const slug = meshOf(profile!);
  // The disc needs a node where the slug's edge stands on it.
  const disc = meshOf([...under!.slice(0, -1), [profile![1]![0], -14], under!.at(-1)!]);
  return { cases, slug, coupling: assemble([pole(slug), pole(disc)]) };
}

describe('a slug that stands on a disc magnet of 1.2 T, by axisymmetric finite elements [tool]', () => {
  const { cases: slugs, slug, coupling } = onDisc('slug-on-disc');
  const steel = { permeability: 200, saturation: 2.1 };
  const linear: BodyMaterial = { kind: 'linear', law: { mu: 200, remanence: 0 }, axis: 'z', sign: 1 };
  const saturating: BodyMaterial = { kind: 'steel', steel, axis: 'z', sign: 1 };

  const over = (material: BodyMaterial, remanence: number): Solved => {
    const magnet: BodyMaterial = { kind: 'linear', law: { mu: 1.05, remanence }, axis: 'z', sign: 1 };
    return { coupling, density: solveMagnets(coupling, [material, magnet]).density };
  };

  /** Mean B over the slug's middle, T: all that leaves it above went through there. */
  function inTheMiddle({ density }: Solved): number {
    const normal = times(coupling, density);
    let flux = 0;
    for (let i = 0; i < slug.n; i++) {
      const [low, high] = [slug.nodeZ[i]!, slug.nodeZ[i + 1]!];
      const above =
        high > low ? Math.min(1, Math.max(0, (high + 7e-3) / (high - low))) : high > -7e-3 ? 1 : 0;
      flux += above * slug.area[i]! * MU0 * (normal[i]! + 0.5 * density[i]!);
    }
    return flux / (Math.PI * 2.375e-3 ** 2);
  }

  it.each([
    ['linear_mu200', linear],
    ['saturating', saturating],
  ] as const)('%s: within 0.006 on the axis from 0.5 mm up, and in the middle', (name, material) => {
    const { axis_z_mm, axis_Bz_T, mid_plane } = slugs[name];
    const field = over(material, 1.2);
    axis_z_mm.forEach((z, i) => {
      expect(Math.abs(fluxDensity(field, 0, 0, z)[2] / axis_Bz_T[i]! - 1)).toBeLessThan(0.006);
    });
    expect(Math.abs(inTheMiddle(field) / mid_plane.mean_Bz_over_section_T - 1)).toBeLessThan(0.006);
  });

  it('as the steel of a build’s slug: 0.015 on the axis and in the middle', () => {
    const row = twoRows().rows[1]!;
    const ofBuild = buildBodies({ ...twoRows(), rows: [row], bars: [] }).materials[0]!;
    const magnet: BodyMaterial = { kind: 'linear', law: { mu: 1.05, remanence: 1.2 }, axis: 'z', sign: 1 };
    const field = { coupling, density: solveStatic(coupling, [ofBuild, magnet]).density };
    const { axis_z_mm, axis_Bz_T, mid_plane } = slugs.saturating;
    axis_z_mm.forEach((z, i) => {
      expect(Math.abs(fluxDensity(field, 0, 0, z)[2] / axis_Bz_T[i]! - 1)).toBeLessThan(0.015);
    });
    expect(Math.abs(inTheMiddle(field) / mid_plane.mean_Bz_over_section_T - 1)).toBeLessThan(0.015);
  });

  it('as the steel of a build’s slug, over a quarter of its saturation and under it: the field has no step of 0.012', () => {
    const ofBuild = buildBodies({ ...twoRows(), bars: [] }).materials.at(-1)!;
    const at = (remanence: number): readonly [number, number] => {
      const magnet: BodyMaterial = { kind: 'linear', law: { mu: 1.05, remanence }, axis: 'z', sign: 1 };
      const { density } = solveStatic(coupling, [ofBuild, magnet]);
      return [poleCarries(coupling, density, 0) / 2.1, fluxDensity({ coupling, density }, 0, 0, 2)[2]];
    };
    const [share] = at(0.1);
    const [below, one] = at((0.1 * 0.249) / share);
    const [above, other] = at((0.1 * 0.251) / share);
    expect(below).toBeLessThan(0.25);
    expect(above).toBeGreaterThan(0.2);
    expect(other / one / (0.251 / 0.249)).toBeGreaterThan(1 - 0.012);
    expect(other / one / (0.251 / 0.249)).toBeLessThan(1 - 1e-4);
  });

  it('on a weak magnet it is as linear steel: 0.3 % [exact: the law at small H]', () => {
    const [one, other] = [linear, saturating].map((material) => over(material, 0.01));
    for (const z of [0.5, 1, 2, 4]) {
      expect(Math.abs(fluxDensity(other!, 0, 0, z)[2] / fluxDensity(one!, 0, 0, z)[2] - 1)).toBeLessThan(
        3e-3,
      );
    }
  });
});

describe('a pole of Ø 3.2 mm on the same magnet, which linear steel makes a fifth too strong [tool]', () => {
  const { cases: screws, coupling } = onDisc('screw-on-disc');
  const magnet: BodyMaterial = { kind: 'linear', law: { mu: 1.05, remanence: 1.2 }, axis: 'z', sign: 1 };
  const steel = { permeability: 200, saturation: 2.1 };
  const ofBuild: BodyMaterial = {
    kind: 'linear',
    law: { mu: 200, remanence: 0 },
    steel,
    axis: 'z',
    sign: 1,
  };

  it.each([
    ['linear_mu200', (): Float64Array => solveMagnets(coupling, [ofBuild, magnet]).density],
    ['saturating', (): Float64Array => solveStatic(coupling, [ofBuild, magnet]).density],
  ] as const)('%s: within 0.015 on the axis from 0.5 mm up', (name, density) => {
    const field = { coupling, density: density() };
    const { axis_z_mm, axis_Bz_T } = screws[name];
    axis_z_mm.forEach((z, i) => {
      expect(Math.abs(fluxDensity(field, 0, 0, z)[2] / axis_Bz_T[i]! - 1)).toBeLessThan(0.015);
    });
  });
});
