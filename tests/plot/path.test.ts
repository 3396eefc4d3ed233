import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { areaPath, curvePath, decimate, linePath } from '../../src/plot/path.ts';
import { linearScale, logScale } from '../../src/plot/scale.ts';
import { readPath } from './pathReader.ts';

const seeded = { seed: 20240502, numRuns: 300 };

describe('a line as path text', () => {
  it('is compact: one letter a run, limited digits, no −0 [exact]', () => {
    expect(linePath([0, 1, 2], [0, 1.23456, -0.001])).toBe('M0 0L1 1.23 2 0');
    expect(linePath([0, 1.26], [0.04, 3], { digits: 1 })).toBe('M0 0L1.3 3');
    expect(linePath([], [])).toBe('');
  });

  it('breaks at NaN and goes on after it [exact]', () => {
    expect(linePath([0, 1, 2, 3, 4], [0, 1, NaN, 3, 4])).toBe('M0 0L1 1M3 3L4 4');
  });

  it('is cut exactly where it crosses the clip edge [exact]', () => {
    expect(linePath([0, 10, 20], [0, 20, 0], { clip: [10, 0] })).toBe('M0 0L5 10M15 10L20 0');
    // One segment through both edges.
    expect(linePath([0, 10], [-10, 30], { clip: [0, 20] })).toBe('M2.5 0L7.5 20');
    expect(linePath([0, 10], [30, 40], { clip: [0, 20] })).toBe('');
    // A run along the edge stays.
    expect(linePath([0, 10], [20, 20], { clip: [0, 20] })).toBe('M0 20L10 20');
  });

  it('draws a null of −∞ dB as a line out of the picture [exact]', () => {
    const text = linePath([0, 10, 20], [5, Infinity, 5], { clip: [0, 100] });
    const runs = readPath(text);
    expect(runs).toHaveLength(2);
    expect(runs[0]!.points[1]).toEqual([0, 100]);
    expect(runs[1]!.points[0]).toEqual([20, 100]);
  });

  it('never leaves the clip range and keeps every point inside it [exact]', () => {
    const ys = fc.array(fc.double({ min: -50, max: 150, noNaN: true }), { minLength: 2, maxLength: 40 });
    fc.assert(
      fc.property(ys, (y) => {
        const x = y.map((_, i) => i * 3);
        const points = readPath(linePath(x, y, { clip: [0, 100], digits: 6 })).flatMap((r) => r.points);
        for (const [, py] of points) {
          expect(py).toBeGreaterThanOrEqual(0);
          expect(py).toBeLessThanOrEqual(100);
        }
        const drawn = new Set(points.map(([px]) => px));
        y.forEach((v, i) => {
          if (v > 0.001 && v < 99.999) expect(drawn.has(i * 3)).toBe(true);
        });
      }),
      seeded,
    );
  });
});

describe('the area under a curve', () => {
  const shoelace = (p: [number, number][]): number =>
    Math.abs(
      p.reduce((sum, [x, y], i) => sum + x * p[(i + 1) % p.length]![1] - p[(i + 1) % p.length]![0] * y, 0),
    ) / 2;

  it('closes on the baseline, one piece a run [exact]', () => {
    expect(areaPath([0, 10, 20], [10, 0, 10], 10)).toBe(
      'M0 10L0 10 10 0 20 10 20 10Z'.replace(' 20 10Z', 'Z'),
    );
    expect(readPath(areaPath([0, 1, 2, 3, 4], [1, 2, NaN, 2, 1], 0))).toHaveLength(2);
  });

  it('has the area of the trapezia [exact]', () => {
    const ys = fc.array(fc.double({ min: 0, max: 100, noNaN: true }), { minLength: 2, maxLength: 30 });
    fc.assert(
      fc.property(ys, (y) => {
        const x = y.map((_, i) => i * 5);
        const trapezia = y.slice(1).reduce((sum, v, i) => sum + 2.5 * (v + y[i]!), 0);
        const [run] = readPath(areaPath(x, y, 0, { digits: 6 }));
        expect(Math.abs(shoelace(run!.points) - trapezia)).toBeLessThan(1e-3);
      }),
      seeded,
    );
  });

  it('is cut with its corners on the clip edges [exact]', () => {
    const [run] = readPath(areaPath([0, 10, 20], [0, 20, 0], 0, { clip: [0, 10] }));
    expect(run!.points).toContainEqual([5, 10]);
    expect(run!.points).toContainEqual([15, 10]);
    // A triangle of 200 without its tip of 50.
    expect(shoelace(run!.points)).toBe(150);
  });
});

describe('thinning by pixel column', () => {
  it('keeps the least and the greatest value of every column and its ends [exact]', () => {
    const ys = fc.array(fc.double({ min: -100, max: 100, noNaN: true }), { minLength: 1, maxLength: 400 });
    fc.assert(
      fc.property(ys, (y) => {
        const x = y.map((_, i) => i / 37);
        const thin = decimate(x, y);
        const columns = (xs: readonly number[], v: readonly number[]) => {
          const map = new Map<number, number[]>();
          xs.forEach((at, i) => {
            const key = Math.floor(at);
            map.set(key, [...(map.get(key) ?? []), v[i]!]);
          });
          return [...map].map(([key, list]) => [
            key,
            Math.min(...list),
            Math.max(...list),
            list[0],
            list.at(-1),
          ]);
        };
        expect(columns(thin.x, thin.y)).toEqual(columns(x, y));
        expect(thin.x.length).toBeLessThanOrEqual(4 * Math.ceil(y.length / 37 + 1));
        expect(thin.x.every((v, i) => i === 0 || v >= thin.x[i - 1]!)).toBe(true);
      }),
      seeded,
    );
  });

  it('loses no null of a comb: all 60 zeros of |sin| over 400 columns of 20 samples [exact]', () => {
    const n = 8001;
    const x = Float64Array.from({ length: n }, (_, i) => i / 20);
    const y = Float64Array.from({ length: n }, (_, i) => Math.abs(Math.sin((60 * Math.PI * i) / (n - 1))));
    const thin = decimate(x, y);
    const nulls = thin.y.filter((v, i) => v < 0.02 && v <= (thin.y[i - 1] ?? 1) && v < (thin.y[i + 1] ?? 1));
    // Both ends are zeros too.
    expect(nulls).toHaveLength(61);
    expect(thin.x.length).toBeLessThan(1700);
  });

  it('keeps a gap', () => {
    const thin = decimate([0, 0.1, 0.2, 0.3, 0.4, 0.5], [1, 2, NaN, 4, 5, 6]);
    expect(thin.y.some(Number.isNaN)).toBe(true);
  });
});

it('a curve through two scales stays on the paper and between its edges [exact]', () => {
  const f = [20, 200, 2000, 20000];
  const path = curvePath(
    f,
    [0, 0, 0, -48],
    logScale([20, 20000], [0, 300]),
    linearScale([-36, 12], [480, 0]),
  );
  expect(path).toBe('M0 120L100 120 200 120 275 480');
});
