/** The first walk: what a newcomer does once, step by step, on whatever sheet is open. It goes on when a step is really done. */
import type { Pickup } from '../sheet/sheet.ts';
import { MOST_TRIALS } from '../sheet/trials.ts';
import type { Workbench } from './workbench.svelte.ts';

export type WalkStep = 'drag' | 'hear' | 'keep' | 'compare' | 'send' | 'end';

/** In the order of a bench: make, hear, keep, compare, send. */
export const WALK: readonly WalkStep[] = ['drag', 'hear', 'keep', 'compare', 'send', 'end'];

export type WalkBench = Pick<Workbench, 'sheet' | 'resting' | 'trials' | 'listening'>;

/** How the document was when a step began. */
interface Began {
  readonly pickups: readonly Pickup[];
  readonly open: number;
  readonly count: number;
}

/** One while somebody walks. It changes nothing of the document. */
export class Walk {
  readonly #bench: WalkBench;
  #at = $state(0);
  #began: Began;
  /** Whether the link was asked for in this step. */
  #sent = $state(false);

  readonly step: WalkStep = $derived(WALK[this.#at] ?? 'end');
  /** Counted from 1, of those before the end. */
  readonly number: number = $derived(this.#at + 1);
  /** Whether what the step asks for has been done; never at the end. */
  readonly done: boolean = $derived(this.#isDone(this.step));

  constructor(bench: WalkBench) {
    this.#bench = bench;
    this.#began = this.#now();
  }

  /** To the next step, done or passed over. */
  next = (): void => {
    if (this.step === 'end') return;
    this.#began = this.#now();
    this.#sent = false;
    this.#at++;
  };

  /** To be told when the link was asked for. */
  sent = (): void => {
    this.#sent = true;
  };

  #now(): Began {
    const { sheet, trials } = this.#bench;
    return { pickups: sheet.pickups, open: trials.open, count: trials.trials.length };
  }

  #isDone(step: WalkStep): boolean {
    const { sheet, resting, trials, listening } = this.#bench;
    const { pickups, open, count } = this.#began;
    switch (step) {
      case 'drag':
        // What is dragged back to where it was has not been changed.
        return resting && JSON.stringify(sheet.pickups) !== JSON.stringify(pickups);
      case 'hear':
        return listening.playing;
      case 'keep':
        return trials.trials.length > count || trials.trials.length >= MOST_TRIALS;
      case 'compare':
        return trials.open !== open;
      case 'send':
        return this.#sent;
      case 'end':
        return false;
    }
  }
}
