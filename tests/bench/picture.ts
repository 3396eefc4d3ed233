/** Time of the pictures of a field, in ms of processor time: npm run bench -- picture. Asserts nothing. */
import type { BuiltPickup } from '../../src/physics/magnetics/build/build.ts';
import { planPicture, stringSurface } from '../../src/physics/picture/plan.ts';
import { sectionPicture, sectionPlane } from '../../src/physics/picture/section.ts';
import { contours, refined } from '../../src/plot/contour.ts';
import { filings } from '../../src/plot/filings.ts';
import { fluxLines } from '../../src/plot/fluxLines.ts';
import { sixRods, stringSet, twoRows } from '../fixtures/pickups.ts';
import { fieldSources } from '../fixtures/fieldSources.ts';

/** The same geometry, a hair longer each time, so that nothing kept from the last run helps. */
const stretched = (build: BuiltPickup, run: number): BuiltPickup => ({
  ...build,
  rows: build.rows.map((row) => ({
    ...row,
    pole: { ...row.pole, length: row.pole.length * (1 + 1e-4 * run) },
  })),
});

function timed(work: (run: number) => void, runs = 11): string {
  for (let run = 0; run < 8; run++) work(run);
  const took: number[] = [];
  for (let run = 8; run < 8 + runs; run++) {
    const start = process.cpuUsage();
    work(run);
    const spent = process.cpuUsage(start);
    took.push((spent.user + spent.system) / 1e3);
  }
  return took.sort((a, b) => a - b)[Math.floor(runs / 2)]!.toFixed(1);
}

const strings = stringSet();
for (const [name, build] of [
  ['six rods', sixRods('alnico 5')],
  ['two rows beside a bar', twoRows()],
] as const) {
  const sources = fieldSources(build);
  const y = sectionPlane(build, strings[2]!.y);
  const surface = stringSurface(build, strings);
  const section = sectionPicture(sources, y, 0);
  const plan = planPicture(sources, surface);
  const screen = { x0: 320, perU: -640 / 0.056, y0: 180, perV: -640 / 0.056 };
  const grid = { ...plan, dx: plan.step, dy: plan.step };
  const times = {
    'solve magnets': timed((run) => fieldSources(stretched(build, run))),
    section: timed(() => sectionPicture(sources, y, 0)),
    plan: timed(() => planPicture(sources, surface)),
    filings: timed(() => filings(section, { screen, width: 640, height: 420 })),
    'flux lines': timed(() => fluxLines(section, section.starts)),
    'seven contours': timed(() => {
      const fine = refined(grid, 3);
      for (let k = 1; k <= 7; k++) contours(fine, 0.002 * k);
    }),
  };
  console.log(
    `${name}: ${Object.entries(times)
      .map(([what, ms]) => `${what} ${ms}`)
      .join(', ')} ms`,
  );
}
