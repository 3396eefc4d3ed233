import { describe, expect, it } from 'vitest';
import {
  alongView,
  besideRows,
  cutView,
  partsFromAbove,
  planView,
  screenPath,
  sectionsCompared,
  signedLines,
  strengthLines,
} from '../../src/ui/beside/view.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

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

  it('says that heights over the tops are compared, and where the strings lie [exact]', () => {
    const [a, b] = [
      { name: 'A, neck', string: 0.0032 },
      { name: 'B, neck', string: 0.0024 },
    ] as const;
    expect(sectionsCompared(a, { ...b, string: 0.00321 }, 3)).toBe(
      'height for height over the tops of the poles; string 3 lies 3.21 mm over both',
    );
    expect(sectionsCompared(a, b, 3)).toBe(
      'height for height over the tops of the poles, not at the string: string 3 lies 3.20 mm over those of A, neck, 2.40 mm over those of B, neck',
    );
  });

  it('has figures and what they differ by, and dashes for what there is not', () => {
    const a = { peak: 0.0283, at: 0, width: 0.0091, fall: 5.21 };
    const b = { peak: 0.0301, at: 0, width: 0.0091, fall: NaN };
    const rows = besideRows({ along: a, flux: null }, { along: b, flux: { up: 32e-6, own: 100e-6 } });
    expect(rows.map(({ from, to, change }) => [from, to, change])).toEqual([
      ['28.3 mT', '30.1 mT', '+1.8 mT'],
      ['9.1 mm', '9.1 mm', ''],
      ['5.2 mT/mm', '—', ''],
      ['—', '32 %', ''],
      ['—', '68 %', ''],
    ]);
    const none = { along: null, flux: null };
    expect(besideRows(none, { along: b, flux: null })[0]).toMatchObject({
      from: '—',
      to: '30.1 mT',
      change: '',
    });
    const more = { along: null, flux: { up: 41e-6, own: 100e-6 } };
    expect(besideRows({ along: null, flux: { up: 1, own: 4 } }, more).at(-1)!.change).toBe('−16 %');
    // Steel alone sends no flux of its own.
    expect(besideRows({ along: null, flux: { up: 0, own: 0 } }, more)[3]!.from).toBe('—');
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

describe('a plan beside another', () => {
  const grid = { x0: -0.024, y0: -0.04, dx: 1e-3, dy: 1e-3, nx: 49, ny: 81 };
  const view = planView(grid, 632);

  it('has one scale both ways, the nut on the left and the treble side on top, three in a wide room [exact]', () => {
    const { width, height, screen } = view;
    expect(width).toBe(200);
    expect(height).toBe(Math.round((200 * 80) / 48));
    expect(screen.perU).toBe(screen.perV);
    expect([screen.x0 + screen.perU * 0.024, screen.y0 + screen.perV * 0.04]).toEqual([
      expect.closeTo(0, 9),
      expect.closeTo(0, 9),
    ]);
    expect(planView(grid, 358).width).toBe(171);
  });

  it('shows every part where it stands, and lines with their mT', () => {
    const [pickup] = builtSheet('six rods').pickups;
    const paths = partsFromAbove(pickup!, view);
    expect(paths).toHaveLength(6);
    const middles = paths.map((path) => Number(/^M[-\d.]+ ([-\d.]+)a/.exec(path)![1]));
    // The treble rod first, on top; as far apart as the pitch.
    expect(middles[1]! - middles[0]!).toBeCloseTo((200 / 0.048) * pickup!.build!.pitch, 0);
    const values = Float32Array.from({ length: 49 * 81 }, (_, k) => 1e-3 * (k % 49));
    const lines = strengthLines({ ...grid, values }, [0.01, 0.02], view);
    expect(lines.map(({ text, less }) => [text, less])).toEqual([
      ['10', false],
      ['20', false],
    ]);
  });
});

it('curves along the string stand on one scale, as strong as they are [exact]', () => {
  const along = { u0: -0.002, v0: 0, step: 1e-3, nu: 5, nv: 2 };
  const { x, y, paths, strengths } = alongView(
    along,
    [
      [0, 0.01, 0.02, 0.01, 0],
      [0, 0, 0.043, NaN, 0],
    ],
    300,
  );
  expect(strengths.at(-1)!.value).toBeCloseTo(50, 9);
  expect(x.to(2)).toBeLessThan(x.to(-2));
  expect(paths[0]).toContain(`${x.to(0).toFixed(1).replace(/\.0$/, '')} `);
  expect(y.to(0) - y.to(20)).toBeCloseTo(0.4 * (y.range[0] - y.range[1]), 9);
  expect(paths.join()).not.toMatch(/NaN/);
});
