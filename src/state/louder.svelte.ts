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

/** Keeps the newest pair alone. */
export class Louder {
  readonly #loudnessOf: LoudnessOf;
  readonly #jobs: Pick<JobClient, 'heard'>;
  #newest: Pair | null = $state.raw(null);

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
    const { sheet: newest, than: its } = this.#newest;
    if (newest !== sheet || its !== than) return;
    const superseded = answer?.status === 'superseded';
    this.#newest = superseded
      ? null
      : { ...pair, louder, heard: answer?.status === 'done' ? answer.value : null };
  }
}
