/** What the newest sheets came to, so that going back to one of them shows it at once. */
import type { Sheet } from '../sheet/sheet.ts';
import type { SheetFault, Prediction } from './types.ts';

/** What a sheet came to. */
export interface Outcome {
  /** The last good one when there are faults. */
  readonly prediction: Prediction | null;
  readonly faults: readonly SheetFault[];
  /** What is wrong, in words; empty when nothing is. */
  readonly message: string;
}

/** Twice as many as a document has trials, and some steps of undo: about a tenth of a megabyte each. */
const MOST = 24;

/** By sheets themselves, not by what they say: a sheet is never changed, only exchanged. */
export class Outcomes {
  readonly #kept = new Map<Sheet, Outcome>();

  /** What is found becomes the newest. */
  get(sheet: Sheet): Outcome | undefined {
    const found = this.#kept.get(sheet);
    if (found) this.set(sheet, found);
    return found;
  }

  /** The longest unused makes room. */
  set(sheet: Sheet, outcome: Outcome): void {
    this.#kept.delete(sheet);
    this.#kept.set(sheet, outcome);
    if (this.#kept.size <= MOST) return;
    for (const oldest of this.#kept.keys()) {
      this.#kept.delete(oldest);
      return;
    }
  }
}
