/**
 * Time from a change of geometry to six reaches and the curve: run with `npm run bench -- field`. Prints milliseconds of
 * processor time, median of several runs after warming up; asserts nothing.
 */
import { assemble } from '../../src/physics/magnetics/charges/assemble.ts';
import type { BuiltPickup } from '../../src/physics/magnetics/build/build.ts';
import { buildBodies } from '../../src/physics/magnetics/pickup/buildBodies.ts';
import { solveMagnets } from '../../src/physics/magnetics/charges/magnetSolve.ts';
import { chargeField } from '../../src/physics/magnetics/charges/chargeField.ts';
import { solveCharges } from '../../src/physics/magnetics/charges/chargeSolver.ts';
import { MU0 } from '../../src/physics/numerics/constants.ts';
import { remanenceLoad } from '../../src/physics/magnetics/charges/load.ts';
import { ringMesh } from '../../src/physics/magnetics/bodies/ringMesh.ts';
import { fieldOnStrings } from '../../src/physics/magnetics/overPickup/pickupField.ts';
import { solvePickup } from '../../src/physics/magnetics/pickup/solvePickup.ts';
import { FieldSolver } from '../../src/physics/field.ts';
import { predict } from '../../src/physics/predict.ts';
import { liveSetup } from '../../src/physics/soundingLive.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { sixRods, stringSet, twoRows } from '../fixtures/pickups.ts';

/** The same geometry, a hair longer each time, so that nothing kept from the last run helps. */
function stretched(build: BuiltPickup, run: number): BuiltPickup {
  return {
    ...build,
    rows: build.rows.map((row) => ({
      ...row,
      pole: { ...row.pole, length: row.pole.length * (1 + 1e-4 * run) },
    })),
  };
}

/** The same without its mirror symmetry. */
function unlike(build: BuiltPickup): BuiltPickup {
  return {
    ...build,
    rows: build.rows.map((row) => ({ ...row, heights: [0, 3e-4, 5e-4, 2e-4, 1e-4, -2e-4] })),
  };
}

function median(values: number[]): number {
  return values.sort((a, b) => a - b)[Math.floor(values.length / 2)]!;
}

function timed(work: (run: number) => void, runs = 15): number {
  for (let run = 0; run < 8; run++) work(run);
  const took: number[] = [];
  for (let run = 8; run < 8 + runs; run++) {
    const start = process.cpuUsage();
    work(run);
    const spent = process.cpuUsage(start);
    took.push((spent.user + spent.system) / 1e3);
  }
  return median(took);
}

const strings = stringSet();
for (const [name, build] of [
  ['six alnico 5 rods', sixRods('alnico 5')],
  ['two rows and a bar', twoRows()],
  ['two rows and a bar, heights unlike', unlike(twoRows())],
] as const) {
  const whole = timed((run) => fieldOnStrings(solvePickup(stretched(build, run)), strings));
  const matrix = timed((run) => assemble(buildBodies(stretched(build, run)).bodies));
  const magnets = timed((run) => {
    const { bodies, materials } = buildBodies(stretched(build, run));
    solveMagnets(assemble(bodies), materials);
  });
  const solved = timed((run) => solvePickup(stretched(build, run)));
  const pickup = solvePickup(build);
  const onStrings = timed(() => fieldOnStrings(pickup, strings));
  console.log(
    `${name}: ${whole.toFixed(0)} ms from geometry to six reaches; matrix ${matrix.toFixed(0)}, ` +
      `magnets ${(magnets - matrix).toFixed(0)}, coils ${(solved - magnets).toFixed(0)}, strings ${onStrings.toFixed(0)}`,
  );
}

console.log(
  '\nfrom a sheet whose poles have changed to six reaches with their flux curves, and on to the curve',
);
for (const name of ['six rods', 'steel poles over a ceramic bar', 'slugs and screws beside an alnico bar']) {
  const sheet = builtSheet(name);
  const longer = (run: number): Sheet => {
    const [first, ...others] = sheet.pickups;
    const build = first!.build!;
    const rows = build.rows.map((row) => ({
      ...row,
      pole: { ...row.pole, length: row.pole.length + 1e-6 * run },
    }));
    return { ...sheet, pickups: [{ ...first!, build: { ...build, rows } }, ...others] };
  };
  const lower = (run: number): Sheet => {
    const [first, ...others] = sheet.pickups;
    const build = { ...first!.build!, gapBass: first!.build!.gapBass + 1e-6 * run };
    return { ...sheet, pickups: [{ ...first!, build }, ...others] };
  };
  const solver = new FieldSolver();
  let fields = solver.fields(sheet);
  const poles = timed((run) => void (fields = solver.fields(longer(run))));
  const gap = timed((run) => void (fields = solver.fields(lower(run))));
  const curve = timed(() => void predict(sheet, fields), 51);
  const live = timed(() => void liveSetup(sheet, 48000, 1, fields), 51);
  console.log(
    `${name}: field ${poles.toFixed(0)} ms (a gap alone ${gap.toFixed(0)}), curve ${curve.toFixed(1)}, live setup ${live.toFixed(1)}`,
  );
}

console.log('\nflux density 1 and 3 mm above the tip of a rod Ø 4.85 × 17 mm, 1 T, µr 4, against fineness 6');
const profile = [
  { r: 0, z: -17e-3 },
  { r: 2.425e-3, z: -17e-3 },
  { r: 2.425e-3, z: 0 },
  { r: 0, z: 0 },
];
const above = (fineness: number): readonly [number, number, number] => {
  const mesh = ringMesh(profile, fineness);
  const coupling = assemble([{ kind: 'ring', mesh, x: 0, y: 0, z: 0 }]);
  const density = solveCharges(coupling, [4], remanenceLoad(coupling, [{ x: 0, y: 0, z: 1 / MU0 }]));
  const H = { x: 0, y: 0, z: 0 };
  const [one, three] = [1e-3, 3e-3].map((z) => {
    chargeField(coupling, density, 0, 0, z, H);
    return MU0 * H.z;
  }) as [number, number];
  return [mesh.n, one, three];
};
const [, limit1, limit3] = above(6);
for (const fineness of [0.5, 0.7, 1, 1.5, 2, 3]) {
  const [n, one, three] = above(fineness);
  const off = (value: number, limit: number) => `${(100 * (value / limit - 1)).toFixed(3)} %`;
  console.log(`fineness ${fineness}: ${n} rings, ${off(one, limit1)}, ${off(three, limit3)}`);
}
