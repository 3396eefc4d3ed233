/**
 * Plates, blades and channels of steel, from a change of geometry to charges: run with `npm run bench -- steel`. Prints milliseconds of
 * processor time, medians of five after two to warm up; asserts nothing.
 */
import type { Body } from '../../src/physics/magnetics/bodies/body.ts';
import { assemble } from '../../src/physics/magnetics/charges/assemble.ts';
import { solveManyCharges } from '../../src/physics/magnetics/charges/chargeSolver.ts';
import { remanenceLoad } from '../../src/physics/magnetics/charges/load.ts';
import { secondHarmonic } from '../../src/physics/magnetics/charges/secondHarmonic.ts';
import { coilLoad, linkageWeights } from '../../src/physics/magnetics/coil/coilCore.ts';
import { fieldFilaments } from '../../src/physics/magnetics/coil/winding.ts';
import { built, cases } from '../physics/magnetics/redirecting.ts';
import type { Box, Case } from '../physics/magnetics/redirecting.ts';

type Parts = Case['bodies'];

const box = (
  x_mm: Box['x_mm'],
  y_mm: Box['y_mm'],
  z_mm: Box['z_mm'],
  mu_r: number,
  Br_T: Box['Br_T'] = [0, 0, 0],
): Box => ({ shape: 'box', x_mm, y_mm, z_mm, mu_r, Br_T });

const channel = [
  box([-19, 19], [-33, 33], [-15, -14], 1000),
  box([18, 19], [-33, 33], [-14, -4], 1000),
  box([-19, -18], [-33, 33], [-14, -4], 1000),
];

const builds: readonly (readonly [string, Parts])[] = [
  ['six rods', cases['B1_again']!.bodies],
  ['six rods on a plate', cases['R1']!.bodies],
  ['six rods in a channel of three pieces', cases['R2']!.bodies],
  ['a blade between two ferrite bars', cases['R3']!.bodies],
  [
    'two blades with a bar between them, in a channel',
    [
      box([-11, -7.8], [-28, 28], [-12, 0], 200),
      box([7.8, 11], [-28, 28], [-12, 0], 200),
      box([-7.8, 7.8], [-30, 30], [-12, -8.8], 4, [0.95, 0, 0]),
      ...channel,
    ],
  ],
  [
    'two blades and a bar that stand on a channel',
    [
      box([-11, -7.8], [-28, 28], [-14, 0], 200),
      box([7.8, 11], [-28, 28], [-14, 0], 200),
      box([-6.35, 6.35], [-30, 30], [-13.2, -10], 4, [0.95, 0, 0]),
      ...channel,
    ],
  ],
];

/** The same, a hair taller each time, so that nothing kept from the last run helps. */
const stretched = (parts: Parts, run: number): Parts =>
  (parts as readonly Box[]).map((part) => {
    const [bottom, top] = part.z_mm;
    return { ...part, z_mm: [bottom * (1 + 1e-5 * run), top * (1 + 1e-5 * run)] };
  });

const window = { x: 0, y: 0, straight: 52e-3, inner: 3.2e-3, outer: 7.5e-3, bottom: -13e-3, top: -2e-3 };

const RUNS = 5;
const WARMING = 2;

for (const [name, parts] of builds) {
  const took: number[][] = [];
  let unknowns = 0;
  for (let run = 0; run < WARMING + RUNS; run++) {
    const times = [process.cpuUsage()];
    const { bodies, mu, remanence } = built(stretched(parts, run));
    const coupling = assemble(bodies);
    times.push(process.cpuUsage());
    const coil = fieldFilaments(window);
    linkageWeights(coupling, coil);
    const driven = coilLoad(coupling, coil).map((h, i) => (mu[bodyOf(coupling.offsets, i)]! - 1) * h);
    times.push(process.cpuUsage());
    const load = remanenceLoad(coupling, remanence);
    const [magnets] = solveManyCharges(coupling, [
      { mu, load },
      { mu, load: driven },
    ]);
    if (bodies.some(({ kind }: Body) => kind === 'ring')) secondHarmonic(coupling, mu, magnets!);
    times.push(process.cpuUsage());
    unknowns = coupling.representatives.count;
    const ms = times.map(({ user, system }) => (user + system) / 1e3);
    if (run >= WARMING) took.push([1, 2, 3].map((k) => ms[k]! - ms[k - 1]!));
  }
  const median = (values: readonly number[]): number => values.toSorted((a, b) => a - b)[RUNS >> 1]!;
  const [matrix, coil, solution] = [0, 1, 2].map((k) => median(took.map((times) => times[k]!)).toFixed(0));
  const whole = median(took.map((times) => times.reduce((sum, ms) => sum + ms, 0))).toFixed(0);
  console.log(
    `${name}: ${unknowns} unknowns, ${whole} ms; matrix ${matrix}, a coil's field and flux ${coil}, magnets and coil solved ${solution}`,
  );
}

function bodyOf(offsets: Int32Array, i: number): number {
  let b = 0;
  while (offsets[b + 1]! <= i) b++;
  return b;
}
