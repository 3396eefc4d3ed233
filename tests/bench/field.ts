/**
 * Time from a change of geometry to six reaches: run with `npx tsx tests/bench/field.ts`. Prints milliseconds of
 * processor time, median of several runs after warming up; asserts nothing.
 */
import { assemble } from '../../src/physics/magnetics/assemble.ts';
import type { PickupBuild } from '../../src/physics/magnetics/build.ts';
import { buildBodies } from '../../src/physics/magnetics/buildBodies.ts';
import { solveMagnets } from '../../src/physics/magnetics/magnetSolve.ts';
import { fieldOnStrings } from '../../src/physics/magnetics/pickupField.ts';
import { solvePickup } from '../../src/physics/magnetics/solvePickup.ts';
import { sixRods, stringSet, twoRows } from '../fixtures/pickups.ts';

/** The same geometry, a hair longer each time, so that nothing kept from the last run helps. */
function stretched(build: PickupBuild, run: number): PickupBuild {
  return {
    ...build,
    rows: build.rows.map((row) => ({
      ...row,
      pole: { ...row.pole, length: row.pole.length * (1 + 1e-4 * run) },
    })),
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
