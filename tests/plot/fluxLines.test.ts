import { describe, expect, it } from 'vitest';
import { fluxLines } from '../../src/plot/fluxLines.ts';
import { dipole, onLattice, polygon } from './fields.ts';

const last = (line: Float64Array): [number, number] => [line.at(-2)!, line.at(-1)!];

describe('flux lines', () => {
  it('of a dipole keep r = R sin²θ from leaving it to entering it again [exact]', () => {
    // B_r/B_θ = 2 cot θ, so that dr/dθ = 2 r cot θ along a line.
    const body = polygon(0.25, 64);
    const field = onLattice(dipole, 3, 0.02, [body]);
    const starts = [25, 40, 55].flatMap((degrees) => {
      const angle = (degrees * Math.PI) / 180;
      return [0.27 * Math.sin(angle), 0.27 * Math.cos(angle), 1];
    });
    const lines = fluxLines(field, starts);
    expect(lines).toHaveLength(3);
    for (const line of lines) {
      const constant = (u: number, v: number): number => Math.hypot(u, v) ** 3 / (u * u);
      const R = constant(line[0]!, line[1]!);
      for (let k = 0; k < line.length; k += 2) {
        // Bilinear interpolation of r⁻³ with steps of a twelfth of r near the body: 1 %.
        expect(Math.abs(constant(line[k]!, line[k + 1]!) / R - 1)).toBeLessThan(0.01);
      }
      const [u, v] = last(line);
      // It ends on the body's outline, below, where it began above.
      expect(Math.hypot(u, v)).toBeGreaterThan(0.25 * Math.cos(Math.PI / 64) - 1e-3);
      expect(Math.hypot(u, v)).toBeLessThan(0.27);
      expect(v).toBeLessThan(0);
    }
  });

  it('of circles close upon themselves to a thousandth of the radius [exact]', () => {
    const field = onLattice((u, v) => [-v, u], 1.5, 0.05);
    const [line] = fluxLines(field, [1, 0, 1], { longest: 2 * Math.PI, step: Math.PI / 100 });
    for (let k = 0; k < line!.length; k += 2) {
      expect(Math.abs(Math.hypot(line![k]!, line![k + 1]!) - 1)).toBeLessThan(1e-3);
    }
    const [u, v] = last(line!);
    expect(Math.hypot(u - 1, v)).toBeLessThan(2e-3);
  });

  it('run straight to the edge of a uniform field and end upon it [exact]', () => {
    const field = onLattice(() => [0.3, 0.4], 1, 0.1);
    const [line] = fluxLines(field, [0, 0, 1]);
    expect(last(line!)[0]).toBeCloseTo(0.75, 2);
    expect(last(line!)[1]).toBeCloseTo(1, 2);
  });

  it('are drawn once between a start that leaves and one that enters, and back from one left over [exact]', () => {
    // Upwards from the lower body to the upper one.
    const square = (v: number): Float64Array => Float64Array.of(-0.5, v, 0.5, v, 0.5, v + 0.2, -0.5, v + 0.2);
    const field = onLattice(() => [0, 1], 1, 0.1, [square(-0.9), square(0.6)]);
    const leaves = [0.1, -0.69, 1];
    const enters = [0.15, 0.59, -1];
    const apart = [-0.4, 0.59, -1];
    expect(fluxLines(field, [...leaves, ...enters], { reach: 0.2 })).toHaveLength(1);
    const both = fluxLines(field, [...leaves, ...enters, ...apart], { reach: 0.2 });
    expect(both).toHaveLength(2);
    // In the field's direction too: upwards, to where it enters.
    expect(both[1]!.at(-1)).toBeCloseTo(0.59, 9);
    expect(both[1]![1]).toBeLessThan(-0.68);
  });

  it('stop where there is no field', () => {
    const empty = onLattice(() => [0, 0], 1, 0.5);
    expect([...fluxLines(empty, [0, 0, 1])[0]!]).toEqual([0, 0]);
    expect(fluxLines(empty, [])).toEqual([]);
  });
});
