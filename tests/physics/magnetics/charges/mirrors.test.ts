/**
 * Bodies that are their own mirror image across x, across y or both, at random: what is solved in halves and quarters against the same
 * equation of all unknowns [exact].
 */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Body, BoxBody, RingBody } from '../../../../src/physics/magnetics/bodies/body.ts';
import { boxMesh } from '../../../../src/physics/magnetics/bodies/boxMesh.ts';
import { ringMesh } from '../../../../src/physics/magnetics/bodies/ringMesh.ts';
import { assemble } from '../../../../src/physics/magnetics/charges/assemble.ts';
import { Factors } from '../../../../src/physics/magnetics/charges/bodyFactors.ts';
import { solveManyCharges } from '../../../../src/physics/magnetics/charges/chargeSolver.ts';
import type { ChargeProblem } from '../../../../src/physics/magnetics/charges/chargeSolver.ts';
import { parted } from '../../../../src/physics/magnetics/charges/contacts.ts';
import { Directions } from '../../../../src/physics/magnetics/charges/directions.ts';
import { halvesOf } from '../../../../src/physics/magnetics/charges/halves.ts';

const mm = (low: number, high: number) =>
  fc.integer({ min: 10 * low, max: 10 * high }).map((value) => value * 1e-4);

/** Poles at ± x and ± y, with those on a mirror where asked for; a plate under them, which they touch or not; a bar and two blades beside. */
const arranged = fc.record({
  apart: mm(6, 9),
  pitch: mm(6, 9),
  rows: fc.constantFrom('one', 'two', 'three'),
  columns: fc.constantFrom(2, 3),
  radius: mm(2, 2.6),
  length: mm(6, 10),
  gap: fc.constantFrom(0, 4e-4, 3e-3),
  plate: fc.boolean(),
  blades: fc.boolean(),
  bar: fc.boolean(),
  /** Of boxes: the coarsest have rectangles that lie across a mirror. */
  fineness: fc.constantFrom(0.15, 0.3, 0.5),
  /** Where the middle of it all is, and how far one end is raised: neither spoils the mirror across x. */
  middle: mm(-3, 3),
  raised: fc.constantFrom(0, 0, 5e-4),
  mu: fc.tuple(
    fc.double({ min: 1.5, max: 300, noNaN: true }),
    fc.double({ min: 1.5, max: 300, noNaN: true }),
  ),
  seed: fc.integer({ min: 1, max: 1e6 }),
});

type Arranged = typeof arranged extends fc.Arbitrary<infer T> ? T : never;

function bodiesOf(a: Arranged): { readonly bodies: readonly Body[]; readonly mu: readonly number[] } {
  const { radius: r, length } = a;
  const profile = [
    { r: 0, z: -length },
    { r, z: -length },
    { r, z: 0 },
    { r: 0, z: 0 },
  ];
  const mesh = ringMesh(profile, 0.35);
  const xs = a.rows === 'one' ? [0] : a.rows === 'two' ? [-a.apart, a.apart] : [-a.apart, 0, a.apart];
  const ys = a.columns === 2 ? [-a.pitch, a.pitch] : [-1.5 * a.pitch, 0, 1.5 * a.pitch];
  const poles = xs.flatMap((x) =>
    ys.map((y, k): RingBody => ({ kind: 'ring', mesh, x: a.middle + x, y, z: k === 0 ? a.raised : 0 })),
  );
  const box = (x: number, z: number, size: readonly [number, number, number], joins: boolean): BoxBody => ({
    kind: 'box',
    mesh: boxMesh({ x: size[0], y: size[1], z: size[2] }, a.fineness),
    x: a.middle + x,
    y: 0,
    z,
    joins,
  });
  const reach = a.apart + r;
  const under = -length - a.gap;
  const boxes = [
    ...(a.plate ? [box(0, under - 1e-3, [2 * reach + 4e-3, 36e-3, 2e-3], true)] : []),
    ...(a.blades ? [-1, 1].map((side) => box(side * (reach + 4e-3), -5e-3, [2e-3, 30e-3, 7e-3], true)) : []),
    ...(a.bar ? [box(0, under - 6e-3, [9e-3, 26e-3, 4e-3], false)] : []),
  ];
  const mu = [...poles.map(() => a.mu[0]), ...boxes.map(() => a.mu[1])];
  return { bodies: [...poles, ...boxes], mu };
}

/** Numbers from −1 to 1. */
function noise(seed: number, count: number): Float64Array {
  let state = seed;
  return Float64Array.from({ length: count }, () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 31 - 1;
  });
}

/** All unknowns at once, by the same steps without any mirror. */
function whole(bodies: readonly Body[], problem: ChargeProblem): Float64Array {
  const coupling = assemble(bodies, 0);
  const [x] = new Directions(coupling, new Factors()).solve([problem]);
  parted(coupling.contacts, x!);
  return x!;
}

it('any load, whatever of it is equal or opposite on images, has the charges that all unknowns at once have, to 1e-8', () => {
  const seen = { both: 0, acrossX: 0, contacts: 0, harmonics: 0 };
  fc.assert(
    fc.property(arranged, (a) => {
      const { bodies, mu } = bodiesOf(a);
      const coupling = assemble(bodies);
      const halves = halvesOf(coupling)!;
      expect(halves.mirror).toBeDefined();
      const { symmetric, count } = coupling.representatives;
      expect(symmetric).toBe(a.raised === 0);
      const parts = halves.of(1).representatives.count + halves.of(-1).representatives.count;
      expect(parts).toBe(count);
      seen[symmetric ? 'both' : 'acrossX']++;
      if (coupling.contacts.to.length > 0) seen.contacts++;
      if (coupling.harmonics.length > 0) seen.harmonics++;
      // A load that has no symmetry; none on what has no permeability to answer it.
      const load = noise(a.seed, coupling.offsets[bodies.length]!);
      const problem = { mu, load, tolerance: 1e-10 };
      const [found] = solveManyCharges(coupling, [problem]);
      const known = whole(bodies, problem);
      const most = Math.max(...known.map(Math.abs));
      found!.forEach((value, i) => expect(Math.abs(value - known[i]!)).toBeLessThan(1e-8 * most));
    }),
    { seed: 11, numRuns: 24 },
  );
  for (const count of Object.values(seen)) expect(count).toBeGreaterThan(2);
});

it('unlike bodies on the two sides are solved whole: permeabilities that differ across x alone, to 1e-8', () => {
  fc.assert(
    fc.property(arranged, (a) => {
      const { bodies, mu } = bodiesOf({ ...a, rows: 'two', raised: 0 });
      const unlike = mu.map((each, b) => (b < a.columns ? 1.5 * each : each));
      const coupling = assemble(bodies);
      const problem = { mu: unlike, load: noise(a.seed, coupling.offsets[bodies.length]!), tolerance: 1e-10 };
      const [found] = solveManyCharges(coupling, [problem]);
      const known = whole(bodies, problem);
      const most = Math.max(...known.map(Math.abs));
      found!.forEach((value, i) => expect(Math.abs(value - known[i]!)).toBeLessThan(1e-8 * most));
    }),
    { seed: 12, numRuns: 4 },
  );
});
