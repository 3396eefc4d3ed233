/** Lines of sight, what is within a ball, outlines as they are seen, and what bodies hide. */
import { describe, expect, it } from 'vitest';
import { seenPath } from '../../src/plot/space/hidden.ts';
import {
  racetrack,
  racetrackSides,
  silhouettes,
  solidEdges,
  solidTriangles,
} from '../../src/plot/space/solids.ts';
import { arrowhead, arrowPlace, chain, clipped, thinned, type Stroke } from '../../src/plot/space/strokes.ts';
import {
  dot,
  dragged,
  project,
  settledTurn,
  spaceView,
  turnBetween,
  type SpaceTurn,
  type Triple,
} from '../../src/plot/space/view.ts';
import { clearanceOf, insideOf, type Solid } from '../../src/shape/solid.ts';

const FRAME = { centre: [0, 0, 0] as Triple, cx: 400, cy: 300, scale: 5000 };
const at = (azimuth: number, elevation = 0): ReturnType<typeof spaceView> =>
  spaceView({ azimuth: (azimuth * Math.PI) / 180, elevation: (elevation * Math.PI) / 180 }, FRAME);
const SOME: readonly SpaceTurn[] = [
  { azimuth: 0, elevation: 0 },
  { azimuth: 0.6, elevation: 0.4 },
  { azimuth: -2, elevation: -1.2 },
  { azimuth: 3, elevation: Math.PI / 2 },
];
const close = (a: Triple, b: Triple): void => a.forEach((value, i) => expect(value).toBeCloseTo(b[i]!, 12));

const rod: Solid = {
  kind: 'round',
  x: 0.01,
  y: 0,
  profile: Float64Array.of(0, -0.02, 0.003, -0.02, 0.003, 0, 0, 0),
};
const bar: Solid = { kind: 'block', x: 0, y: 0, z: -0.03, size: { x: 0.02, y: 0.06, z: 0.004 } };

describe('a view', () => {
  it('has the nut to the left and up above from the treble side, as the section has [exact]', () => {
    const view = at(0);
    const nut = project(view, [0.01, 0, 0]);
    expect(nut.x).toBeCloseTo(350, 9);
    expect(nut.y).toBeCloseTo(300, 9);
    expect(project(view, [0, 0, 0.01]).y).toBeCloseTo(250, 9);
    expect(project(view, [0, 0.01, 0]).depth).toBeCloseTo(0.01, 12);
  });

  it('has the nut to the left and the treble side below from above [exact]', () => {
    const view = at(0, 90);
    expect(project(view, [0.01, 0, 0]).x).toBeCloseTo(350, 9);
    expect(project(view, [0, 0.01, 0]).y).toBeCloseTo(350, 9);
    expect(project(view, [0, 0, 0.01]).depth).toBeCloseTo(0.01, 12);
  });

  it.each(SOME)(
    'has three axes of length one at right angles, right × up towards who looks: %o [exact]',
    (turn) => {
      const { right, up, toward } = spaceView(turn, FRAME);
      for (const axis of [right, up, toward]) expect(dot(axis, axis)).toBeCloseTo(1, 12);
      for (const [a, b] of [
        [right, up],
        [up, toward],
        [toward, right],
      ] as const)
        expect(dot(a, b)).toBeCloseTo(0, 12);
      close(
        [
          right[1] * up[2] - right[2] * up[1],
          right[2] * up[0] - right[0] * up[2],
          right[0] * up[1] - right[1] * up[0],
        ],
        toward,
      );
    },
  );

  it('turns so that what is at the front goes with the hand [exact]', () => {
    const turn = { azimuth: 0.6, elevation: 0 };
    const front = spaceView(turn, FRAME).toward;
    const moved = dragged(turn, 12, 7, 200);
    const after = project(spaceView(moved, { ...FRAME, scale: 200 }), front);
    expect(after.x - 400).toBeCloseTo(12, 0);
    expect(after.y - 300).toBeCloseTo(7, 0);
  });

  it('stops straight above, and goes round beyond half a turn [exact]', () => {
    expect(dragged({ azimuth: 0, elevation: 1.5 }, 0, 400, 200).elevation).toBe(Math.PI / 2);
    expect(settledTurn({ azimuth: Math.PI + 0.1, elevation: 0 }).azimuth).toBeCloseTo(-Math.PI + 0.1, 12);
    // The shorter way from 170° to −170° passes 180°.
    const half = turnBetween({ azimuth: 2.967, elevation: 0 }, { azimuth: -2.967, elevation: 1 }, 0.5);
    expect(Math.abs(half.azimuth)).toBeCloseTo(Math.PI, 9);
    expect(half.elevation).toBe(0.5);
  });
});

describe('lines', () => {
  const ball = { centre: [0, 0, 0] as Triple, radius: 1 };

  it('are cut where they meet the ball, and may come back [exact]', () => {
    const line: Stroke = { pen: 'flux', points: [-2, 0, 0, 2, 0, 0, 2, 3, 0, 0, 3, 0, 0, -3, 0] };
    const parts = clipped(line, ball);
    expect(parts.map(({ points }) => Array.from(points))).toEqual([
      [-1, 0, 0, 1, 0, 0],
      [0, 1, 0, 0, -1, 0],
    ]);
    expect(clipped({ pen: 'flux', points: [2, 0, 0, 0, 2.1, 0] }, ball)).toEqual([]);
    expect(clipped({ pen: 'flux', points: [0.1, 0, 0, 0.2, 0, 0] }, ball)).toHaveLength(1);
  });

  it('lose corners that are hardly needed, and no others [exact]', () => {
    expect(thinned([0, 0, 0, 1, 1e-6, 0, 2, 0, 0, 3, 0, 0], 1e-5)).toEqual([0, 0, 0, 3, 0, 0]);
    const arc = Array.from({ length: 101 }, (_, k) => [Math.cos(k / 50), Math.sin(k / 50), 0]).flat();
    const fewer = thinned(arc, 1e-3);
    expect(fewer.length).toBeLessThan(arc.length / 3);
    // A chord of an arc of radius 1 lies within c²/8 of it.
    for (let k = 3; k < fewer.length; k += 3) {
      const chord = Math.hypot(fewer[k]! - fewer[k - 3]!, fewer[k + 1]! - fewer[k - 2]!);
      expect((chord * chord) / 8).toBeLessThan(1.1e-3);
    }
  });

  it('as chain lines are dashes that begin and end with the line [exact]', () => {
    const dashes = chain([0, 0, 0], [0, 0, 0.02]);
    expect(dashes[0]!.points[2]).toBe(0);
    expect(dashes.at(-1)!.points[5]).toBeCloseTo(0.02, 12);
    expect(dashes.length).toBeGreaterThan(3);
  });

  it('have an arrowhead in the middle of their length that lies as wide from every side [exact]', () => {
    const place = arrowPlace({ pen: 'flux', points: [0, 0, 0, 0.02, 0, 0, 0.02, 0.02, 0] }, 5000);
    close(place!.at, [0.02, 0, 0]);
    close(arrowPlace({ pen: 'flux', points: [0, 0, 0, 0.02, 0, 0] }, 5000)!.way, [1, 0, 0]);
    expect(arrowPlace({ pen: 'flux', points: [0, 0, 0, 0.001, 0, 0] }, 5000)).toBeNull();
    const arrow = { at: [0, 0, 0] as Triple, way: [1, 0, 0] as Triple };
    for (const turn of SOME) {
      const view = spaceView(turn, FRAME);
      const heads = arrowhead(arrow, view);
      if (Math.abs(dot(arrow.way, view.toward)) > 0.96) expect(heads).toEqual([]);
      else {
        const [a, b] = heads.map(({ points }) => project(view, [points[3]!, points[4]!, points[5]!]));
        expect(Math.hypot(a!.x - b!.x, a!.y - b!.y)).toBeCloseTo(5.2, 9);
      }
    }
  });
});

describe('outlines', () => {
  it('of a block are its twelve edges, of a rod the circles at both ends [exact]', () => {
    expect(solidEdges(bar)).toHaveLength(12);
    const circles = solidEdges(rod);
    expect(circles.map(({ points }) => points[2])).toEqual([-0.02, 0]);
    for (const { points } of circles)
      for (let k = 0; k < points.length; k += 3)
        expect(Math.hypot(points[k]! - 0.01, points[k + 1]!)).toBeCloseTo(0.003, 12);
  });

  it.each(SOME)('of a rod stand a radius beside its axis as seen: %o [exact]', (turn) => {
    const view = spaceView(turn, FRAME);
    const sides = silhouettes(rod, view);
    expect(sides).toHaveLength(turn.elevation === Math.PI / 2 ? 0 : 2);
    const axis = dot([0.01, 0, 0], view.right);
    for (const { points } of sides) {
      const x = dot([points[0]!, points[1]!, points[2]!], view.right);
      expect(Math.abs(x - axis)).toBeCloseTo(0.003, 12);
    }
  });

  it('of a cone seen from above its slope are none', () => {
    const cone = { kind: 'round', x: 0, y: 0, profile: Float64Array.of(0, 0, 0.01, 0, 0, 0.01) } as const;
    expect(silhouettes(cone, at(0, 60))).toEqual([]);
    expect(silhouettes(cone, at(0, 30))).toHaveLength(2);
  });

  it('of a coil lie an edge from its middle line, and its sides touch them [exact]', () => {
    const form = { x: 0.004, straight: 0.05, edge: 0.008 };
    const { points } = racetrack(form, -0.01);
    for (let k = 0; k < points.length; k += 3) {
      const y = Math.max(0, Math.abs(points[k + 1]!) - 0.025);
      expect(Math.hypot(points[k]! - 0.004, y)).toBeCloseTo(0.008, 12);
    }
    for (const turn of SOME) {
      const view = spaceView(turn, FRAME);
      const widest = Math.max(
        ...Array.from({ length: points.length / 3 }, (_, k) =>
          dot([points[3 * k]!, points[3 * k + 1]!, 0], view.right),
        ),
      );
      for (const side of racetrackSides(form, [-0.01, 0], view).slice(0, 1))
        // The circle's corners are 0.2 % within it.
        expect(dot([side.points[0]!, side.points[1]!, 0], view.right)).toBeCloseTo(widest, 4);
    }
  });

  it('close about the body as triangles [exact]', () => {
    // Every edge belongs to two of them.
    for (const solid of [bar, rod]) {
      const corners = solidTriangles(solid);
      const edges = new Map<string, number>();
      for (let k = 0; k < corners.length; k += 9) {
        const names = [0, 3, 6].map((i) =>
          corners
            .slice(k + i, k + i + 3)
            .map((value) => (value + 1).toFixed(9))
            .join(' '),
        );
        if (new Set(names).size < 3) continue;
        for (const [a, b] of [
          [0, 1],
          [1, 2],
          [2, 0],
        ] as const) {
          const name = [names[a], names[b]].toSorted().join(', ');
          edges.set(name, (edges.get(name) ?? 0) + 1);
        }
      }
      expect(edges.size).toBeGreaterThan(17);
      expect([...edges.values()].every((count) => count === 2)).toBe(true);
    }
  });
});

describe('what is hidden', () => {
  const line = (a: Triple, b: Triple): Stroke => ({ pen: 'flux', points: [...a, ...b] });
  /** Left and right ends of the runs of a path along one level, px. */
  const runs = (d: string): number[] =>
    (d.match(/-?[\d.]+/g) ?? []).filter((_, k) => k % 2 === 0).map(Number);

  it('a rod hides what is behind it and nothing before it [exact]', () => {
    const view = at(0);
    const behind = runs(seenPath([line([-0.02, -0.01, -0.01], [0.02, -0.01, -0.01])], [rod], view));
    const before = runs(seenPath([line([-0.02, 0.01, -0.01], [0.02, 0.01, -0.01])], [rod], view));
    expect(before.every((x, k) => k === 0 || Math.abs(x - before[k - 1]!) < 4)).toBe(true);
    // From x = 7 to 13 mm, nut to the left: 335 to 365 px.
    const inside = behind.filter((x) => x > 340 && x < 360);
    expect(inside).toEqual([]);
    expect(behind.some((x) => x > 330 && x < 337)).toBe(true);
    expect(behind.some((x) => x > 363 && x < 370)).toBe(true);
  });

  it('a body hides its own far edge, and neither its near ones nor its sides [exact]', () => {
    const view = at(0, 30);
    const edge = (y: number, z: number): string => seenPath([line([-0.01, y, z], [0.01, y, z])], [bar], view);
    expect(edge(-0.03, -0.032)).toBe('');
    for (const [y, z] of [
      [0.03, -0.032],
      [0.03, -0.028],
      [-0.03, -0.028],
    ] as const)
      expect(edge(y, z)).not.toBe('');
    const aside = at(40, 20);
    const sides = silhouettes(rod, aside);
    for (const side of sides) expect(seenPath([side], [rod], aside)).not.toBe('');
  });
});

describe('solids', () => {
  it('know what is inside and how far one may go [exact]', () => {
    const inside = insideOf(rod);
    expect(inside(0.01, 0.0029, -0.01)).toBe(true);
    expect(inside(0.01, 0.0031, -0.01)).toBe(false);
    expect(inside(0.01, 0, 0.0001)).toBe(false);
    expect(clearanceOf(rod)(0.01, 0.007, 0.003)).toBeCloseTo(0.005, 12);
    expect(clearanceOf(bar)(0.013, 0.034, -0.03)).toBeCloseTo(0.005, 12);
    expect(insideOf(bar)(0.0099, 0.0299, -0.0281)).toBe(true);
    expect(insideOf(bar)(0.0099, 0.0299, -0.0279)).toBe(false);
    const head: Solid = {
      kind: 'round',
      x: 0,
      y: 0,
      profile: Float64Array.of(0, 0, 0.001, 0, 0.001, 0.01, 0.002, 0.01, 0.002, 0.012, 0, 0.012),
    };
    expect(insideOf(head)(0.0015, 0, 0.005)).toBe(false);
    expect(insideOf(head)(0.0015, 0, 0.011)).toBe(true);
  });
});
