/** How the sheet is looked at; nothing here changes a figure. */
import { recall, remember } from './storage.ts';

/** Dark on light, or light on dark. */
export type Paper = 'day' | 'night';

const PAPER_KEY = 'lodetone.paper';

/** The paper that was chosen last; else what the system asks for. */
export class View {
  #paper: Paper = $state('day');

  constructor() {
    const kept = recall(PAPER_KEY);
    const dark = matchMedia('(prefers-color-scheme: dark)').matches;
    this.#paper = kept === 'day' || kept === 'night' ? kept : dark ? 'night' : 'day';
    this.#show();
  }

  get paper(): Paper {
    return this.#paper;
  }

  /** The other paper, and remembered. */
  turnPaper = (): void => {
    this.#paper = this.#paper === 'day' ? 'night' : 'day';
    remember(PAPER_KEY, this.#paper);
    this.#show();
  };

  #show(): void {
    document.documentElement.dataset.paper = this.#paper;
  }
}
