/** What is heard of one sheet beside another, found when it is asked for. */
import type { JobClient } from '../jobs/client.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { HeardDifference } from './types.ts';

/** How loud a sheet is, LUFS; null where nothing is heard, or it can't be computed. */
export type LoudnessOf = (sheet: Sheet) => Promise<{ readonly loudness: number | null } | null>;

/** What is known of two sheets. */
export interface Beside {
  /** By how much the one is louder than the other, dB; null where one of them is silent. */
  readonly louder: number | null;
  /** At equal loudness; null where one is silent, and where it can't be computed. */
  readonly heard: HeardDifference | null;
}

interface Pair {
  readonly sheet: Sheet;
  readonly than: Sheet;
  readonly louder: number | null;
  /** undefined: being found. */
  readonly heard: HeardDifference | null | undefined;
}

/** Keeps the newest pair alone, and what was known before it until it is known too. */
export class Louder {
  readonly #loudnessOf: LoudnessOf;
  readonly #jobs: Pick<JobClient, 'heard'>;
  #newest: Pair | null = $state.raw(null);
  #lately: (Beside & { readonly than: Sheet }) | null = $state.raw(null);

  constructor(loudnessOf: LoudnessOf, jobs: Pick<JobClient, 'heard'>) {
    this.#loudnessOf = loudnessOf;
    this.#jobs = jobs;
  }

  /** null where it is not known, or not all of it. */
  of(sheet: Sheet, than: Sheet | undefined): Beside | null {
    const known = this.#newest;
    if (known?.sheet !== sheet || known.than !== than || known.heard === undefined) return null;
    return { louder: known.louder, heard: known.heard };
  }

  /**
   * What was found last, to stand (faintly) until the newest is there: nothing below it moves.
   * @param than only if it was compared with this; undefined: with whatever
   */
  lately(than?: Sheet): Beside | null {
    const known = this.#lately;
    return than && known?.than !== than ? null : known;
  }

  /** Nothing is compared any more. */
  forget(): void {
    this.#newest = null;
    this.#lately = null;
  }

  /** Finds it, to be read from `of`. Never rejects when `loudnessOf` does not. */
  async ask(sheet: Sheet, than: Sheet): Promise<void> {
    const known = this.#newest;
    if (known?.sheet === sheet && known.than === than && known.heard !== null) return;
    const pair = { sheet, than };
    this.#newest = { ...pair, louder: null, heard: undefined };
    const [one, other] = await Promise.all([sheet, than].map((s) => this.#loudnessOf(s)));
    const [l, m] = [one?.loudness ?? null, other?.loudness ?? null];
    const louder = l === null || m === null ? null : l - m;
    const answer = louder === null ? null : await this.#jobs.heard(sheet, than, louder);
    // Forgotten, or another pair is asked for.
    if (this.#newest?.sheet !== sheet || this.#newest.than !== than) return;
    if (answer?.status === 'superseded') {
      this.#newest = null;
      return;
    }
    const heard = answer?.status === 'done' ? answer.value : null;
    this.#newest = { ...pair, louder, heard };
    this.#lately = { louder, heard, than };
  }
}
