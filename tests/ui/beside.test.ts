import { describe, expect, it } from 'vitest';
import { besideRows, cutView, screenPath, signedLines } from '../../src/ui/beside/view.ts';

const lattice = { u0: -0.036, v0: -0.033, step: 5e-4, nu: 145, nv: 109 };

describe('a section beside another', () => {
  it('has one scale both ways, the nut on the left, and half of a wide room [exact]', () => {
    const { width, height, screen } = cutView(lattice, 616);
    expect(width).toBe(300);
    expect(height).toBe(225);
    expect(screen.perU).toBe(screen.perV);
    expect(screen.x0 + screen.perU * 0.036).toBeCloseTo(0, 9);
    expect(screen.y0 + screen.perV * 0.021).toBeCloseTo(0, 9);
    expect(cutView(lattice, 360).width).toBe(360);
    expect(screenPath([0.036, 0.021, -0.036, 0.021], screen, true)).toMatch(/^M0 0L300 0Z$/);
  });

  it('has figures and what they differ by, and dashes for what there is not', () => {
    const a = { peak: 0.0283, at: 0, width: 0.0091, fall: 5.21 };
    const b = { peak: 0.0301, at: 0, width: 0.0091, fall: NaN };
    expect(besideRows(a, b).map(({ from, to, change }) => [from, to, change])).toEqual([
      ['28.3 mT', '30.1 mT', '+1.8 mT'],
      ['9.1 mm', '9.1 mm', ''],
      ['5.2 mT/mm', '—', ''],
    ]);
    expect(besideRows(null, b)[0]).toMatchObject({ from: '—', to: '30.1 mT', change: '' });
  });

  it('has lines of the difference on both sides of nothing, each with its sign', () => {
    const values = Float32Array.from({ length: 145 * 109 }, (_, k) => 1e-3 * (((k % 145) - 72) / 72));
    values[145 * 50 + 30] = NaN;
    const grid = { x0: -0.036, y0: -0.033, dx: 5e-4, dy: 5e-4, nx: 145, ny: 109, values };
    const lines = signedLines(grid, cutView(lattice, 616));
    expect(lines.some(({ text }) => text.startsWith('−'))).toBe(true);
    expect(lines.filter(({ less }) => less)).toHaveLength(lines.length / 2);
    const more = { ...grid, values: values.map((value) => Math.max(0, value)) };
    const above = signedLines(more, cutView(lattice, 616));
    expect(above.length).toBeGreaterThan(1);
    expect(above.every(({ less, path }) => !less && path !== '')).toBe(true);
    for (const { path, text } of lines) {
      expect(path).not.toMatch(/NaN/);
      expect(text).toMatch(/^[+−][\d.]+$/);
    }
  });
});
