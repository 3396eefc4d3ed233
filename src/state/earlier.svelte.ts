/** The list of earlier sheets, for the screen. */
import type { EarlierSheet, EarlierShelf } from './earlierShelf.ts';
import { dayWords } from './words.ts';

/** One of the list, as it is shown. */
export interface ShownEarlier extends EarlierSheet {
  /** «27 Nov 2026, 14:05». */
  readonly when: string;
}

/** One a page. */
export class Earlier {
  readonly #shelf: EarlierShelf;
  #turn = $state(0);

  constructor(shelf: EarlierShelf) {
    this.#shelf = shelf;
  }

  readonly any: boolean = $derived(this.#looked(this.#turn).any());

  /** The newest first. */
  readonly list: readonly ShownEarlier[] = $derived(
    this.#looked(this.#turn)
      .list()
      .map((sheet) => ({
        ...sheet,
        title: sheet.title === '' ? 'untitled' : sheet.title,
        when: dayWords(sheet.date),
      })),
  );

  /** Looks anew: something has been put there, or taken away. */
  renew = (): void => {
    this.#turn++;
  };

  /** The shelf as it is at that turn. */
  #looked(_turn: number): EarlierShelf {
    return this.#shelf;
  }
}
