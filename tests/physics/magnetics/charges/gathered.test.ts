/** Charges gathered on few points: their moments, and their field where they are meant to be taken. */
import { beforeAll, describe, expect, it } from 'vitest';
import { offsetsOf } from '../../../../src/physics/magnetics/bodies/body.ts';
import { boxMesh } from '../../../../src/physics/magnetics/bodies/boxMesh.ts';
import { chargeField } from '../../../../src/physics/magnetics/charges/chargeField.ts';
import {
  ChargeSources,
  pointsFor,
  type GatheredCharges,
} from '../../../../src/physics/magnetics/charges/gathered.ts';
import { solvePickup, type SolvedPickup } from '../../../../src/physics/magnetics/pickup/solvePickup.ts';
import { twoRows } from '../../../fixtures/pickups.ts';

let pickup: SolvedPickup;
/** An inner screw, and the bar. */
let pole: number;
let bar: number;
beforeAll(() => {
  pickup = solvePickup(twoRows());
  const { bodies } = pickup.coupling;
  pole = 2;
  bar = bodies.findIndex(({ kind }) => kind === 'box');
});

/** One body with its own densities: what it does by itself. */
function alone(b: number) {
  const { coupling, magnets } = pickup;
  const body = coupling.bodies[b]!;
  const bodies = [body];
  const parts = body.kind === 'ring' ? 3 : 1;
  const density = magnets.density.slice(coupling.offsets[b], coupling.offsets[b]! + parts * body.mesh.n);
  let at2 = 0;
  for (const before of coupling.bodies.slice(0, b)) if (before.kind === 'ring') at2 += 2 * before.mesh.n;
  const second = magnets.second.slice(at2, at2 + (body.kind === 'ring' ? 2 * body.mesh.n : 0));
  return { coupling: { bodies, offsets: offsetsOf(bodies) }, density, second };
}

/** A plate 70 × 40 × 0.5 mm whose charge, A/m, falls from its middle and differs from face to face. */
function plate() {
  const mesh = boxMesh({ x: 0.04, y: 0.07, z: 0.0005 }, 0.5);
  const bodies = [{ kind: 'box', mesh, x: 0, y: 0, z: 0 } as const];
  const density = Float64Array.from({ length: mesh.n }, (_, j) => {
    const [x, y, z] = [mesh.centre[3 * j]!, mesh.centre[3 * j + 1]!, mesh.centre[3 * j + 2]!];
    return (1e5 + 1e8 * z) * Math.exp(-((x / 0.02) ** 2 + (y / 0.03) ** 2));
  });
  return { coupling: { bodies, offsets: offsetsOf(bodies) }, density, second: new Float64Array(0) };
}

const exact = (
  { coupling, density, second }: ReturnType<typeof alone | typeof plate>,
  x: number,
  y: number,
  z: number,
) => {
  const H = { x: 0, y: 0, z: 0 };
  chargeField(coupling, density, x, y, z, H, second);
  return [H.x, H.y, H.z] as const;
};

/** Coulomb's law. */
function ofPoints({ x, y, z, q }: GatheredCharges, ...at: readonly [number, number, number]) {
  const H = [0, 0, 0];
  q[0]!.forEach((charge, p) => {
    const away = [at[0] - x[p]!, at[1] - y[p]!, at[2] - z[p]!];
    const share = charge / Math.hypot(...away) ** 3;
    away.forEach((d, k) => (H[k] = H[k]! + share * d));
  });
  return H as unknown as readonly [number, number, number];
}

/** What the charges would do without their signs: far from a pole those of its two ends nearly cancel. */
const unsigned = ({ x, y, z, q }: GatheredCharges, ...at: readonly [number, number, number]): number =>
  q[0]!.reduce(
    (sum, charge, p) => sum + Math.abs(charge) / Math.hypot(at[0] - x[p]!, at[1] - y[p]!, at[2] - z[p]!) ** 2,
    0,
  );

const moment = ({ x, y, z, q }: GatheredCharges, of: (x: number, y: number, z: number) => number): number =>
  q[0]!.reduce((sum, charge, p) => sum + charge * of(x[p]!, y[p]!, z[p]!), 0);

describe('[exact] moments of what is gathered', () => {
  const moments = [
    ['charge', () => 1],
    ['x', (x: number) => x],
    ['y', (_: number, y: number) => y],
    ['z', (_: number, __: number, z: number) => z],
    ['xx', (x: number) => x * x],
    ['xy', (x: number, y: number) => x * y],
    ['yy − zz', (_: number, y: number, z: number) => y * y - z * z],
  ] as const;

  it.each(moments)('%s is that of ever more points', (_, of) => {
    const { n } = pickup.coupling.bodies[pole]!.mesh;
    const pairs: readonly ((sources: ChargeSources, count: number) => GatheredCharges)[] = [
      (sources, count) => sources.rings(0, n, count),
      (sources, count) => sources.box(0, [count, count, count]),
    ];
    pairs.forEach((gather, i) => {
      const one = alone(i ? bar : pole);
      const sources = new ChargeSources(one.coupling, [one.density], [one.second]);
      const [few, many] = [gather(sources, 4), gather(sources, 12)];
      const scale = few.q[0]!.reduce((sum, charge) => sum + Math.abs(charge), 0);
      const size = Math.max(
        ...[...few.x, ...few.y, ...few.z].map((place) => Math.abs(of(place, place, place))),
      );
      expect(Math.abs(moment(few, of) - moment(many, of))).toBeLessThan(1e-12 * scale * Math.max(size, 1e-6));
    });
  });
});

describe('where it is taken, its field is that of the charges', () => {
  /** Of what they would do without their signs: what pointsFor promises, and moments up to the second order of a pole at three radii. */
  const LIMIT = { box: 3e-4, pole: 1e-3 };

  it.each([
    ['beside a pole, three radii from its axis', () => pole, [0, 3, 0.002]],
    ['far beside it', () => pole, [3, 6, 0.003]],
  ] as const)('%s', (_, which, [dx, dy, z]) => {
    const b = which();
    const one = alone(b);
    const body = one.coupling.bodies[0]!;
    if (body.kind !== 'ring') throw new Error('It must be round.');
    const { mesh } = body;
    const [low, high] = [mesh.nodeZ[0]!, mesh.nodeZ[mesh.n]!];
    const half = 0.5 * (high - low);
    const away = mesh.radius * Math.hypot(dx, dy);
    const count = pointsFor(half, z - body.z - low - half, away - mesh.radius);
    const sources = new ChargeSources(one.coupling, [one.density], [one.second]);
    const at = [body.x + dx * mesh.radius, body.y + dy * mesh.radius, z] as const;
    const want = exact(one, ...at);
    const gathered = sources.rings(0, mesh.n, count);
    const size = unsigned(gathered, ...at);
    ofPoints(gathered, ...at).forEach((value, k) =>
      expect(Math.abs(value - want[k]!)).toBeLessThan(LIMIT.pole * size),
    );
  });

  it.each([
    ['8 mm over a bar', () => alone(bar), 8e-3],
    ['14 mm over it', () => alone(bar), 14e-3],
    ['30 mm over it', () => alone(bar), 30e-3],
    // Its points are many, and some rectangles are as long as several of their steps.
    ['8 mm over a wide plate', plate, 8e-3],
    ['12 mm over it', plate, 12e-3],
  ] as const)('%s', (_, of, clear) => {
    const one = of();
    const body = one.coupling.bodies[0]!;
    if (body.kind !== 'box') throw new Error('It must be a box.');
    const { x: lx, y: ly, z: lz } = body.mesh.size;
    const counts = [
      pointsFor(0.5 * lx, 0, clear),
      pointsFor(0.5 * ly, 0, clear),
      pointsFor(0.5 * lz, clear + 0.5 * lz, 0),
    ] as const;
    const sources = new ChargeSources(one.coupling, [one.density]);
    const gathered = sources.box(0, counts);
    const places = [0, 3e-3, 8e-3, 20e-3].flatMap((x) => [0, 7e-3, 26e-3].map((y) => [x, y] as const));
    const z = body.z + 0.5 * lz + clear;
    for (const [x, y] of places) {
      const at = [body.x + x, body.y + y, z] as const;
      const want = exact(one, ...at);
      const size = unsigned(gathered, ...at);
      ofPoints(gathered, ...at).forEach((value, k) =>
        expect(Math.abs(value - want[k]!)).toBeLessThan(LIMIT.box * size),
      );
    }
  });

  it('too close there are none', () => {
    expect(pointsFor(1e-2, 0, 0)).toBe(Infinity);
    expect(pointsFor(1e-2, 0.5e-2, 0)).toBe(Infinity);
    expect(pointsFor(1e-2, 0, 1e-3)).toBe(Infinity);
    expect(pointsFor(1e-2, 1e-2, 1e-2)).toBeLessThan(12);
  });
});
