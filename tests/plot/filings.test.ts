import { describe, expect, it } from 'vitest';
import { filings, WEIGHTS, type Filings } from '../../src/plot/filings.ts';
import { FieldSampler } from '../../src/plot/planeField.ts';
import { insideOutline } from '../../src/shape/outline.ts';
import { furthest } from '../fixtures/furthest.ts';
import { dipole, onLattice, polygon } from './fields.ts';

const WIDTH = 600;
const HEIGHT = 600;
/** A plane of 2 × 2 units; u to the left, v upwards, as a section is drawn. */
const screen = { x0: 300, perU: -300, y0: 300, perV: -300 };
const options = { screen, width: WIDTH, height: HEIGHT };

const middles = ({ strokes }: Filings): [number, number][] =>
  Array.from({ length: strokes.length / 6 }, (_, k) => {
    const [ax, ay, cx, cy, bx, by] = strokes.slice(6 * k, 6 * k + 6) as unknown as number[];
    return [0.25 * ax! + 0.5 * cx! + 0.25 * bx!, 0.25 * ay! + 0.5 * cy! + 0.25 * by!];
  });

describe('filings', () => {
  const weak = onLattice((u, v) => [0.02 * v, -0.02 * u], 1, 0.02);

  it('lie along the field, as long as asked [exact]', () => {
    const { strokes } = filings(weak, { ...options, length: 12 });
    expect(strokes.length / 6).toBeGreaterThan(500);
    let askew = 0;
    let [shortest, longest] = [Infinity, 0];
    for (let k = 0; k < strokes.length; k += 6) {
      const [ax, ay, cx, cy, bx, by] = [...strokes.slice(k, k + 6)] as [
        number,
        number,
        number,
        number,
        number,
        number,
      ];
      const x = 0.25 * ax + 0.5 * cx + 0.25 * bx;
      const y = 0.25 * ay + 0.5 * cy + 0.25 * by;
      const [dx, dy] = [bx - ax, by - ay];
      // The field goes round the middle: a stroke is square to its radius. Float32 pixels, and the nearest circles curl.
      const radius = Math.hypot(x - 300, y - 300);
      if (radius < 30) continue;
      askew = Math.max(askew, Math.abs((dx * (x - 300) + dy * (y - 300)) / (radius * Math.hypot(dx, dy))));
      shortest = Math.min(shortest, Math.hypot(dx, dy));
      longest = Math.max(longest, Math.hypot(dx, dy));
    }
    expect(askew).toBeLessThan(0.01);
    // A chord is a little shorter than the way along the circle.
    expect(shortest).toBeGreaterThan(11.8);
    expect(longest).toBeLessThan(12.001);
  });

  it('keep their places when the field turns [exact]', () => {
    const turned = onLattice((u, v) => [0.02 * u, 0.02 * v], 1, 0.02);
    const before = middles(filings(weak, options));
    const after = middles(filings(turned, options));
    const key = ([x, y]: [number, number]): string => `${x.toFixed(2)} ${y.toFixed(2)}`;
    const kept = new Set(before.map(key));
    // Equal strength in both: the same places, all of them, but for Float32 rounding at the last digit compared.
    const same = after.filter((p) => kept.has(key(p))).length;
    expect(after.length).toBe(before.length);
    expect(same / after.length).toBeGreaterThan(0.97);
    expect(filings(weak, options)).toEqual(filings(weak, options));
  });

  it('are evenly spread where the field is even, and none is far from the next [exact]', () => {
    const even = onLattice(() => [0, 0.05], 1, 0.1);
    const places = middles(filings(even, options));
    const cells = new Int32Array(36);
    for (const [x, y] of places) {
      const i = Math.min(5, Math.max(0, Math.floor(x / 100)));
      const j = Math.min(5, Math.max(0, Math.floor(y / 100)));
      cells[6 * j + i]!++;
    }
    const mean = places.length / 36;
    // Independent places would scatter by √mean, about 12 of 150; these by much less.
    for (const count of cells) expect(Math.abs(count - mean)).toBeLessThan(0.12 * mean);
  });

  it('are denser and heavier the stronger the field [exact]', () => {
    const field = onLattice((u) => [0, 0.001 * 120 ** ((u + 1) / 2)], 1, 0.02);
    const drawn = filings(field, options);
    const places = middles(drawn);
    const halves = [0, 0, 0, 0];
    for (const [x] of places) halves[Math.min(3, Math.max(0, Math.floor(x / 150)))]!++;
    // u runs to the left: the first quarter is the strongest.
    expect(halves[0]).toBeGreaterThan(1.4 * halves[1]!);
    expect(halves[1]).toBeGreaterThan(1.4 * halves[2]!);
    expect(halves[2]).toBeGreaterThan(1.3 * halves[3]!);
    expect(halves[3]).toBeGreaterThan(20);
    expect(drawn.ends).toHaveLength(WEIGHTS);
    expect(drawn.ends.at(-1)).toBe(places.length);
    let from = 0;
    drawn.ends.forEach((end, k) => {
      const share = (x: number): number => (1 - x / 300 + 1) / 2;
      const off = furthest(from, end, (at) => share(places[at]![0]) * WEIGHTS - (k + 0.5));
      expect(off).toBeLessThan(0.6);
      from = end;
    });
  });

  it('leave bodies out, and what has no field', () => {
    const body = polygon(0.4, 48);
    const field = onLattice(dipole, 1, 0.02, [body]);
    const within = middles(filings(field, options)).filter(([x, y]) =>
      insideOutline(body, (x - 300) / -300, (y - 300) / -300),
    );
    expect(within).toEqual([]);
    expect(
      filings(
        onLattice(() => [NaN, NaN], 1, 0.1),
        options,
      ).strokes,
    ).toHaveLength(0);
    expect(
      filings(
        onLattice(() => [0, 0], 1, 0.1),
        options,
      ).strokes,
    ).toHaveLength(0);
  });
});

describe('a plane field', () => {
  const body = polygon(0.5, 200);
  const sampler = new FieldSampler(onLattice((u, v) => [1 + 2 * u - v, 3 * v], 1, 0.1, [body]));
  const out = { u: 0, v: 0 };

  it('is what it was given, also between nodes, where that is linear [exact]', () => {
    for (const [u, v] of [
      [0.93, -0.61],
      [-1, 1],
      [0.55, 0.05],
    ] as const) {
      expect(sampler.at(u, v, out)).toBe(true);
      expect(out.u).toBeCloseTo(1 + 2 * u - v, 6);
      expect(out.v).toBeCloseTo(3 * v, 6);
    }
  });

  it('has none within a body nor beyond the lattice', () => {
    expect(sampler.at(0.2, 0.3, out)).toBe(false);
    expect(sampler.bodyAt(0.2, 0.3)).toBe(0);
    expect(sampler.at(1.01, 0, out)).toBe(false);
    expect(sampler.at(NaN, 0, out)).toBe(false);
    expect(sampler.bodyAt(0.8, 0)).toBe(-1);
  });

  it('uses the nodes that there are beside those that are empty', () => {
    const holed = onLattice((u) => [u > 0.05 ? 1 : NaN, 2], 1, 0.1);
    expect(new FieldSampler(holed).at(0.03, 0.03, out)).toBe(true);
    expect(out).toEqual({ u: 1, v: 2 });
  });
});
