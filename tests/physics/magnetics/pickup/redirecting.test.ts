/**
 * Steel and magnets that redirect the field, at the default mesh, against finite elements (tests/reference/redirecting):
 *
 *   plate under six rods, channel round them        0.5 % of the peak, 2–4 mm up, every component; gains 0.003
 *   a blade between two ferrite bars                1 % of the same
 *   side magnets, poles that alternate              0.3 % of the same; gains 0.002
 *   a linear slug on a strong disc magnet           0.5 % on its axis, 1.5 % in its middle
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { MU0 } from '../../../../src/physics/numerics/constants.ts';
import { fluxDensity, meshOf, pole, solved, worstOnLine } from '../reference.ts';
import type { AxialCase } from '../reference.ts';
import { built, cases, fieldOf } from '../redirecting.ts';

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

it('a slug of linear steel on a disc magnet of 1.2 T: 0.5 % on the axis, 1.5 % in its middle [tool]', () => {
  const { linear_mu200 } = JSON.parse(
    readFileSync(new URL('../../../reference/redirecting/slug-on-disc.json', import.meta.url), 'utf8'),
  ) as Record<string, AxialCase & { mid_plane: { mean_Bz_over_section_T: number } }>;
  const { bodies, axis_z_mm, axis_Bz_T, mid_plane } = linear_mu200!;
  const slug = meshOf(bodies[0]!.profile_rz_mm);
  // The disc needs a node where the slug's edge stands on it.
  const disc = bodies[1]!.profile_rz_mm.flatMap((point, i, all) =>
    i === all.length - 1 ? ([[2.375, -14], point] as const) : [point],
  );
  const field = solved(
    [pole(slug), pole(meshOf(disc))],
    [
      { mu: 200, Br: 0 },
      { mu: 1.05, Br: 1.2 },
    ],
  );
  axis_z_mm.forEach((z, i) => {
    expect(Math.abs(fluxDensity(field, 0, 0, z)[2] / axis_Bz_T[i]! - 1)).toBeLessThan(0.005);
  });
  // All that leaves above the middle went through it; B·n = µ0 µ/(µ − 1) σ.
  let flux = 0;
  for (let i = 0; i < slug.n; i++) {
    const [low, high] = [slug.nodeZ[i]!, slug.nodeZ[i + 1]!];
    const share = high > low ? Math.min(1, Math.max(0, (high + 7e-3) / (high - low))) : high > -7e-3 ? 1 : 0;
    flux += share * slug.area[i]! * field.density[i]! * MU0 * (200 / 199);
  }
  const mean = flux / (Math.PI * 2.375e-3 ** 2);
  expect(Math.abs(mean / mid_plane.mean_Bz_over_section_T - 1)).toBeLessThan(0.015);
});
