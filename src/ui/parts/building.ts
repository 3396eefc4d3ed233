/** Building a pickup from a start, and taking its build away: each one step. */
import { afreshWords } from '../../sheet/afreshWords.ts';
import { startingBuilds, withBuild, withoutBuild } from '../../sheet/builds.ts';
import type { Workbench } from '../../state/workbench.svelte.ts';
import { byHand } from '../section/reachBy.ts';

/** By the start's name; says what differs from the build before, where there was one. */
export function buildFrom(bench: Workbench, index: number, name: string): void {
  const before = bench.sheet;
  const start = startingBuilds(before.instrument.strings.length).find((one) => one.name === name);
  if (!start) return;
  const after = withBuild(before, index, start);
  const refused = bench.put(['pickups', index], after.pickups[index]);
  if (refused === '' && before.pickups[index]?.build) bench.message = afreshWords(before, after, index, name);
}

/** Its reach and coils stay as they were computed, as figures given by hand. */
export function dropBuild(bench: Workbench, index: number): void {
  const coils = bench.prediction?.pickups[index]?.coils;
  if (coils) bench.set(['pickups', index], withoutBuild(byHand(bench, index), index, coils).pickups[index]);
}
