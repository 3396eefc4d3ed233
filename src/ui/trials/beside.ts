/** What trials beside one another are heard by and written as: one of each a page, made when they are first looked at. */
import { BlindListen } from '../../state/blind.svelte.ts';
import { TrialExport } from '../../state/trialExport.svelte.ts';
import type { Workbench } from '../../state/workbench.svelte.ts';

interface Beside {
  readonly blind: BlindListen;
  readonly files: TrialExport;
}

const all = new WeakMap<Workbench, Beside>();

function besideOf(bench: Workbench): Beside {
  const known = all.get(bench);
  if (known) return known;
  const made = { blind: new BlindListen(bench.listening), files: new TrialExport(bench.aside) };
  all.set(bench, made);
  return made;
}

export const blindOf = (bench: Workbench): BlindListen => besideOf(bench).blind;
export const filesOf = (bench: Workbench): TrialExport => besideOf(bench).files;
