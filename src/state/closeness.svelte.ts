/** How close the chosen pickup may sit: asked of the worker once the hand rests, because it solves the field anew. */
import type { JobClient } from '../jobs/client.ts';
import { aboutPickup } from '../jobs/known.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { JobInput, JobValue } from '../jobs/protocol.ts';

/** null: too close even as low as is searched. */
export type Closest = JobValue['close'];

interface Answer {
  /** All that it depends on: what is only wound or wired otherwise sits as close. */
  readonly about: string;
  readonly closest: Closest;
  readonly message: string;
}

/** ms without a change before the worker is asked. */
const REST = 300;
const OCTAVE = 12;

/** The newest answer for the chosen pickup. */
export class Closeness {
  readonly #sheet: () => Sheet;
  readonly #chosen: () => number;
  readonly #jobs: JobClient;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #answer: Answer | null = $state.raw(null);

  /** By how many cents the worst note may shift. */
  cents = $state(2);
  /** A fret at which every string is stopped, beside the open strings and the 12th fret. */
  fret = $state(5);
  /** Underside of the strings over the 12th fret, m: between the usual 2.0 mm under the bass and 1.6 mm under the treble string. */
  action = $state(0.0018);
  /** The frets of the notes that are asked about, the open string first. */
  readonly frets: readonly number[] = $derived(
    [0, this.fret, OCTAVE].filter((fret, i, all) => all.indexOf(fret) === i),
  );
  readonly #wish = $derived({ cents: this.cents, frets: this.frets, action: this.action });

  readonly #about = $derived.by(
    () => this.#chosen() + aboutPickup(this.#sheet(), this.#chosen()) + JSON.stringify(this.#wish),
  );

  /** null while it is computed, and for a pickup without a build. */
  readonly answer: Answer | null = $derived.by(() =>
    this.#answer?.about === this.#about ? this.#answer : null,
  );

  constructor(sheet: () => Sheet, chosen: () => number, jobs: JobClient) {
    this.#sheet = sheet;
    this.#chosen = chosen;
    this.#jobs = jobs;
  }

  /** To be called with every change of what it depends on; asks when there was none for a moment. */
  ask(): void {
    clearTimeout(this.#timer);
    if (this.answer) return;
    const wish = $state.snapshot(this.#wish);
    if (this.#sheet().pickups[this.#chosen()]?.build)
      this.#timer = setTimeout(() => void this.#solve(wish), REST);
  }

  /** Asks no more; for when nobody looks. */
  rest(): void {
    clearTimeout(this.#timer);
  }

  async #solve(wish: Omit<JobInput['close'], 'pickup'>): Promise<void> {
    const sheet = this.#sheet();
    const index = this.#chosen();
    if (!sheet.pickups[index]?.build) return;
    const about = this.#about;
    const result = await this.#jobs.close(sheet, { pickup: index, ...wish });
    if (result.status === 'superseded') return;
    const done = result.status === 'done';
    this.#answer = {
      about,
      closest: done ? result.value : null,
      message: done ? '' : result.message,
    };
  }
}
