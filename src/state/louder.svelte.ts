/** By how much one sheet is louder than another, found when it is asked for. */
import type { Sheet } from '../sheet/sheet.ts';

/** How loud a sheet is, LUFS; null where nothing is heard, or it can't be computed. */
export type LoudnessOf = (sheet: Sheet) => Promise<{ readonly loudness: number | null } | null>;

interface Pair {
  readonly sheet: Sheet;
  readonly than: Sheet;
  readonly by: number | null;
}

/** Keeps the newest pair alone. */
export class Louder {
  readonly #loudnessOf: LoudnessOf;
  #newest: Pair | null = $state.raw(null);

  constructor(loudnessOf: LoudnessOf) {
    this.#loudnessOf = loudnessOf;
  }

  /** dB; null where it is not known, or one of them is silent. */
  of(sheet: Sheet, than: Sheet | undefined): number | null {
    const known = this.#newest;
    return known?.sheet === sheet && known.than === than ? known.by : null;
  }

  /** Finds it, to be read from `of`. Never rejects when `loudnessOf` does not. */
  async ask(sheet: Sheet, than: Sheet): Promise<void> {
    const [one, other] = await Promise.all([sheet, than].map((s) => this.#loudnessOf(s)));
    const [l, m] = [one?.loudness ?? null, other?.loudness ?? null];
    this.#newest = { sheet, than, by: l === null || m === null ? null : l - m };
  }
}
