import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  arrowhead,
  dimension,
  frame,
  hatchPolygon,
  hatchRectangle,
  linesPath,
  zoneLetter,
  type Line,
  type Point,
} from '../../src/plot/drawing.ts';
import { readPath } from './pathReader.ts';

const seeded = { seed: 20240507, numRuns: 300 };
const size = (l: Line): number => Math.hypot(l.x2 - l.x1, l.y2 - l.y1);

describe('arrowhead', () => {
  it('has an included angle of 15° and touches its point (ISO 129-1) [practice]', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -3.1, max: 3.1, noNaN: true }),
        fc.double({ min: 3, max: 20, noNaN: true }),
        (turn, length) => {
          const towards = { x: Math.cos(turn), y: Math.sin(turn) };
          const { corners } = arrowhead({ x: 10, y: 20 }, towards, length);
          const [tip, a, b] = corners as [Point, Point, Point];
          expect(tip).toEqual({ x: 10, y: 20 });
          const va = { x: a.x - tip.x, y: a.y - tip.y };
          const vb = { x: b.x - tip.x, y: b.y - tip.y };
          const cosine = (va.x * vb.x + va.y * vb.y) / (Math.hypot(va.x, va.y) * Math.hypot(vb.x, vb.y));
          expect((Math.acos(cosine) * 180) / Math.PI).toBeCloseTo(15, 6);
          // Its back lies `length` behind the tip.
          expect(-((va.x + vb.x) / 2) * towards.x - ((va.y + vb.y) / 2) * towards.y).toBeCloseTo(length, 9);
        },
      ),
      seeded,
    );
  });
});

describe('dimension line (ISO 129-1)', () => {
  const wide = dimension({
    from: { x: 0, y: 0 },
    to: { x: 100, y: 10 },
    along: 'x',
    at: 40,
    figureWidth: 50,
  });

  it('runs between extension lines that leave a gap at the outline and run past it [practice]', () => {
    expect(wide.line).toEqual({ x1: 0, y1: 40, x2: 100, y2: 40 });
    expect(wide.extensions).toEqual([
      { x1: 0, y1: 3, x2: 0, y2: 45.6 },
      { x1: 100, y1: 13, x2: 100, y2: 45.6 },
    ]);
    expect(wide).toMatchObject({ length: 100, outside: false, angle: 0, figure: { x: 50, y: 40 } });
  });

  it('points its arrows at the extension lines, from inside when there is room [practice]', () => {
    const [start, end] = wide.arrows.map((text) => readPath(text)[0]!.points) as [
      [number, number][],
      [number, number][],
    ];
    expect(start[0]).toEqual([0, 40]);
    expect(start[1]![0]).toBe(7);
    expect(end[0]).toEqual([100, 40]);
    expect(end[1]![0]).toBe(93);
  });

  it('turns its arrows outside when they do not fit, and puts the figure beside [practice]', () => {
    const narrow = dimension({
      from: { x: 0, y: 0 },
      to: { x: 12, y: 0 },
      along: 'x',
      at: 40,
      figureWidth: 50,
    });
    expect(narrow.outside).toBe(true);
    expect(narrow.line).toEqual({ x1: -14, y1: 40, x2: 26, y2: 40 });
    const [start, end] = narrow.arrows.map((text) => readPath(text)[0]!.points) as [
      [number, number][],
      [number, number][],
    ];
    expect(start[0]).toEqual([0, 40]);
    expect(start[1]![0]).toBe(-7);
    expect(end[1]![0]).toBe(19);
    expect(narrow.figure.x).toBe(26 + 25);
  });

  it('reads vertical figures from the right of the sheet and never upside down [practice]', () => {
    expect(dimension({ from: { x: 0, y: 0 }, to: { x: 5, y: 100 }, along: 'y', at: -20 }).angle).toBe(-90);
    expect(dimension({ from: { x: 0, y: 100 }, to: { x: 5, y: 0 }, along: 'y', at: -20 }).angle).toBe(-90);
    expect(dimension({ from: { x: 100, y: 0 }, to: { x: 0, y: 0 }, along: 'x', at: 9 }).angle).toBe(0);
  });

  it('measures a slanted distance beside its points, whichever way it lies [exact]', () => {
    const coordinate = fc.integer({ min: -200, max: 200 });
    fc.assert(
      fc.property(coordinate, coordinate, coordinate, coordinate, coordinate, (x0, y0, x1, y1, at) => {
        fc.pre(x0 !== x1 || y0 !== y1);
        const d = dimension({ from: { x: x0, y: y0 }, to: { x: x1, y: y1 }, along: 'points', at });
        expect(d.length).toBeCloseTo(Math.hypot(x1 - x0, y1 - y0), 9);
        expect(Math.hypot(d.start.x - x0, d.start.y - y0)).toBeCloseTo(Math.abs(at), 9);
        // Square to the way: Pythagoras from the other end.
        expect(Math.hypot(d.start.x - x1, d.start.y - y1)).toBeCloseTo(Math.hypot(d.length, at), 8);
        // To the left as seen, where y points down.
        const left = (x1 - x0) * (d.start.y - y0) - (y1 - y0) * (d.start.x - x0);
        expect(Math.sign(Math.round(left)) + 0).toBe(0 - Math.sign(at));
        expect(d.angle).toBeGreaterThanOrEqual(-90);
        expect(d.angle).toBeLessThan(90);
      }),
      seeded,
    );
  });

  it('stays finite for a distance of nothing, and omits extension lines of no length [exact]', () => {
    const d = dimension({ from: { x: 5, y: 40 }, to: { x: 5, y: 40 }, along: 'points', at: 0 });
    expect(d.extensions).toEqual([]);
    expect(Object.values(d.line).every(Number.isFinite)).toBe(true);
    expect(d.outside).toBe(true);
  });
});

describe('hatching (ISO 128-50)', () => {
  const coordinate = fc.integer({ min: 0, max: 300 });
  const triangle = fc.tuple(coordinate, coordinate, coordinate, coordinate, coordinate, coordinate);
  const area = (p: readonly Point[]): number =>
    Math.abs(
      p.reduce((sum, a, i) => sum + a.x * p[(i + 1) % p.length]!.y - p[(i + 1) % p.length]!.x * a.y, 0),
    ) / 2;

  it('lies at 45°, rising to the right, evenly spaced [practice]', () => {
    const lines = hatchRectangle(3, 4, 50, 30, { spacing: 5 });
    for (const l of lines) expect((l.y2 - l.y1) / (l.x2 - l.x1)).toBeCloseTo(-1, 9);
    const offsets = lines.map((l) => (l.x1 + l.y1) * Math.SQRT1_2).sort((a, b) => a - b);
    offsets.slice(1).forEach((v, i) => expect(v - offsets[i]!).toBeCloseTo(5, 9));
  });

  it('covers the face: total length times spacing is its area, inside its outline [exact]', () => {
    fc.assert(
      fc.property(triangle, fc.constantFrom(45, 135, 0, 30), ([a, b, c, d, e, f], angle) => {
        const corners = [
          { x: a, y: b },
          { x: c, y: d },
          { x: e, y: f },
        ];
        const spacing = 2;
        const lines = hatchPolygon(corners, { spacing, angle });
        const total = lines.reduce((sum, l) => sum + size(l), 0);
        // Lengths rise and fall once across a triangle: sum and integral differ by at most one greatest step.
        const longest = Math.max(
          ...corners.map((p, i) => Math.hypot(p.x - corners[(i + 1) % 3]!.x, p.y - corners[(i + 1) % 3]!.y)),
        );
        expect(Math.abs(total * spacing - area(corners))).toBeLessThanOrEqual(spacing * longest + 1e-6);
        const xs = lines.flatMap((l) => [l.x1, l.x2]);
        const ys = lines.flatMap((l) => [l.y1, l.y2]);
        if (lines.length === 0) return;
        expect(Math.min(...xs)).toBeGreaterThanOrEqual(Math.min(a, c, e) - 1e-6);
        expect(Math.max(...xs)).toBeLessThanOrEqual(Math.max(a, c, e) + 1e-6);
        expect(Math.min(...ys)).toBeGreaterThanOrEqual(Math.min(b, d, f) - 1e-6);
        expect(Math.max(...ys)).toBeLessThanOrEqual(Math.max(b, d, f) + 1e-6);
      }),
      seeded,
    );
  });

  it('leaves the notch of a hollow face free [exact]', () => {
    const u = [
      [0, 0],
      [90, 0],
      [90, 90],
      [60, 90],
      [60, 30],
      [30, 30],
      [30, 90],
      [0, 90],
    ].map(([x, y]) => ({ x: x!, y: y! }));
    const lines = hatchPolygon(u, { spacing: 7, angle: 0 });
    const low = lines.filter((l) => l.y1 > 30);
    expect(low.length).toBeGreaterThan(0);
    for (const l of low) expect(size(l)).toBeCloseTo(30, 9);
    expect(linesPath(low.slice(0, 1))).toMatch(/^M-?[\d.]+ [\d.]+L[\d.]+ [\d.]+$/);
  });

  it('refuses a spacing of nothing and does not hang on a tiny one', () => {
    expect(() => hatchRectangle(0, 0, 1, 1, { spacing: 0 })).toThrow('must be positive; got 0 px');
    expect(hatchRectangle(0, 0, 1e6, 1e6, { spacing: 1e-6 })).toEqual([]);
  });
});

describe('frame with zones (ISO 5457)', () => {
  const paper = (width: number, height: number) =>
    frame({
      width,
      height,
      margin: { left: 20, top: 10, right: 10, bottom: 10 },
      band: 5,
      field: 50,
      reach: 5,
    });
  const count = (f: ReturnType<typeof paper>, side: string): number =>
    f.zones.filter((z) => z.side === side).length;

  // ISO 5457:1999, table 2: number of fields along the long and the short side.
  it.each([
    ['A0', 1189, 841, 24, 16],
    ['A1', 841, 594, 16, 12],
    ['A2', 594, 420, 12, 8],
    ['A3', 420, 297, 8, 6],
    ['A4', 297, 210, 6, 4],
  ])('%s has as many fields as the standard’s table 2 says [paper]', (_, width, height, long, short) => {
    const f = paper(width, height);
    expect([count(f, 'top'), count(f, 'bottom')]).toEqual([long, long]);
    expect([count(f, 'left'), count(f, 'right')]).toEqual([short, short]);
  });

  it('counts fields of 50 mm from the axes of symmetry; the corners take the rest [paper]', () => {
    const f = paper(420, 297);
    const marks = f.divisions.filter((l) => l.x1 === l.x2 && l.y1 < 10).map((l) => l.x1);
    expect(marks).toEqual([60, 110, 160, 210, 260, 310, 360]);
    expect(f.inner).toEqual({ x: 20, y: 10, width: 390, height: 277 });
    expect(f.outer).toEqual({ x: 15, y: 5, width: 400, height: 287 });
    expect(f.centring[0]).toEqual({ x1: 210, y1: 5, x2: 210, y2: 15 });
    expect(f.centring[3]).toEqual({ x1: 415, y1: 148.5, x2: 405, y2: 148.5 });
  });

  it('numbers to the right and letters downwards, without I and O [paper]', () => {
    const f = paper(1189, 841);
    expect(
      f.zones
        .filter((z) => z.side === 'left')
        .map((z) => z.label)
        .join(''),
    ).toBe('ABCDEFGHJKLMNPQR');
    expect(f.zones.filter((z) => z.side === 'top').map((z) => Number(z.label))).toEqual(
      Array.from({ length: 24 }, (_, i) => i + 1),
    );
    expect([zoneLetter(23), zoneLetter(24), zoneLetter(25), zoneLetter(48)]).toEqual(['Z', 'AA', 'AB', 'BA']);
  });

  it('fits a window of any size: zones fill both sides without overlap [exact]', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 60, max: 3000 }),
        fc.integer({ min: 60, max: 3000 }),
        fc.integer({ min: 20, max: 400 }),
        (width, height, field) => {
          const f = frame({
            width,
            height,
            margin: { left: 26, top: 26, right: 26, bottom: 26 },
            band: 12,
            field,
            reach: 8,
          });
          const xs = f.divisions.filter((l) => l.x1 === l.x2 && l.y1 < 26).map((l) => l.x1);
          const all = [26, ...xs, width - 26];
          all.slice(1).forEach((x, i) => expect(x).toBeGreaterThan(all[i]!));
          expect(count(f, 'top')).toBe(all.length - 1);
        },
      ),
      seeded,
    );
  });

  it('refuses a sheet smaller than its margins', () => {
    expect(() => paper(20, 20)).toThrow('larger than its margins; got 20 by 20');
  });
});
