/**
 * The same six rods by boundary elements and by a general-purpose finite-element program: run with
 * `npm run bench -- finiteElement`. Prints processor time and worst error on the line x = 1–40 mm, 2 mm above the tips,
 * against the stored reference of a finer mesh (0.4 % of the peak), and the ratio of times. Needs gmsh and getdp; without
 * them it says so. Asserts nothing.
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { assemble } from '../../src/physics/magnetics/charges/assemble.ts';
import { chargeField } from '../../src/physics/magnetics/charges/chargeField.ts';
import { solveCharges } from '../../src/physics/magnetics/charges/chargeSolver.ts';
import { MU0 } from '../../src/physics/numerics/constants.ts';
import { remanenceLoad } from '../../src/physics/magnetics/charges/load.ts';
import { ringMesh } from '../../src/physics/magnetics/bodies/ringMesh.ts';

interface Result {
  readonly seconds: number;
  readonly unknowns: string;
  /** T, x = 1 to 40 mm. */
  readonly Bx: readonly number[];
  readonly Bz: readonly number[];
}

const POINTS = 40;
const here = (name: string): string => join(import.meta.dirname, name);
const stored = JSON.parse(readFileSync(here('../reference/finite-element/six-rods.json'), 'utf8')) as {
  lines: Record<string, { points_mm: number[][]; Bx_T: number[]; Bz_T: number[] }>;
};
const { points_mm, Bx_T, Bz_T } = stored.lines['x_line_y5.2_z2']!;
const origin = points_mm.findIndex(([x]) => x === 0);
const peak = Math.max(...Bz_T.map(Math.abs));

function worst({ Bx, Bz }: Result): number {
  let most = 0;
  for (let i = 0; i < POINTS; i++) {
    const at = origin + 1 + i;
    most = Math.max(most, Math.abs(Bx[i]! - Bx_T[at]!), Math.abs(Bz[i]! - Bz_T[at]!));
  }
  return most / peak;
}

/** Remanence 1 T, recoil permeability 4. */
function boundaryElements(fineness: number): Result {
  const profile = [
    { r: 0, z: -17e-3 },
    { r: 2.425e-3, z: -17e-3 },
    { r: 2.425e-3, z: 0 },
    { r: 0, z: 0 },
  ];
  const start = process.cpuUsage();
  const mesh = ringMesh(profile, fineness);
  const bodies = [5, 3, 1, -1, -3, -5].map((k) => ({
    kind: 'ring' as const,
    mesh,
    x: 0,
    y: k * 5.2e-3,
    z: 0,
  }));
  const coupling = assemble(bodies);
  const load = remanenceLoad(
    coupling,
    bodies.map(() => ({ x: 0, y: 0, z: 1 / MU0 })),
  );
  const density = solveCharges(
    coupling,
    bodies.map(() => 4),
    load,
  );
  const H = { x: 0, y: 0, z: 0 };
  const along = Array.from({ length: POINTS }, (_, i) => {
    chargeField(coupling, density, (i + 1) * 1e-3, 5.2e-3, 2e-3, H);
    return { x: MU0 * H.x, z: MU0 * H.z };
  });
  const { user, system } = process.cpuUsage(start);
  return {
    seconds: (user + system) / 1e6,
    unknowns: `${density.length} unknowns`,
    Bx: along.map(({ x }) => x),
    Bz: along.map(({ z }) => z),
  };
}

/** Null when a program is not there. The mean of six points 0.4 mm about each is exact in a harmonic field to third order. */
function finiteElements(fine: number): Result | null {
  const folder = mkdtempSync(join(tmpdir(), 'lodetone-'));
  const run = (command: string, args: readonly string[]): boolean =>
    spawnSync(command, args, { cwd: folder, stdio: 'ignore' }).status === 0;
  const clock = performance.now();
  try {
    const done =
      run('gmsh', [
        '-3',
        here('finiteElement/sixRods.geo'),
        '-setnumber',
        'fine',
        String(fine),
        '-format',
        'msh22',
        '-o',
        'six.msh',
        '-nt',
        '1',
      ]) &&
      run('getdp', [
        here('finiteElement/sixRods.pro'),
        '-msh',
        'six.msh',
        '-name',
        join(folder, 'six'),
        '-solve',
        'M',
        '-pos',
        'M',
      ]);
    if (!done) return null;
    const wall = (performance.now() - clock) / 1e3;
    const rows = readFileSync(join(folder, 'line.txt'), 'utf8')
      .trim()
      .split('\n')
      .map((line) => line.trim().split(/\s+/).slice(-3).map(Number));
    const mean = (i: number, c: number): number =>
      [0, 1, 2, 3, 4, 5].reduce((sum, k) => sum + rows[k * POINTS + i]![c]! / 6, 0);
    const nodes = /\$Nodes\s+(\d+)/.exec(readFileSync(join(folder, 'six.msh'), 'latin1'))?.[1] ?? '?';
    const index = Array.from({ length: POINTS }, (_, i) => i);
    return {
      seconds: wall,
      unknowns: `${nodes} nodes`,
      Bx: index.map((i) => mean(i, 0)),
      Bz: index.map((i) => mean(i, 2)),
    };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

const say = (name: string, result: Result): void =>
  console.log(
    `${name}: ${result.seconds.toPrecision(3)} s, ${result.unknowns}, worst ${(100 * worst(result)).toFixed(2)} % of the peak`,
  );

console.log(cpus()[0]?.model ?? 'unknown processor');
for (let i = 0; i < 5; i++) boundaryElements(1);
const ours = [0.5, 0.7, 1].map((fineness) => {
  const result = boundaryElements(fineness);
  say(`boundary elements, fineness ${fineness}`, result);
  return result;
});
for (const fine of [0.7, 1]) {
  const theirs = finiteElements(fine);
  if (!theirs) {
    console.log('finite elements: gmsh and getdp are not there; Debian has them under these names.');
    break;
  }
  say(`finite elements, a quarter of the six rods, fineness ${fine}`, theirs);
  const equal = ours
    .filter((result) => worst(result) <= worst(theirs))
    .sort((a, b) => a.seconds - b.seconds)[0];
  if (equal)
    console.log(
      `  boundary elements at least as accurate are ${(theirs.seconds / equal.seconds).toPrecision(2)} times faster`,
    );
}
