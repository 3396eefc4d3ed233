/**
 * The document on the table: its trials with their history, and every change of the open one. A change that breaks a
 * rule is refused in words and changes nothing.
 */
import { objection } from '../sheet/checkTrials.ts';
import { leadsSomewhere, setAt, type SheetPath } from '../sheet/edit.ts';
import * as history from '../sheet/history.ts';
import { leftOut, plainText } from '../sheet/plainText.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { withSounding } from '../sheet/sounding.ts';
import { currentSheet, editAll, editOpen, sameContent, type Trials } from '../sheet/trials.ts';

/** A place in the open sheet, from its root. */
export type Path = readonly (string | number)[];

/** The first pickup that sounds is the one to look at. */
const firstSounding = (sheet: Sheet): number =>
  Math.max(
    0,
    sheet.pickups.findIndex((p) => p.sounds),
  );

const GONE = 'What was typed belongs to a part that this sheet does not have; nothing was changed.';

/** Pickups and sets of controls are counted from 0. */
export abstract class OpenDocument {
  #history = $state.raw() as history.History<Trials>;
  #chosen = $state(0);
  /** One plain sentence, said once and shown; empty when there is nothing to say. */
  message = $state('');

  /** With what a gesture under way previews. */
  readonly trials: Trials = $derived(this.#history.present);
  /** The open trial. */
  readonly sheet: Sheet = $derived(currentSheet(this.trials));
  /** Whether undo and redo would change anything. */
  readonly canUndo: boolean = $derived(history.canUndo(this.#history));
  readonly canRedo: boolean = $derived(history.canRedo(this.#history));
  /** Whether no gesture is under way. */
  readonly resting: boolean = $derived(this.#history.before === null);
  /** The pickup that the section shows. */
  readonly chosen: number = $derived(Math.min(this.#chosen, this.sheet.pickups.length - 1));

  constructor(first: history.History<Trials>) {
    this.#history = first;
    this.#chosen = firstSounding(currentSheet(first.present));
  }

  /** All that undo and redo can bring back. */
  protected get line(): history.History<Trials> {
    return this.#history;
  }

  /** Called after every change of what is on the table. */
  protected abstract changed(): void;
  /** Called when a change stays: the place to keep the document. */
  protected abstract kept(): void;
  /** Called before another document takes the place of this one, with those of its steps that undo won't have any more. */
  protected abstract leaving(line: history.History<Trials>): void;

  /** Looks at another pickup: nothing that undo counts. */
  choose = (index: number): void => {
    this.#chosen = index;
  };

  /** Shows a change while a gesture lasts. */
  preview = (path: Path, value: unknown): void => {
    this.show(editOpen(this.trials, setAt(this.sheet, path as SheetPath, value as never)), false);
  };

  /** Ends a gesture as one step. */
  commit = (): void => {
    const shown = this.trials;
    this.#history = history.commit(this.#history);
    // Back where it began is the very document from before: what is asked about the other is of no account any more.
    if (this.trials !== shown) this.changed();
    this.kept();
  };

  /** Ends a gesture as if it had never been. */
  cancel = (): void => {
    this.message = '';
    this.#history = history.cancel(this.#history);
    this.changed();
    this.kept();
  };

  /** A change without a preview: one step. */
  set = (path: Path, value: unknown): void => {
    this.put(path, value);
  };

  /** The same; returns why it was refused, empty when it was not. */
  put = (path: Path, value: unknown): string => {
    // What is still typed when another sheet comes is read a moment later.
    if (!leadsSomewhere(this.sheet, path)) return (this.message = GONE);
    const plain = typeof value === 'string' ? plainText(value) : value;
    if (!this.show(editOpen(this.trials, setAt(this.sheet, path as SheetPath, plain as never)), true))
      return this.message;
    if (typeof value === 'string' && plain !== value) this.message = leftOut(value);
    return '';
  };

  /** One step back or forward; undo in a gesture cancels it. */
  undo = (): void => this.#step(history.undo(this.#history));
  redo = (): void => this.#step(history.redo(this.#history));

  #step(to: history.History<Trials>): void {
    this.message = ''; // what it said was of what is left now
    this.#history = to;
    this.changed();
    this.commit();
  }

  /** A change of structure, such as those of sheet/compose.ts, as one step. */
  restructure = (change: (sheet: Sheet) => Sheet): void => this.edit(change(this.sheet));

  /** What the selector lets through; a single pickup is also the one looked at. */
  sound = (pickups: readonly number[]): void => {
    const [only] = pickups;
    if (pickups.length === 1 && only !== undefined) this.#chosen = only;
    this.edit(withSounding(this.sheet, pickups));
  };

  /**
   * A change of all trials, as one step. Returns why it was refused, empty when it was not.
   * @param words what it brought with it, to be said
   */
  restructureAll = (
    change: (sheet: Sheet) => Sheet,
    words: (before: Sheet, after: Sheet) => string,
  ): string => {
    const before = this.sheet;
    if (!this.show(editAll(this.trials, change), true)) return this.message;
    this.message = words(before, this.sheet);
    return '';
  };

  /** Exchanges the open trial, as one step; its instrument and way of listening go to the others. */
  protected edit(sheet: Sheet): void {
    this.show(editOpen(this.trials, sheet), true);
  }

  /** Returns whether it was let in. */
  protected show(next: Trials, whole: boolean): boolean {
    if (next === this.trials) {
      if (whole) this.commit();
      return true;
    }
    const refused = objection(next, this.trials);
    if (refused !== '') {
      this.message = refused;
      return false;
    }
    this.message = '';
    this.#history = whole ? history.record(this.#history, next) : history.preview(this.#history, next);
    if (whole) this.commit();
    this.changed();
    return true;
  }

  /** Another document, as one step. `line`: what undo and redo of it could bring back, to come behind all other steps. */
  protected lay(next: Trials, message: string, line = history.newHistory(next)): boolean {
    this.#history = history.commit(this.#history);
    const own = this.#history;
    const old = this.trials;
    const whole = !history.canHold(own, line);
    if (objection(next, old) === '' && (whole || !sameContent(next, old)))
      this.leaving(whole ? own : history.newHistory(old));
    if (!this.show(next, true)) return false;
    if (history.canUndo(line) || history.canRedo(line)) {
      this.#history = history.adopt(own, { ...line, present: this.trials });
      this.kept();
    }
    this.#chosen = firstSounding(this.sheet);
    this.message = message;
    return true;
  }

  /** Turns to another trial: nothing that undo counts. */
  protected turn(next: Trials): void {
    this.#history = history.replace(history.commit(this.#history), next);
    this.changed();
    this.kept();
  }
}
