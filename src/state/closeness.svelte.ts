/** How close the chosen pickup may sit: asked of the worker once the hand rests, because it solves the field anew. */
import type { JobClient } from '../jobs/client.ts';
import type { Pickup, Sheet } from '../sheet/sheet.ts';
import type { JobValue } from '../jobs/protocol.ts';

/** null: too close even as low as is searched. */
export type Closest = JobValue['close'];

interface Answer {
  readonly pickup: Pickup;
  readonly instrument: Sheet['instrument'];
  readonly cents: number;
  readonly closest: Closest;
  readonly message: string;
}

/** ms without a change before the worker is asked. */
const REST = 300;

/** The newest answer for the chosen pickup. */
export class Closeness {
  readonly #sheet: () => Sheet;
  readonly #chosen: () => number;
  readonly #jobs: JobClient;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #answer: Answer | null = $state.raw(null);

  /** By how many cents the worst string may shift. */
  cents = $state(2);

  /** null while it is computed, and for a pickup without a build. */
  readonly answer: Answer | null = $derived.by(() => {
    const { pickup, instrument } = this.#asked();
    const known = this.#answer;
    if (known?.pickup !== pickup || known?.instrument !== instrument) return null;
    return known.cents === this.cents ? known : null;
  });

  constructor(sheet: () => Sheet, chosen: () => number, jobs: JobClient) {
    this.#sheet = sheet;
    this.#chosen = chosen;
    this.#jobs = jobs;
  }

  #asked(): { pickup: Pickup | undefined; instrument: Sheet['instrument'] } {
    const { pickups, instrument } = this.#sheet();
    return { pickup: pickups[this.#chosen()], instrument };
  }

  /** To be called with every change of what it depends on; asks when there was none for a moment. */
  ask(): void {
    clearTimeout(this.#timer);
    if (this.answer) return;
    const { pickup } = this.#asked();
    const { cents } = this;
    if (pickup?.build) this.#timer = setTimeout(() => void this.#solve(cents), REST);
  }

  /** Asks no more; for when nobody looks. */
  rest(): void {
    clearTimeout(this.#timer);
  }

  async #solve(cents: number): Promise<void> {
    const sheet = this.#sheet();
    const index = this.#chosen();
    const pickup = sheet.pickups[index];
    if (!pickup?.build) return;
    const result = await this.#jobs.close(sheet, index, cents);
    if (result.status === 'superseded') return;
    const done = result.status === 'done';
    this.#answer = {
      pickup,
      instrument: sheet.instrument,
      cents,
      closest: done ? result.value : null,
      message: done ? '' : result.message,
    };
  }
}
