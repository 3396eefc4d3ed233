/**
 * The open sheet: its history, its newest prediction, what is looked at, and what is said about it. Everything on
 * the screen reads from here and changes it through here.
 */
import type { JobClient } from '../jobs/client.ts';
import { checkSheet } from '../sheet/check.ts';
import * as compose from '../sheet/compose.ts';
import { STARTING_BUILDS, withBuild, withoutBuild } from '../sheet/builds.ts';
import { setAt, type SheetPath } from '../sheet/edit.ts';
import * as history from '../sheet/history.ts';
import { decodeLink, encodeLink } from '../sheet/link.ts';
import { currentSheet, wrap } from '../sheet/trials.ts';
import type { Harness, Sheet } from '../sheet/sheet.ts';
import { STRING_SETS } from '../sheet/strings.ts';
import { Listening } from './listening.svelte.ts';
import { forget, remember } from './storage.ts';
import type { BuildFault, Prediction } from './types.ts';
import { noteWords, placementWords } from './words.ts';

export type Path = readonly (string | number)[];

export interface Preset {
  readonly name: string;
  readonly sheet: Sheet;
}

/** The state before a mod, for showing what it changed. */
export interface Before {
  /** What was done, in words: «trim the screws by 3.0 mm». */
  readonly what: string;
  readonly pickup: number;
  readonly prediction: Prediction;
}

/** Where the open sheet is kept between visits. */
export const SHEET_KEY = 'lodetone.sheet';

export class Workbench {
  readonly presets: readonly Preset[];
  readonly listening: Listening;
  readonly #jobs: JobClient;

  #history = $state.raw() as history.History<Sheet>;
  #chosen = $state(0);
  /** The sheet whose link stands in the address, if it is one that we know of. */
  #linked: Sheet | null = null;
  prediction: Prediction | null = $state.raw(null);
  /** What is wrong with a build; the prediction is then the last good one. */
  faults: readonly BuildFault[] = $state.raw([]);
  /** What a mod is compared with: the prediction before it. */
  before: Before | null = $state.raw(null);
  /** One plain sentence, said once and shown; empty when there is nothing to say. */
  message = $state('');
  /** The link, shown when the clipboard is out of reach. */
  link = $state('');

  readonly sheet: Sheet = $derived(this.#history.present);
  readonly canUndo: boolean = $derived(history.canUndo(this.#history));
  readonly canRedo: boolean = $derived(history.canRedo(this.#history));
  /** The pickup that the section shows. */
  readonly chosen: number = $derived(Math.min(this.#chosen, this.sheet.pickups.length - 1));
  readonly stringNames: readonly string[] = $derived(
    (this.prediction?.openStrings ?? []).map((s) => `${s.string} ${s.name}`),
  );
  readonly words = $derived({
    note: this.prediction ? noteWords(this.prediction) : '',
    placement: placementWords(this.sheet),
  });

  constructor(first: Sheet, presets: readonly Preset[], jobs: JobClient) {
    this.#history = history.newHistory(first);
    this.presets = presets;
    this.#jobs = jobs;
    this.#chosen = Math.max(
      0,
      first.pickups.findIndex((p) => p.sounds),
    );
    this.listening = new Listening(() => this.sheet, jobs);
    this.#changed();
  }

  choose = (index: number): void => {
    this.#chosen = index;
  };

  /** Shows a change while a gesture lasts. A change that breaks a rule is refused in words and changes nothing. */
  preview = (path: Path, value: unknown): void => {
    this.#show(setAt(this.sheet, path as SheetPath, value as never), false);
  };

  commit = (): void => {
    this.#history = history.commit(this.#history);
    remember(SHEET_KEY, JSON.stringify(this.sheet));
    // A link that is no longer this sheet's would win over the kept sheet when the page is opened again.
    if (this.#linked && this.#linked !== this.sheet) this.#address(null);
  };

  cancel = (): void => {
    this.#history = history.cancel(this.#history);
    this.#changed();
  };

  /** A change without a preview: one step. */
  set = (path: Path, value: unknown): void => {
    this.#show(setAt(this.sheet, path as SheetPath, value as never), true);
  };

  undo = (): void => {
    this.#history = history.undo(this.#history);
    this.#changed();
    this.commit();
  };

  redo = (): void => {
    this.#history = history.redo(this.#history);
    this.#changed();
    this.commit();
  };

  setRows = (index: number, count: 1 | 2): void =>
    this.#show(compose.withRows(this.sheet, index, count), true);
  addPickup = (): void => this.#show(compose.withPickup(this.sheet), true);
  removePickup = (index: number): void => this.#show(compose.withoutPickup(this.sheet, index), true);
  setWiring = (wiring: Harness['wiring']): void => this.#show(compose.withWiring(this.sheet, wiring), true);
  setBleed = (index: number, on: boolean): void => this.#show(compose.withBleed(this.sheet, index, on), true);
  setTone = (index: number, on: boolean): void => this.#show(compose.withTone(this.sheet, index, on), true);

  /** What the selector lets through; a single pickup is also the one looked at. */
  sound = (pickups: readonly number[]): void => {
    const [only] = pickups;
    if (pickups.length === 1 && only !== undefined) this.#chosen = only;
    this.#show(compose.withSounding(this.sheet, pickups), true);
  };

  /** Builds a pickup anew from one of STARTING_BUILDS. */
  build = (index: number, name: string): void => {
    const start = STARTING_BUILDS.find((s) => s.name === name);
    if (start) this.#show(withBuild(this.sheet, index, start), true);
  };

  /** Takes a pickup's build away; what was computed stays as figures given by hand. */
  dropBuild = (index: number): void => {
    const coils = this.prediction?.pickups[index]?.coils;
    if (coils) this.#show(withoutBuild(this.sheet, index, coils), true);
  };

  /** One of sheet/mods.ts on the chosen pickup, as one step that is compared with what was before. */
  mod = (what: string, change: (sheet: Sheet, pickup: number) => Sheet): void => {
    const next = change(this.sheet, this.chosen);
    if (next === this.sheet) {
      this.message = `Nothing changes on this pickup: ${what} does not apply, or would leave its limits.`;
      return;
    }
    if (this.prediction) this.before = { what, pickup: this.chosen, prediction: this.prediction };
    this.#show(next, true);
  };

  /** What is wrong with the figure at a place in the sheet; empty when nothing is. */
  faultAt = (path: Path): string =>
    this.faults.find((f) => f.path.length === path.length && f.path.every((key, i) => key === path[i]))
      ?.message ?? '';

  setStrings = (name: string): void => {
    const set = STRING_SETS.find((s) => s.name === name);
    if (set) this.set(['instrument', 'strings'], set.strings);
  };

  /** Opens a checked sheet as one step, so that undo brings the old one back. */
  open = (sheet: Sheet, message = ''): void => {
    this.#show(sheet, true);
    this.#chosen = Math.max(
      0,
      sheet.pickups.findIndex((p) => p.sounds),
    );
    this.message = message;
  };

  /** Opens what a link carries; a link that can't be read leaves everything as it is and says so. */
  openLink = async (fragment: string): Promise<void> => {
    const read = await decodeLink(fragment);
    if (read.ok) {
      this.open(currentSheet(read.trials), 'The sheet from the link is open; undo brings yours back.');
      this.#address(fragment);
    } else this.message = read.message;
  };

  copyLink = async (): Promise<void> => {
    const fragment = await encodeLink(wrap(this.sheet));
    const url = this.#address(fragment);
    try {
      await navigator.clipboard.writeText(url);
      this.link = '';
      this.message = 'The link is copied. It holds the whole sheet; nothing is stored anywhere else.';
    } catch {
      this.link = url;
      this.message = 'The browser keeps the clipboard closed. The link is shown instead: copy it from there.';
    }
  };

  /** Back to the first preset, with nothing remembered. */
  startAfresh = (): void => {
    const first = this.presets[0];
    if (first) this.open(first.sheet);
    forget(SHEET_KEY);
  };

  /** Puts the link of the sheet into the address, or takes it out. Returns the new address. */
  #address(fragment: string | null): string {
    this.#linked = fragment === null ? null : this.sheet;
    const plain = location.href.split('#')[0] ?? '';
    const url = fragment === null ? plain : `${plain}#${fragment}`;
    // Without a new entry, so that the back button still leaves the page.
    window.history.replaceState(null, '', url);
    return url;
  }

  #show(next: Sheet, whole: boolean): void {
    if (next === this.sheet) {
      if (whole) this.commit();
      return;
    }
    const checked = checkSheet(next);
    if (!checked.ok) {
      this.message = checked.message;
      return;
    }
    this.message = '';
    this.#history = whole ? history.record(this.#history, next) : history.preview(this.#history, next);
    if (whole) this.commit();
    this.#changed();
  }

  #changed(): void {
    void this.#predict(this.sheet);
    this.listening.changed();
  }

  async #predict(sheet: Sheet): Promise<void> {
    const answer = await this.#jobs.figures(sheet);
    if (answer.status === 'done') {
      this.prediction = answer.value;
      this.faults = [];
    } else if (answer.status === 'failed') {
      this.faults = answer.faults ?? [];
      this.message = answer.message;
    }
  }
}
