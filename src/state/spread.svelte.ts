/** A maker's own spread, found when it is asked for: many makes of the open trial and the other, some at a time. */
import type { JobValue } from '../jobs/protocol.ts';
import type { Sheet, Spread } from '../sheet/sheet.ts';
import { gathered, USUAL_MAKES, USUAL_SEED, type SpreadFigures } from './spreadFigures.ts';
import type { Workbench } from './workbench.svelte.ts';

export { USUAL_MAKES as MAKES };
/** Pairs that are asked for at a time. */
const AT_A_TIME = 10;

interface Asked {
  readonly sheet: Sheet;
  readonly other: Sheet | null;
  readonly spread: Spread;
  /** Letters. */
  readonly here: string;
  readonly there: string;
}

/** What was found, and of what. */
export interface SpreadFound extends Asked {
  readonly figures: SpreadFigures;
}

/** One while the place is open. */
export class OwnSpread {
  readonly #bench: Workbench;
  #turn = 0;
  /** How many are made; null while nobody asks. */
  made: number | null = $state(null);
  found: SpreadFound | null = $state.raw(null);
  message = $state('');

  /** Whether what was found is of other trials than those on the sheet. */
  readonly older: boolean = $derived.by(() => {
    const { found } = this;
    if (!found) return false;
    const { sheet, other, spread } = this.#asked;
    return found.sheet !== sheet || found.other !== other || found.spread !== spread;
  });

  constructor(bench: Workbench) {
    this.#bench = bench;
  }

  get #asked(): Asked {
    const { sheet, trials, against, spread } = this.#bench;
    const other = against === null ? null : (trials.trials[against] ?? null);
    const there = against === null ? '' : this.#bench.letter(against);
    return { sheet, other, spread, here: this.#bench.letter(trials.open), there };
  }

  /** Makes them; what was found before stays until they are there. */
  make = async (): Promise<void> => {
    const turn = ++this.#turn;
    const asked = this.#asked;
    const { other, sheet, spread } = asked;
    const louder = other ? (this.#bench.beside?.louder ?? null) : 0;
    if (louder === null) {
      this.message = 'Both trials must be heard to be compared; one is silent, or is still being computed.';
      return;
    }
    this.message = '';
    this.made = 0;
    const parts: JobValue['spread'][] = [];
    for (let from = 0; from < USUAL_MAKES; from += AT_A_TIME) {
      const wish = {
        other,
        louder,
        spread,
        seed: USUAL_SEED,
        count: USUAL_MAKES,
        from,
        to: from + AT_A_TIME,
      };
      const answer = await this.#bench.aside.spread(sheet, wish);
      if (turn !== this.#turn) return;
      if (answer.status !== 'done') {
        this.made = null;
        this.message = answer.status === 'failed' ? answer.message : '';
        return;
      }
      parts.push(answer.value);
      this.made = from + AT_A_TIME;
    }
    this.made = null;
    this.found = { ...asked, figures: gathered(parts) };
  };

  /** Makes no more; what was found before stays. */
  cancel = (): void => {
    this.#turn++;
    this.made = null;
  };
}
