/** Mods on the open trial: each one step, and compared with what was before it. */
import type { Modded } from '../sheet/mods.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { editOpen, splitTrial, type Trials } from '../sheet/trials.ts';
import type { Prediction } from './types.ts';

/** The state before a mod, for showing what it changed. */
export interface Before {
  /** What was done, in words that follow a title: «screws trimmed by 3.0 mm». */
  readonly what: string;
  readonly pickup: number;
  readonly prediction: Prediction;
  readonly sheet: Sheet;
  /** What the mod made of it. */
  readonly after: Sheet;
}

/** One of sheet/mods.ts with its figures. */
export type Mod = (sheet: Sheet, pickup: number) => Modded;

/** What is needed of the bench. */
interface Bench {
  readonly trials: Trials;
  readonly sheet: Sheet;
  readonly chosen: number;
  message: string;
}

/** What a sheet comes to; null when that can't be had. */
type PredictionOf = (sheet: Sheet) => Promise<Prediction | null>;

const LONGEST_TITLE = 80;

/** The newest mod alone. */
export class Modding {
  readonly #bench: Bench;
  readonly #show: (next: Trials) => boolean;
  readonly #predictionOf: PredictionOf;
  #before: Before | null = $state.raw(null);

  /** null when there was none, or it was taken back, or a pickup was put in or taken out since: which is which is not told. */
  readonly before: Before | null = $derived.by(() => {
    const before = this.#before;
    const { sheet } = this.#bench;
    const same = before?.sheet.pickups.length === sheet.pickups.length;
    return before?.sheet === sheet || !same ? null : before;
  });

  /** @param show puts a changed document on the table as one step, or refuses it in words */
  constructor(bench: Bench, show: (next: Trials) => boolean, predictionOf: PredictionOf) {
    this.#bench = bench;
    this.#show = show;
    this.#predictionOf = predictionOf;
  }

  /** Does it to the chosen pickup, or returns why that can't be done; empty when it was. */
  do(what: string, change: Mod): string {
    const { sheet, chosen: pickup, trials } = this.#bench;
    const made = change(sheet, pickup);
    if (!made.ok) return (this.#bench.message = made.message);
    if (!this.#show(editOpen(trials, made.sheet))) return this.#bench.message;
    // What was compared before goes on to be until this is known: it is before all that was changed since as well.
    void this.#remember(what, pickup, sheet, made.sheet);
    return '';
  }

  async #remember(what: string, pickup: number, sheet: Sheet, after: Sheet): Promise<void> {
    // Of this very sheet: where one mod follows another at once, the newest prediction may be older.
    const prediction = await this.#predictionOf(sheet);
    if (this.#bench.sheet === after) this.#before = prediction && { what, pickup, prediction, sheet, after };
  }

  /** What was before keeps the open letter, and what it became is the next trial. Returns whether there was room. */
  keep(): boolean {
    const { before } = this;
    const { sheet, trials } = this.#bench;
    if (!before) return false;
    const title = `${sheet.title}, ${before.what}`;
    const named = before.after === sheet && title.length <= LONGEST_TITLE ? { ...sheet, title } : sheet;
    const changed = editOpen(trials, named);
    const next = splitTrial(changed, before.sheet);
    return next !== changed && this.#show(next);
  }

  /** Nothing is compared any more. */
  forget(): void {
    this.#before = null;
  }
}
