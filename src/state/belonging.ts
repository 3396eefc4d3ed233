/**
 * Which design every state on the undo line is of, so that undo across documents goes back into the design that was left.
 * As sheet/record.ts writes it: an id, behind an asterisk while the state lies there as it was opened.
 */
import type { History } from '../sheet/history.ts';
import type { Trials } from '../sheet/trials.ts';

const AS_OPENED = '*';

export const idOf = (design: string): string => design.replace(AS_OPENED, '');
export const isAsOpened = (design: string): boolean => design.startsWith(AS_OPENED);

/** One a page. */
export class Belonging {
  readonly #of = new WeakMap<Trials, string>();
  readonly #newName: () => string;
  /** Designs that another window has: what is changed here goes on in a copy, the same for all changes of one. */
  readonly #copies = new Map<string, string>();
  /** Of what was on the table last. */
  #last = '';

  constructor(newName: () => string) {
    this.#newName = newName;
  }

  /** Empty for what is not known. */
  of = (state: Trials): string => this.#of.get(state) ?? '';

  put(state: Trials, design: string): void {
    this.#of.set(state, design);
  }

  learn(designs: ReadonlyMap<Trials, string>): void {
    for (const [state, design] of designs) this.put(state, design);
  }

  /** Of a document that was not on the table before. */
  fresh = (): string => AS_OPENED + this.#newName();

  /** What a visit begins with. */
  begin(state: Trials): void {
    if (this.of(state) === '') this.put(state, this.fresh());
    this.#last = this.of(state);
  }

  /**
   * A state stays: it is of the design that was on the table before, unless it is another document.
   * @param opened of which design that is; empty for a change of what was there
   */
  settle({ past, present }: History<Trials>, opened = ''): void {
    // A gesture that ended as another document came belongs to what was left.
    const left = past.at(-1);
    if (left && this.of(left) === '') this.put(left, this.#next());
    if (opened !== '') this.put(present, opened);
    else if (this.of(present) === '') this.put(present, this.#next());
    this.#last = this.of(present);
  }

  /** Another window has this design, or has it no more. @returns the copy in which changes go on */
  keepOff(id: string, on = true): string {
    if (!on) this.#copies.delete(id);
    else if (!this.#copies.has(id)) this.#copies.set(id, this.#newName());
    return this.#copies.get(id) ?? id;
  }

  /** The copy in which changes of that design go on; empty while no other window has it. */
  keptOff = (id: string): string => this.#copies.get(id) ?? '';

  #next(): string {
    const id = idOf(this.#last);
    return this.#copies.get(id) ?? id;
  }
}
