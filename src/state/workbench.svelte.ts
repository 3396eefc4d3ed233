/**
 * The document on the table with what it comes to: the newest prediction of the open trial, the trial that it is
 * compared with, and what is said about it. Everything on the screen reads from here and changes it through here.
 */
import type { JobClient } from '../jobs/client.ts';
import { withoutBuild } from '../sheet/builds.ts';
import { decodeLink } from '../sheet/link.ts';
import type { Sheet } from '../sheet/sheet.ts';
import * as several from '../sheet/trials.ts';
import { Address } from './address.ts';
import { Closeness } from './closeness.svelte.ts';
import { Comparison, type Other } from './comparison.svelte.ts';
import { OpenDocument, type Path } from './document.svelte.ts';
import { BlindListen } from './blind.svelte.ts';
import { Listening } from './listening.svelte.ts';
import { Modding, type Before } from './modding.svelte.ts';
import { Outcomes, type Outcome } from './outcomes.ts';
import { Pictures } from './picture.svelte.ts';
import { forget, remember } from './storage.ts';
import type { BuildFault, Prediction } from './types.ts';
import { noteWords, placementWords } from './words.ts';

export type { Path } from './document.svelte.ts';
export type { Before } from './modding.svelte.ts';

export interface Preset {
  readonly name: string;
  readonly sheet: Sheet;
}

const FULL = `A sheet holds ${several.MOST_TRIALS} trials; take one out to add another.`;

/** Where the document is kept between visits. */
export const SHEET_KEY = 'lodetone.sheet';

export class Workbench extends OpenDocument {
  readonly presets: readonly Preset[];
  readonly listening: Listening;
  readonly blind: BlindListen;
  readonly closeness: Closeness;
  readonly pictures: Pictures;
  readonly #jobs: JobClient;
  readonly #outcomes = new Outcomes();
  readonly #comparison: Comparison;
  readonly #address = new Address();
  readonly #modding = new Modding(this, (next) => this.show(next, true));
  /** Counts links that were opened: the one asked for last is the one that is shown. */
  #asked = 0;

  prediction: Prediction | null = $state.raw(null);
  /** Which trial `prediction` is of. */
  #predicted = 0;
  /** What is wrong with a build; the prediction is then the last good one. */
  faults: readonly BuildFault[] = $state.raw([]);
  /** The link, shown when the clipboard is out of reach. */
  link = $state('');

  readonly stringNames: readonly string[] = $derived(
    (this.prediction?.openStrings ?? []).map((s) => `${s.string} ${s.name}`),
  );
  readonly words = $derived({
    note: this.prediction ? noteWords(this.prediction) : '',
    placement: placementWords(this.sheet),
  });

  /**
   * @param jobs for the open trial
   * @param aside for the other trials, so that the open one never waits for them
   */
  constructor(first: several.Trials, presets: readonly Preset[], jobs: JobClient, aside: JobClient) {
    super(first);
    this.presets = presets;
    this.#jobs = jobs;
    this.listening = new Listening(() => this.sheet, jobs);
    this.#comparison = new Comparison(() => this.trials, aside, this.#outcomes, this.listening.loudnessOf);
    this.pictures = new Pictures(
      () => this.sheet,
      () => this.chosen,
      jobs,
    );
    this.blind = new BlindListen(this.listening);
    this.closeness = new Closeness(
      () => this.sheet,
      () => this.chosen,
      jobs,
    );
    this.changed();
  }

  /** The trial that the open one is compared with; null while there is but one, and until it is computed. */
  get other(): Other | null {
    return this.#comparison.other;
  }

  /** Which trial that is, from 0, computed or not. */
  get against(): number | null {
    return this.#comparison.index;
  }

  /** By how much the open trial is louder than that one, dB; null until it is known, and where one is silent. */
  get louder(): number | null {
    return this.#comparison.louder;
  }

  letter = (index: number): string => several.letter(index);

  compareWith = (index: number): void => {
    this.#comparison.choose(index);
    void this.#comparison.refresh(true);
  };

  /** Puts another trial on the table, to be compared with the one that lay there. Not a step: nothing is changed. */
  openTrial = (index: number): void => {
    const next = several.openTrial(this.trials, index);
    if (next === this.trials) return;
    this.#comparison.choose(this.trials.open);
    this.#modding.forget();
    this.message = '';
    this.turn(next);
  };

  /** Copies the open trial as the next letter. */
  addTrial = (): void => {
    const { open } = this.trials;
    const next = several.addTrial(this.trials);
    if (next === this.trials) this.message = FULL;
    else if (this.show(next, true))
      this.#beside(
        open,
        `Trial ${this.letter(next.open)} is a copy of ${this.letter(open)}: change it, then switch between them.`,
      );
  };

  removeTrial = (index: number): void => {
    const next = several.removeTrial(this.trials, index);
    if (next === this.trials) return;
    this.#modding.forget();
    if (this.show(next, true))
      this.message = `Trial ${this.letter(index)} is taken out; undo brings it back.`;
  };

  /** A new trial lies on the table, to be compared with the one that it comes from. */
  #beside(from: number, message: string): void {
    this.#comparison.choose(from);
    this.#modding.forget();
    this.message = message;
    void this.#comparison.refresh(true);
  }

  /** Keeps a blind result with the document. */
  keepBlind = (result: several.BlindResult): void => {
    this.show(several.addBlind(this.trials, result), true);
  };

  dropBlind = (index: number): void => {
    this.show(several.removeBlind(this.trials, index), true);
  };

  /** What a mod is compared with: the open trial before it; null when there was none, or it was taken back. */
  get before(): Before | null {
    return this.#modding.before;
  }

  /** One of sheet/mods.ts on the chosen pickup, as one step that is compared with what was before. */
  mod = (what: string, change: (sheet: Sheet, pickup: number) => Sheet): void =>
    this.#modding.do(what, change);

  /** Keeps the state before a mod under the open letter, and what it became as the next trial, beside each other. */
  keepMod = (): void => {
    const { open } = this.trials;
    const { before } = this;
    if (!before) return;
    if (!this.#modding.keep()) this.message = FULL;
    else
      this.#beside(
        open,
        `${this.letter(open)} is as before, ${this.letter(this.trials.open)} is with «${before.what}».`,
      );
  };

  /** Puts away what a mod is compared with. */
  endMod = (): void => this.#modding.forget();

  /** Takes a pickup's build away; what was computed stays as figures given by hand. */
  dropBuild = (index: number): void => {
    const coils = this.prediction?.pickups[index]?.coils;
    if (coils) this.edit(withoutBuild(this.sheet, index, coils));
  };

  /** What is wrong with the figure at a place in the sheet; empty when nothing is. */
  faultAt = (path: Path): string =>
    this.faults.find((f) => f.path.length === path.length && f.path.every((key, i) => key === path[i]))
      ?.message ?? '';

  /** Opens a checked sheet as one step, so that undo brings the old one back: as the open trial if there are others. */
  open = (sheet: Sheet): void => {
    const next = several.placeSheet(this.trials, sheet);
    const beside = next.trials.length > 1;
    this.#modding.forget();
    this.lay(next, beside ? `Opened as trial ${this.letter(next.open)}, on the strings of the others.` : '');
  };

  /** Opens what a link carries; a link that can't be read leaves everything as it is and says so. */
  openLink = async (fragment: string): Promise<void> => {
    const asked = ++this.#asked;
    const read = await decodeLink(fragment);
    if (asked !== this.#asked) return;
    if (!read.ok) this.message = read.message;
    else if (this.lay(read.trials, 'The sheet from the link is open; undo brings yours back.'))
      this.#address.put(read.trials, fragment.replace(/^#/, ''));
  };

  copyLink = async (): Promise<void> => {
    const url = await this.#address.linkOf(() => this.trials);
    try {
      await navigator.clipboard.writeText(url);
      this.link = '';
      this.message = 'The link is copied. It holds the whole sheet; nothing is stored anywhere else.';
    } catch {
      this.link = url;
      this.message = 'The browser keeps the clipboard closed. The link is shown instead: copy it from there.';
    }
  };

  /** Back to the first preset alone, with nothing remembered. */
  startAfresh = (): void => {
    const first = this.presets[0];
    if (first) this.lay(several.wrap(first.sheet), '');
    forget(SHEET_KEY);
  };

  protected kept(): void {
    remember(SHEET_KEY, JSON.stringify(this.trials));
    this.#address.settle(this.trials);
  }

  protected changed(): void {
    void this.#predict(this.sheet, this.trials.open);
    this.listening.changed();
  }

  async #predict(sheet: Sheet, trial: number): Promise<void> {
    const known = this.#outcomes.get(sheet);
    // What is asked for another sheet must not come over this one.
    if (known || trial !== this.#predicted) this.#jobs.cancel('figures');
    const outcome = known ?? (await this.#ask(sheet, trial));
    if (!outcome) return;
    this.#predicted = trial;
    this.prediction = outcome.prediction;
    this.faults = outcome.faults;
    if (outcome.message) this.message = outcome.message;
    await this.#comparison.refresh(this.resting);
  }

  async #ask(sheet: Sheet, trial: number): Promise<Outcome | null> {
    const answer = await this.#jobs.figures(sheet);
    if (answer.status === 'superseded') return null;
    const outcome: Outcome =
      answer.status === 'done'
        ? { prediction: answer.value, faults: [], message: '' }
        : {
            // Of another trial it would be a false picture.
            prediction: trial === this.#predicted ? this.prediction : null,
            faults: answer.faults ?? [],
            message: answer.message,
          };
    this.#outcomes.set(sheet, outcome);
    return outcome;
  }
}
