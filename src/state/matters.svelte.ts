/** What matters most of the chosen pickup, found when it is asked for: one step after another. */
import type { JobValue } from '../jobs/protocol.ts';
import { checkSheet } from '../sheet/check.ts';
import type { Sheet, Spread } from '../sheet/sheet.ts';
import { stepsOf, type Step } from '../sheet/steps.ts';
import type { Workbench } from './workbench.svelte.ts';

/** A step, and what it does. */
export interface Mattering {
  readonly step: Step;
  readonly way: 'up' | 'down';
  readonly effect: NonNullable<JobValue['matters']>['effect'];
}

interface Found {
  readonly sheet: Sheet;
  readonly pickup: number;
  readonly spread: Spread;
  readonly steps: readonly Mattering[];
}

/** One while the place is open. */
export class Matters {
  readonly #bench: Workbench;
  #turn = 0;
  /** How many steps are taken, and of how many; null while nobody asks. */
  taken: { readonly done: number; readonly of: number } | null = $state.raw(null);
  found: Found | null = $state.raw(null);
  message = $state('');

  /** Whether what was found is of another sheet or pickup than is looked at. */
  readonly older: boolean = $derived.by(() => {
    const { found } = this;
    const { sheet, chosen, spread } = this.#bench;
    return found !== null && (found.sheet !== sheet || found.pickup !== chosen || found.spread !== spread);
  });

  constructor(bench: Workbench) {
    this.#bench = bench;
  }

  /** Takes every step; what was found before stays until they are taken. */
  take = async (): Promise<void> => {
    const turn = ++this.#turn;
    const { sheet, chosen: pickup, spread, prediction } = this.#bench;
    const resistances = prediction?.pickups[pickup]?.coils.map(({ resistance }) => resistance) ?? [];
    const steps = stepsOf(sheet, pickup, spread, resistances);
    const all: Mattering[] = [];
    this.message = '';
    for (const [done, step] of steps.entries()) {
      this.taken = { done, of: steps.length };
      const built = (one: Sheet): Sheet | null => (checkSheet(one).ok ? one : null);
      const answer = await this.#bench.aside.matters(sheet, {
        ...{ pickup, up: built(step.up), down: built(step.down) },
      });
      if (turn !== this.#turn) return;
      if (answer.status !== 'done') {
        this.taken = null;
        this.message = answer.status === 'failed' ? answer.message : '';
        return;
      }
      if (answer.value) all.push({ step, ...answer.value });
    }
    this.taken = null;
    this.found = { sheet, pickup, spread, steps: all };
  };

  /** Takes no more. */
  cancel = (): void => {
    this.#turn++;
    this.taken = null;
  };

  /** Makes a step a trial. */
  try = ({ step, way }: Mattering): void => {
    const [up, down] = step.words;
    this.#bench.addChanged(way === 'up' ? step.up : step.down, way === 'up' ? up : down);
  };
}
