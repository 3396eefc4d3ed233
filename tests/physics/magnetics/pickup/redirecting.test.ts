/**
 * Steel and magnets that redirect the field, at the default mesh, against finite elements (tests/reference/redirecting):
 *
 *   plate under six rods, channel round them        0.5 % of the peak, 2–4 mm up, every component; gains 0.003
 *   a blade between two ferrite bars                1 % of the same
 *   side magnets, poles that alternate              0.3 % of the same; gains 0.002
 */
import { describe, expect, it } from 'vitest';
import { fluxDensity, worstOnLine } from '../reference.ts';
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
