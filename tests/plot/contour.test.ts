import { describe, expect, it } from 'vitest';
import { contours, refined, type ScalarGrid } from '../../src/plot/contour.ts';
import { contourLabels } from '../../src/plot/contourLabels.ts';

function grid(at: (x: number, y: number) => number, half: number, step: number): ScalarGrid {
  const n = Math.round((2 * half) / step) + 1;
  const values = Float64Array.from({ length: n * n }, (_, k) =>
    at(-half + (k % n) * step, -half + Math.floor(k / n) * step),
  );
  return { x0: -half, y0: -half, dx: step, dy: step, nx: n, ny: n, values };
}

/** Twice the signed area, positive anticlockwise. */
const turn = (p: Float64Array): number => {
  let sum = 0;
  for (let k = 0; k + 3 < p.length; k += 2) sum += p[k]! * p[k + 3]! - p[k + 2]! * p[k + 1]!;
  return sum;
};

describe('contour lines', () => {
  it('of the distance from a point are circles [exact]', () => {
    const found = contours(
      grid((x, y) => -(x * x + y * y), 2, 0.1),
      -1,
    );
    expect(found).toHaveLength(1);
    const { points, closed } = found[0]!;
    expect(closed).toBe(true);
    expect([points.at(-2), points.at(-1)]).toEqual([points[0], points[1]]);
    for (let k = 0; k < points.length; k += 2) {
      // Linear interpolation errs by step²/8 of the second derivative, 2, at most; over the slope, 2.
      expect(Math.abs(Math.hypot(points[k]!, points[k + 1]!) - 1)).toBeLessThan(0.01 / 8 + 1e-12);
    }
    // Higher values lie to the left of the way: anticlockwise round a peak.
    expect(turn(points) / 2).toBeCloseTo(Math.PI, 1);
  });

  it('go the other way round a hollow, and are open where they leave the lattice [exact]', () => {
    const [hollow] = contours(
      grid((x, y) => x * x + y * y, 2, 0.1),
      1,
    );
    expect(turn(hollow!.points)).toBeLessThan(0);
    const [line] = contours(
      grid((x, y) => x + 2 * y, 1, 0.25),
      0.3,
    );
    expect(line!.closed).toBe(false);
    for (let k = 0; k < line!.points.length; k += 2) {
      expect(line!.points[k]! + 2 * line!.points[k + 1]!).toBeCloseTo(0.3, 12);
    }
  });

  it('cross every edge that they must, once: no end lies within the lattice [exact]', () => {
    const wild = grid(
      (x, y) => Math.sin(7.3 * x + 1) * Math.cos(6.1 * y) + 0.4 * Math.sin(17 * x * y),
      1,
      0.05,
    );
    for (const level of [-0.5, -0.1, 0, 0.2, 0.7]) {
      let crossings = 0;
      for (const { points, closed } of contours(wild, level)) {
        crossings += points.length / 2 - (closed ? 1 : 0);
        if (closed) continue;
        for (const k of [0, points.length - 2]) {
          const edge = Math.max(Math.abs(points[k]!), Math.abs(points[k + 1]!));
          expect(edge).toBeCloseTo(1, 12);
        }
      }
      const { nx, ny, values } = wild;
      let edges = 0;
      for (let j = 0; j < ny; j++) {
        for (let i = 0; i < nx; i++) {
          const high = values[j * nx + i]! >= level;
          if (i + 1 < nx && values[j * nx + i + 1]! >= level !== high) edges++;
          if (j + 1 < ny && values[(j + 1) * nx + i]! >= level !== high) edges++;
        }
      }
      expect(crossings).toBe(edges);
    }
  });

  it('join opposite high corners when the middle is high [exact]', () => {
    const saddle = (middle: number): ScalarGrid => ({
      x0: 0,
      y0: 0,
      dx: 1,
      dy: 1,
      nx: 2,
      ny: 2,
      values: [1, middle, middle, 1],
    });
    // The line from the lower edge ends at the right one when the high diagonal holds together.
    const ends = (middle: number): boolean =>
      contours(saddle(middle), 0.5).some(({ points }) => points[1] === 0 && points.at(-2) === 1);
    expect(ends(0.1)).toBe(true);
    expect(ends(-0.9)).toBe(false);
  });

  it('are none at a level that is not reached', () => {
    expect(
      contours(
        grid(() => 1, 1, 0.5),
        2,
      ),
    ).toEqual([]);
  });
});

describe('a refined lattice', () => {
  it('keeps its nodes and follows any cubic exactly, to the edges [exact]', () => {
    const cubic = (x: number, y: number): number => x ** 3 - 2 * x * y * y + 0.5 * y ** 3 - x + 3;
    const fine = refined(grid(cubic, 1, 0.25), 3);
    expect(fine.nx).toBe(25);
    for (let k = 0; k < fine.values.length; k++) {
      const x = fine.x0 + (k % fine.nx) * fine.dx;
      const y = fine.y0 + Math.floor(k / fine.nx) * fine.dy;
      expect(fine.values[k]).toBeCloseTo(cubic(x, y), 12);
    }
  });
});

describe('figures of contour lines', () => {
  const ring = (r: number): Float64Array =>
    Float64Array.from({ length: 400 }, (_, k) => {
      const angle = (Math.PI * Math.floor(k / 2)) / 100;
      return 200 + r * (k % 2 === 0 ? Math.cos(angle) : Math.sin(angle));
    });
  const input = { obstacles: [], clear: 10, apart: 40, width: 400, height: 400 };

  it('stand on their lines, apart from each other and clear of what is in the way', () => {
    const radii = [150, 120, 90, 60];
    const obstacles = [{ x: 350, y: 200 }];
    const places = contourLabels({ ...input, obstacles, lines: radii.map(ring) });
    places.forEach((p, k) => {
      expect(Math.hypot(p!.x - 200, p!.y - 200)).toBeCloseTo(radii[k]!, 9);
      expect(Math.hypot(p!.x - 350, p!.y - 200)).toBeGreaterThanOrEqual(10);
      for (const q of places.slice(0, k))
        expect(Math.hypot(p!.x - q!.x, p!.y - q!.y)).toBeGreaterThanOrEqual(40);
    });
  });

  it('are left out where a line has no room', () => {
    const places = contourLabels({ ...input, lines: [ring(5), ring(6)] });
    expect(places[0]).not.toBeNull();
    expect(places[1]).toBeNull();
  });
});
