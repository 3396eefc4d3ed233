/** The trial that the open one is compared with, and its prediction. */
import type { JobClient } from '../jobs/client.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { currentSheet, letter, type Trials } from '../sheet/trials.ts';
import { Louder, type Beside, type LoudnessOf } from './louder.svelte.ts';
import type { Outcomes } from './outcomes.ts';
import type { Prediction, Voice } from './types.ts';

/** A trial beside the open one; `index` from 0. */
export interface Other {
  readonly index: number;
  readonly letter: string;
  readonly sheet: Sheet;
  readonly prediction: Prediction;
  /** What its selector lets through. */
  readonly voice: Voice;
}

/** What is computed for a trial that is not on the table. */
interface Computed {
  readonly index: number;
  /** How many trials there were: when one goes, others move up. */
  readonly of: number;
  readonly prediction: Prediction;
}

/** Which trial is compared, and the predictions of all that are not open. */
export class Comparison {
  readonly #trials: () => Trials;
  readonly #jobs: JobClient;
  readonly #outcomes: Outcomes;
  readonly #loudnessOf: LoudnessOf;
  readonly #louder: Louder;

  #wanted: number | null = $state(null);
  #computed: Computed | null = $state.raw(null);
  /** The other one when it can't be computed, and why. */
  #failed: { readonly sheet: Sheet; readonly message: string } | null = $state.raw(null);
  #turn = 0;

  /** Which trial; null while there is but one. */
  readonly index: number | null = $derived.by(() => {
    const { trials, open } = this.#trials();
    const wanted = this.#wanted;
    if (wanted !== null && wanted !== open && trials[wanted]) return wanted;
    return trials.length < 2 ? null : open === 0 ? 1 : 0;
  });

  /** null while there is but one trial, and until the other's prediction is there. */
  readonly other: Other | null = $derived.by(() => {
    const { index } = this;
    const computed = this.#computed;
    const { trials } = this.#trials();
    const sheet = index === null ? undefined : trials[index];
    if (index === null || !sheet || computed?.index !== index || computed.of !== trials.length) return null;
    const { prediction } = computed;
    const voice = prediction.voices[prediction.sounding];
    return voice ? { index, letter: letter(index), sheet, prediction, voice } : null;
  });

  /** Why the other one can't be computed as it is; empty when it can. */
  readonly trouble: string = $derived.by(() => {
    const failed = this.#failed;
    const { trials } = this.#trials();
    return failed && this.index !== null && trials[this.index] === failed.sheet ? failed.message : '';
  });

  /** What is heard of the open trial beside the other; null where that is not known. */
  readonly beside: Beside | null = $derived.by(() => {
    const document = this.#trials();
    return this.index === null ? null : this.#louder.of(currentSheet(document), document.trials[this.index]);
  });

  /** The same, or what it was before the open trial was last changed, until that is known. */
  readonly lately: Beside | null = $derived.by(() => {
    const { index } = this;
    return this.beside ?? (index === null ? null : this.#louder.lately(this.#trials().trials[index]));
  });

  /** @param jobs a client of its own, so that the open trial's figures never wait for the others' */
  constructor(trials: () => Trials, jobs: JobClient, outcomes: Outcomes, loudnessOf: LoudnessOf) {
    this.#trials = trials;
    this.#jobs = jobs;
    this.#outcomes = outcomes;
    this.#loudnessOf = loudnessOf;
    this.#louder = new Louder(loudnessOf, jobs);
  }

  /** What a sheet comes to, known or computed aside; null when it can't be had. */
  async predictionOf(sheet: Sheet): Promise<Prediction | null> {
    const known = this.#outcomes.get(sheet);
    if (known) return known.prediction;
    const answer = await this.#jobs.figures(sheet);
    return answer.status === 'done' ? answer.value : null;
  }

  /** @param index of the trial to compare with, from 0; what is not there, or open, does not count */
  choose(index: number): void {
    this.#wanted = index;
  }

  /** A trial has been taken out: later ones have moved up. */
  removed(index: number): void {
    if (this.#wanted === null || this.#wanted < index) return;
    this.#wanted = this.#wanted === index ? null : this.#wanted - 1;
  }

  /**
   * Brings the other trial's prediction up to date; to be called when the open one's is there.
   * @param all computes those of all further trials as well, so that they are there when one turns to them, and how
   *   loud the two are
   */
  async refresh(all: boolean): Promise<void> {
    const turn = ++this.#turn;
    const { index } = this;
    const { trials, open } = this.#trials();
    if (index === null) return;
    // While a handle moves, what it passes must not push the others out.
    for (const trial of trials) this.#outcomes.get(trial);
    this.#takeKnown(index);
    if (all) this.#listen(index);
    const further = trials.flatMap((_, i) => (all && i !== index && i !== open ? [i] : []));
    for (const i of [index, ...further]) {
      const sheet = trials[i];
      if (!sheet || this.#outcomes.get(sheet)) continue;
      const answer = await this.#jobs.figures(sheet);
      // One that is a little old still moves the picture; a newer one is then on its way.
      if (answer.status === 'done') {
        this.#outcomes.set(sheet, { prediction: answer.value, faults: [], message: '' });
        if (i === index && i === this.index)
          this.#computed = { index, of: trials.length, prediction: answer.value };
      } else if (answer.status === 'failed' && i === index) this.#failed = { sheet, message: answer.message };
      if (turn !== this.#turn) return;
    }
  }

  #listen(index: number): void {
    const document = this.#trials();
    const than = document.trials[index];
    if (than) void this.#louder.ask(currentSheet(document), than);
    // The further ones too, so that turning to them is matched from the first sample.
    for (const further of document.trials) void this.#loudnessOf(further);
  }

  #takeKnown(index: number): void {
    const { trials } = this.#trials();
    const sheet = trials[index];
    const known = sheet && this.#outcomes.get(sheet);
    if (sheet && known?.message) this.#failed = { sheet, message: known.message };
    const prediction = known?.prediction;
    if (prediction) this.#computed = { index, of: trials.length, prediction };
  }
}
