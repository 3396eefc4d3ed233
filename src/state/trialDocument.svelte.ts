/** The document with its trials beside one another: turning between them, comparing them, and mods that make one more. */
import type { JobClient } from '../jobs/client.ts';
import type { History } from '../sheet/history.ts';
import type { Sheet, Spread, SpreadKey } from '../sheet/sheet.ts';
import { DEFAULT_SPREAD } from '../sheet/spread.ts';
import * as several from '../sheet/trials.ts';
import { Comparison, type Other } from './comparison.svelte.ts';
import { OpenDocument } from './document.svelte.ts';
import type { Level } from './levels.ts';
import { Louder, type Beside } from './louder.svelte.ts';
import { Modding, type Before, type Mod } from './modding.svelte.ts';
import { Outcomes } from './outcomes.ts';

const FULL = `A sheet holds ${several.MOST_TRIALS} trials; take one out to add another.`;

/** Trials are counted from 0. */
export abstract class TrialDocument extends OpenDocument {
  protected readonly outcomes = new Outcomes();
  protected readonly comparison: Comparison;
  readonly #louder: Louder;
  readonly #modding = new Modding(
    this,
    (next) => this.show(next, true),
    (sheet) => this.comparison.predictionOf(sheet),
  );

  protected abstract loudnessOf: (sheet: Sheet) => Promise<Level | null>;

  /** @param aside computes the other trials, so that the open one never waits for them */
  constructor(first: History<several.Trials>, aside: JobClient) {
    super(first);
    this.#louder = new Louder((sheet) => this.loudnessOf(sheet), aside);
    this.comparison = new Comparison(
      () => this.trials,
      aside,
      this.outcomes,
      (sheet) => this.loudnessOf(sheet),
    );
  }

  /** The trial that the open one is compared with; null while there is but one, and until it is computed. */
  get other(): Other | null {
    return this.comparison.other;
  }

  /** Which trial that is, from 0, computed or not. */
  get against(): number | null {
    return this.comparison.index;
  }

  /** Why that one can't be computed as it is; empty when it can. */
  get otherTrouble(): string {
    return this.comparison.trouble;
  }

  /** What is heard of the open trial beside that one; null until it is known. */
  get beside(): Beside | null {
    return this.comparison.beside;
  }

  /** The same, or what was known last until it is. */
  get besideLately(): Beside | null {
    return this.comparison.lately;
  }

  /** A, B, C … for 0, 1, 2 … */
  letter = (index: number): string => several.letter(index);

  /** Chooses the other trial: nothing that undo counts. */
  compareWith = (index: number): void => {
    this.comparison.choose(index);
    void this.comparison.refresh(true);
  };

  /** Puts another trial on the table, to be compared with the one that lay there. Not a step: nothing is changed. */
  openTrial = (index: number): void => {
    const next = several.openTrial(this.trials, index);
    if (next === this.trials) return;
    this.comparison.choose(this.trials.open);
    this.#modding.forget();
    this.message = '';
    this.turn(next);
  };

  /** Copies the open trial as the next letter. */
  addTrial = (): void => {
    const { open } = this.trials;
    const next = several.addTrial(this.trials);
    // But for its title the copy is the same.
    const known = this.outcomes.get(this.sheet);
    if (known) this.outcomes.set(several.currentSheet(next), known);
    if (next === this.trials) this.message = FULL;
    else if (this.show(next, true))
      this.#beside(
        open,
        `Trial ${this.letter(next.open)} is a copy of ${this.letter(open)}: change it, then switch between them.`,
      );
  };

  /** A changed copy of the open trial as the next letter, beside it. @param what «turns 7500 → 7650» */
  addChanged = (sheet: Sheet, what: string): void => {
    const { open } = this.trials;
    const next = several.addChanged(this.trials, sheet);
    if (next === this.trials) this.message = FULL;
    else if (this.show(next, true))
      this.#beside(open, `Trial ${this.letter(next.open)} is ${this.letter(open)} with ${what}.`);
  };

  /** What the maker can't hold. */
  get spread(): Spread {
    return this.trials.spread ?? DEFAULT_SPREAD;
  }

  /** Sets one of it, as one step. */
  setSpread = (key: SpreadKey, value: number): void => {
    this.show(several.withSpread(this.trials, { ...this.spread, [key]: value }), true);
  };

  /** What is wanted of a pickup and what there is for it, as one step; undefined where nobody says. */
  setSearch = (search: string | undefined): void => {
    this.show(several.withSearch(this.trials, search), true);
  };

  /** Takes a trial out, as one step; the last one stays. */
  removeTrial = (index: number): void => {
    const next = several.removeTrial(this.trials, index);
    if (next === this.trials) return;
    this.#modding.forget();
    this.comparison.removed(index);
    if (this.show(next, true))
      this.message = `Trial ${this.letter(index)} is taken out; undo brings it back.`;
  };

  /** Opens a checked sheet as one step, so that undo brings the old one back: as the open trial if there are others. */
  open = (sheet: Sheet): void => {
    const next = several.placeSheet(this.trials, sheet);
    const beside = next.trials.length > 1;
    this.#modding.forget();
    this.lay(next, beside ? `Opened as trial ${this.letter(next.open)}, on the strings of the others.` : '');
  };

  /** A new trial lies on the table, to be compared with the one that it comes from. */
  #beside(from: number, message: string): void {
    this.comparison.choose(from);
    this.#modding.forget();
    this.message = message;
    void this.comparison.refresh(true);
  }

  /** Keeps a blind result with the document. */
  keepBlind = (result: several.BlindResult): void => {
    this.show(several.addBlind(this.trials, result), true);
  };

  /** Takes a blind result out of the document. */
  dropBlind = (index: number): void => {
    this.show(several.removeBlind(this.trials, index), true);
  };

  /** What a mod is compared with: the open trial before it; null when there was none, or it was taken back. */
  get before(): Before | null {
    return this.#modding.before;
  }

  /** What is heard of it now beside what it was before the mod; null until it is known. */
  get modBeside(): Beside | null {
    return this.#louder.of(this.sheet, this.before?.sheet);
  }

  /** The same, or what was known of the mod before until it is. */
  get modLately(): Beside | null {
    return this.modBeside ?? (this.before && this.#louder.lately());
  }

  /**
   * One of sheet/mods.ts on the chosen pickup, as one step that is compared with what was before; returns why it can't be
   * done, empty when it was.
   */
  mod = (what: string, change: Mod): string => this.#modding.do(what, change);

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

  /** To be called when the open trial's prediction is there. */
  protected async compare(): Promise<void> {
    const { before, resting, sheet } = this;
    if (!before) this.#louder.forget();
    else if (resting) void this.#louder.ask(sheet, before.sheet);
    await this.comparison.refresh(resting);
  }

  /** Puts away what a mod is compared with. */
  endMod = (): void => this.#modding.forget();
}
