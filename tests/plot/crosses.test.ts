import { expect, it } from 'vitest';
import { crosses } from '../../src/plot/crosses.ts';

/** Middles of the crosses, two strokes each. */
const middles = (d: string): [number, number][] =>
  [...d.matchAll(/M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)M[-\d.]+ [-\d.]+L[-\d.]+ [-\d.]+/g)].map(
    ([, x1, y1, x2, y2]) => [(Number(x1) + Number(x2)) / 2, (Number(y1) + Number(y2)) / 2],
  );

it('[exact] crosses stand on points of the line, apart, and inside the paper', () => {
  const x = Array.from({ length: 300 }, (_, i) => i);
  const y = x.map((v) => (v > 100 && v < 150 ? NaN : 50 + 60 * Math.sin(v / 40)));
  const found = middles(crosses(x, y, { size: 3, apart: 34, clip: [0, 100] }));
  expect(found.length).toBeGreaterThan(4);
  found.forEach(([cx, cy], i) => {
    expect(Math.abs(cy - y[cx]!)).toBeLessThan(0.06);
    expect(cy >= 0 && cy <= 100).toBe(true);
    if (i > 0) expect(cx - found[i - 1]![0]).toBeGreaterThanOrEqual(34);
  });
});

it('points further apart than that have one each', () => {
  expect(middles(crosses([0, 50, 120], [1, 2, 3], { size: 2, apart: 34, clip: [0, 9] }))).toHaveLength(3);
});
