/** Flux lines around the chosen pickup in space: asked of the worker once the hand rests, because they take it a second. */
import type { JobValue } from '../jobs/protocol.ts';
import type { Pickup, Sheet } from '../sheet/sheet.ts';
import type { Workbench } from './workbench.svelte.ts';

/** SI; see physics/picture/spaceTypes.ts. */
export type SpacePicture = NonNullable<JobValue['space']>;

/** ms without a change before the worker is asked. */
const REST = 300;

interface Answer {
  readonly question: string;
  readonly pickup: number;
  readonly picture: SpacePicture | null;
  readonly message: string;
}

/** One while the place is open. */
export class Space {
  readonly #bench: Workbench;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #answer: Answer | null = $state.raw(null);

  readonly #pickup: Pickup | undefined = $derived.by(() => this.#bench.sheet.pickups[this.#bench.chosen]);
  /** Whether there is a field to be drawn. */
  readonly built: boolean = $derived.by(() => (this.#pickup?.build ?? null) !== null);
  /** All that the lines depend on; equal texts have equal lines. */
  readonly #question: string = $derived.by(() => {
    const pickup = this.#pickup;
    if (!pickup?.build) return '';
    const { chosen, sheet } = this.#bench;
    const { build, rows } = pickup;
    return JSON.stringify([
      chosen,
      build,
      rows.map(({ offset }) => offset),
      sheet.listen.string,
      sheet.magnets,
    ]);
  });

  /** The newest, or the last good one of the chosen pickup; null before the first. */
  readonly picture: SpacePicture | null = $derived.by(() =>
    this.built && this.#answer?.pickup === this.#bench.chosen ? this.#answer.picture : null,
  );
  /** Whether what is drawn is of the sheet as it is. */
  readonly newest: boolean = $derived.by(() => this.#answer?.question === this.#question);
  /** What keeps it from being computed; empty when nothing does. */
  readonly message: string = $derived.by(() => (this.newest ? (this.#answer?.message ?? '') : ''));

  constructor(bench: Workbench) {
    this.#bench = bench;
  }

  /** To be called in an effect while the place is open: it reads all that the lines depend on. */
  ask = (): void => {
    clearTimeout(this.#timer);
    const question = this.#question;
    const { sheet, chosen, resting } = this.#bench;
    if (question === '' || this.newest || !resting) return;
    this.#timer = setTimeout(() => void this.#solve(sheet, chosen, question), REST);
  };

  /** Asks no more. */
  end = (): void => clearTimeout(this.#timer);

  async #solve(sheet: Sheet, pickup: number, question: string): Promise<void> {
    const result = await this.#bench.spaceLines({ pickup });
    if (result.status === 'superseded' || sheet !== this.#bench.sheet) return;
    const had = this.#answer?.pickup === pickup ? this.#answer.picture : null;
    this.#answer =
      result.status === 'done'
        ? { question, pickup, picture: result.value, message: '' }
        : { question, pickup, picture: had, message: result.message };
  }
}
