/**
 * Why the open sheet is unlike what it was before the last gesture: asked of the worker once the hand rests. What was
 * before is also what an ear can go back to.
 */
import type { JobClient } from '../jobs/client.ts';
import { heardAlike, listenedAs } from '../sheet/heardAlike.ts';
import type { Sheet } from '../sheet/sheet.ts';

/** What of the document it is about. */
interface Table {
  readonly sheet: Sheet;
  /** From 0. */
  readonly chosen: number;
  /** Whether no gesture is under way. */
  readonly resting: boolean;
}

/** ms without a change before the worker is asked. */
const REST = 300;
/** A change is about one pickup or about none. */
const NONE = -1;

/** One a page. */
export class Why {
  readonly #table: () => Table;
  readonly #jobs: Pick<JobClient, 'why'>;
  #last: Sheet;
  #before: Sheet | null = $state.raw(null);
  #answer: { readonly of: Sheet; readonly words: string } | null = $state.raw(null);
  #timer: ReturnType<typeof setTimeout> | undefined;
  #turn = 0;

  /** The sheet before the last gesture, as it is listened to now; null when there was none. */
  readonly before: Sheet | null = $derived.by(
    () => this.#before && listenedAs(this.#before, this.#table().sheet),
  );

  /** A sentence; empty before the first change, while a gesture lasts, and until it is known. */
  readonly words: string = $derived.by(() =>
    this.#table().resting && this.#answer?.of === this.#before ? (this.#answer?.words ?? '') : '',
  );

  constructor(table: () => Table, jobs: Pick<JobClient, 'why'>) {
    this.#table = table;
    this.#jobs = jobs;
    this.#last = table().sheet;
  }

  /**
   * To be called after every change of what is on the table. What is only played or written otherwise is no change of what
   * is heard: what was before stays. Returns whether what was before is another now.
   */
  settle(): boolean {
    const { sheet, resting } = this.#table();
    if (!resting || sheet === this.#last) return false;
    const from = this.#last;
    const looked = from.listen.string !== sheet.listen.string;
    this.#last = sheet;
    const changed = !heardAlike(from, sheet);
    if (changed) this.#before = from;
    if (changed || looked) this.#ask();
    return changed;
  }

  /** Another document lies on the table: it follows from nothing. */
  forget(): void {
    clearTimeout(this.#timer);
    this.#turn++;
    this.#before = null;
    this.#last = this.#table().sheet;
  }

  #ask(): void {
    clearTimeout(this.#timer);
    this.#answer = null;
    const turn = ++this.#turn;
    this.#timer = setTimeout(() => void this.#solve(turn), REST);
  }

  async #solve(turn: number): Promise<void> {
    const { sheet, chosen } = this.#table();
    const before = this.#before;
    if (!before) return;
    // What is said only once a hand rests is loaded then.
    const loaded = await import('./whyWords.ts').catch(() => null);
    if (!loaded || turn !== this.#turn) return;
    const { pickupOf, whyWords } = loaded;
    const only = pickupOf(before, sheet, NONE);
    const pickup = only === NONE ? Math.min(chosen, before.pickups.length - 1) : only;
    const result = await this.#jobs.why(sheet, before, pickup, sheet.listen.string - 1);
    if (turn !== this.#turn || result.status !== 'done') return;
    const name = sheet.pickups.length > 1 && only !== NONE ? (sheet.pickups[only]?.name ?? '') : '';
    this.#answer = { of: before, words: whyWords(result.value, name) };
  }
}
