/** What every part of the chosen pickup does to its field: asked of the worker once the hand rests, a part at a time. */
import { untrack } from 'svelte';
import type { JobValue } from '../jobs/protocol.ts';
import type { Pickup } from '../sheet/sheet.ts';
import { takenOut, type NamedPart } from '../sheet/takenOut.ts';
import type { Workbench } from './workbench.svelte.ts';

/** SI; see physics/takenOut.ts. */
export type TakenOutFigures = NonNullable<JobValue['takenOut']>;

/** ms without a change before the worker is asked. */
const REST = 300;

/** A part, and what is known of the field without it. */
export interface PartTaken {
  readonly name: string;
  /** null until it is there, or when it can't be. */
  readonly figures: TakenOutFigures | null;
  /** Why it can't be; empty when nothing is wrong. */
  readonly message: string;
}

type Answer = Omit<PartTaken, 'name'>;

/** One while the place is open. */
export class PartsTaken {
  readonly #bench: Workbench;
  #timer: ReturnType<typeof setTimeout> | undefined;
  /** The question that is being answered; none once the place is closed. */
  #asking = '';
  /** Of which question the answers are, the whole pickup's first, then in the order of its parts. */
  #answered = $state('');
  #answers: readonly Answer[] = $state.raw([]);

  readonly #pickup: Pickup | undefined = $derived.by(() => this.#bench.sheet.pickups[this.#bench.chosen]);
  /** Whether there is a field. */
  readonly built: boolean = $derived.by(() => (this.#pickup?.build ?? null) !== null);
  readonly #parts: readonly NamedPart[] = $derived.by(() => {
    const pickup = this.#pickup;
    const offsets = pickup?.rows.map(({ offset }) => offset) ?? [];
    return pickup?.build ? takenOut(pickup.build, offsets) : [];
  });
  /** All that the figures depend on; equal texts have equal figures. */
  readonly #question: string = $derived.by(() => {
    const pickup = this.#pickup;
    if (!pickup?.build) return '';
    const { chosen, sheet } = this.#bench;
    const { build, rows, slant, place } = pickup;
    const offsets = rows.map(({ offset }) => offset);
    const { instrument, magnets, listen } = sheet;
    return JSON.stringify([chosen, build, offsets, slant, place, instrument, magnets, listen.string]);
  });

  /** Answers to the question as it stands. */
  readonly #known: readonly Answer[] = $derived.by(() =>
    this.#answered === this.#question ? this.#answers : [],
  );
  /** The pickup as it is; null before it is known. */
  readonly whole: TakenOutFigures | null = $derived.by(() => this.#known[0]?.figures ?? null);
  /** What keeps it from being computed; empty when nothing does. */
  readonly message: string = $derived.by(() => this.#known[0]?.message ?? '');
  readonly parts: readonly PartTaken[] = $derived.by(() =>
    this.#parts.map(({ name }, i) => ({
      name,
      ...(this.#known[i + 1] ?? { figures: null, message: '' }),
    })),
  );
  /** Whether everything has been answered. */
  readonly done: boolean = $derived.by(() => this.#known.length > this.#parts.length || this.message !== '');

  constructor(bench: Workbench) {
    this.#bench = bench;
  }

  /** To be called in an effect while the place is open: it reads all that the figures depend on. */
  ask = (): void => {
    clearTimeout(this.#timer);
    const question = this.#question;
    if (question !== this.#asking) this.#asking = '';
    const { chosen, resting } = this.#bench;
    // What is answered in the meantime is no reason to ask anew.
    if (question === '' || question === this.#asking || untrack(() => this.done) || !resting) return;
    const parts = this.#parts;
    this.#timer = setTimeout(() => void this.#solve(chosen, question, parts), REST);
  };

  /** Asks no more. */
  end = (): void => {
    clearTimeout(this.#timer);
    this.#asking = '';
  };

  async #solve(pickup: number, question: string, parts: readonly NamedPart[]): Promise<void> {
    this.#asking = question;
    let answers: readonly Answer[] = [];
    for (const part of [null, ...parts.map((named) => named.part)]) {
      const result = await this.#bench.takenOut({ pickup, part });
      if (this.#asking !== question || result.status === 'superseded') return;
      const answer =
        result.status === 'done'
          ? { figures: result.value, message: '' }
          : { figures: null, message: result.message };
      answers = [...answers, answer];
      this.#answers = answers;
      this.#answered = question;
      if (!answer.figures && answers.length === 1) break;
    }
    this.#asking = '';
  }
}
