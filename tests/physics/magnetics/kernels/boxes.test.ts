/** Rectangles of boxes: what one does to another by its cheapest rule against many points, and blocks that are turned. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BoxBody } from '../../../../src/physics/magnetics/bodies/body.ts';
import { boxImage } from '../../../../src/physics/magnetics/bodies/boxImage.ts';
import { boxMesh } from '../../../../src/physics/magnetics/bodies/boxMesh.ts';
import { boxBlocks, boxSelfBlock } from '../../../../src/physics/magnetics/charges/boxBlocks.ts';
import { boxBlock } from '../../../../src/physics/magnetics/kernels/boxCoupling.ts';
import { rectangleLinearField } from '../../../../src/physics/magnetics/kernels/rectangle.ts';
import {
  farPair,
  pairField,
  sourceClosed,
  targetClosed,
} from '../../../../src/physics/magnetics/kernels/rectanglePair.ts';
import { furthest } from '../../../fixtures/furthest.ts';

const half = fc.integer({ min: 10, max: 150 }).map((value) => value / 100);
const place = fc.integer({ min: -800, max: 800 }).map((value) => value / 100);

describe('one rectangle’s mean field on another [exact]', () => {
  it('by points, within 0.012 of the field’s size, against 20 × 20 of them', () => {
    let far = 0;
    fc.assert(
      fc.property(
        place,
        place,
        place,
        half,
        half,
        half,
        half,
        fc.integer({ min: 0, max: 2 }),
        (u, v, w, a, b, c, d, normal) => {
          const [eu, ev, ew] = normal === 0 ? [c, d, 0] : normal === 1 ? [0, c, d] : [d, 0, c];
          const beyond = [Math.abs(u) - a - eu, Math.abs(v) - b - ev, Math.abs(w) - ew];
          const gap = Math.hypot(...beyond.map((each) => Math.max(0, each)));
          if (!(gap > 0) || !farPair(u, v, w, a, b, eu, ev, ew, normal, gap)) return;
          far++;
          const [uniform, alongU, alongV] = pairField;
          targetClosed(u, v, w, a, b, eu, ev, ew, normal, 20, 20);
          const size = (a * b) / (Math.PI * (u * u + v * v + w * w));
          // One point is off by (edge/gap)²/4 at most: 0.0096 for the target at 0.1963, 0.0024 for the source at 0.0973.
          expect(Math.abs(uniform! - pairField[0]!)).toBeLessThan(0.012 * size);
          // With one point a slope is lost: a dipole of a²/3, which falls by 2/gap of the field; one point serves up to edge/gap 0.0973.
          expect(Math.abs(alongU! - pairField[1]!)).toBeLessThan(0.033 * a * size);
          expect(Math.abs(alongV! - pairField[2]!)).toBeLessThan(0.033 * b * size);
        },
      ),
      { seed: 3, numRuns: 600 },
    );
    expect(far).toBeGreaterThan(200);
  });

  it('from the other’s closed form it is the same, 1e-6', () => {
    for (const [normal, eu, ev, ew] of [
      [0, 1, 0.5, 0],
      [1, 0, 0.7, 1.2],
      [2, 0.4, 0, 0.9],
    ] as const) {
      targetClosed(2, -1.5, 3, 0.8, 0.6, eu, ev, ew, normal, 20, 20);
      const known = pairField.slice();
      sourceClosed(2, -1.5, 3, 0.8, 0.6, eu, ev, ew, normal, 20, 20, 20);
      known.forEach((value, k) => expect(Math.abs(value - pairField[k]!)).toBeLessThan(1e-6));
    }
  });
});

describe('boxes that are images of others [exact]', () => {
  // Cut for a pole beside one end, so that x alone is turned.
  const pole = { x: 0, y: 5e-3, bottom: 1.5e-3, top: 9e-3, radius: 2e-3 };
  const size = { x: 3e-3, y: 20e-3, z: 3e-3 };
  const mesh = boxMesh(size, 0.7, [{ ...pole, x: 1e-3 }]);
  const image = boxMesh(size, 0.7, [{ ...pole, x: -1e-3 }]);
  const between = boxMesh({ x: 5e-3, y: 15e-3, z: 2e-3 }, 0.7);

  it('every rectangle’s image has the rectangle for its image, where faces are cut alike', () => {
    const there = boxImage(mesh, image, 0)!;
    const back = boxImage(image, mesh, 0)!;
    there.forEach((to, j) => expect(back[to]).toBe(j));
    expect(boxImage(mesh, mesh, 1)).toBeNull();
    expect(boxImage(between, between, 1)).not.toBeNull();
  });

  it('blocks that are turned are those that would be computed, 1e-9', () => {
    const box = (of: typeof mesh, x: number): BoxBody => ({
      kind: 'box',
      mesh: of,
      x,
      y: 0,
      z: 0,
      joins: true,
    });
    const boxes = [box(mesh, -8e-3), box(between, 0), box(image, 8e-3)];
    let turned = 0;
    boxBlocks(
      boxes,
      () => true,
      false,
      ({ target, source }, block, rows, columns) => {
        const [t, s] = [boxes[target]!, boxes[source]!];
        const wanted = boxBlock(t.mesh, s.mesh, s.x - t.x, 0, 0, target === source, true);
        const n = s.mesh.n;
        if (rows) turned++;
        const off = furthest(0, t.mesh.n * n, (k) => {
          const [i, j] = [Math.floor(k / n), k % n];
          return block[(rows ? rows[i]! : i) * n + (columns ? columns[j]! : j)]! - wanted[k]!;
        });
        expect(off).toBeLessThan(1e-9);
      },
    );
    expect(turned).toBe(4);
  });

  it('rows that are left out, as images across y of earlier ones, are those that would be computed, 1e-12', () => {
    const straight = { ...pole, y: 0 };
    const [left, right] = [1e-3, -1e-3].map((x) => boxMesh(size, 0.7, [{ ...straight, x }]));
    const box = (of: typeof mesh, x: number, y = 0): BoxBody => ({ kind: 'box', mesh: of, x, y, z: 0 });
    // Two of them stand beside the mirror, and see each other as two in it do.
    const boxes = [
      box(left!, -8e-3),
      box(between, 0),
      box(right!, 8e-3),
      box(between, 0, 30e-3),
      box(right!, 8e-3, 30e-3),
    ];
    let missing = 0;
    boxBlocks(
      boxes,
      () => true,
      true,
      ({ target, source }, block, rows, columns) => {
        const [t, s] = [boxes[target]!, boxes[source]!];
        const wanted = boxBlock(t.mesh, s.mesh, s.x - t.x, s.y - t.y, 0, target === source);
        const image = boxImage(t.mesh, t.mesh, 1)!;
        const n = s.mesh.n;
        for (let i = 0; i < t.mesh.n; i++) {
          if (t.y === 0 && image[i]! < i) {
            missing++;
            continue;
          }
          for (let j = 0; j < n; j++) {
            const value = block[(rows ? rows[i]! : i) * n + (columns ? columns[j]! : j)]!;
            expect(Math.abs(value - wanted[i * n + j]!)).toBeLessThan(1e-12);
          }
        }
      },
    );
    expect(missing).toBeGreaterThan(0);
    for (const body of boxes.slice(0, 3)) {
      const known = boxBlock(body.mesh, body.mesh, 0, 0, 0, true);
      boxSelfBlock(body).forEach((value, k) => expect(Math.abs(value - known[k]!)).toBeLessThan(1e-12));
    }
  });
});

it('a rectangle’s field in line with an edge, beyond either end, is what it is a hair beside that line, 1e-9 [exact]', () => {
  const [on, beside] = [new Float64Array(9), new Float64Array(9)];
  for (const [u, v] of [
    [2, 7],
    [2, -7],
    [-2, -7],
    [8, 3],
    [-8, 3],
    [-8, -3],
  ] as const) {
    rectangleLinearField(u, v, 0, 2, 3, on);
    rectangleLinearField(u * (1 + 1e-11), v * (1 + 1e-11), 0, 2, 3, beside);
    on.forEach((value, k) => expect(Math.abs(value - beside[k]!)).toBeLessThan(1e-9));
  }
});
