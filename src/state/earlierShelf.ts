/** Documents that others took the place of, kept beside the open one: and those that other windows had. */
import { canRedo, canUndo, type History } from '../sheet/history.ts';
import { MOST_LETTERS, readRecord, writeRecord } from '../sheet/record.ts';
import { sameContent, type Trials } from '../sheet/trials.ts';
import type { Belonging } from './belonging.ts';
import type { Kept, Shelf } from './storage.ts';

/** One of the list. */
export interface EarlierSheet {
  readonly key: string;
  readonly title: string;
  /** When it was last on the table, ISO 8601, UTC. */
  readonly date: string;
}

const PREFIX = 'lodetone.earlier.';
/** The oldest goes. */
export const MOST_EARLIER = 24;

/** On a shelf that all windows share: each document lies under a key of its own, so that none writes over another's. */
export class EarlierShelf {
  readonly #shelf: Shelf;
  readonly #windows: string;
  readonly #own: () => string;
  readonly #now: () => Date;
  readonly #newName: () => string;
  readonly #designs: Belonging;

  /** @param windows what the keys of the windows' documents begin with; `own` is that of this one */
  constructor(
    shelf: Shelf,
    windows: string,
    own: () => string,
    now: () => Date,
    newName: () => string,
    designs: Belonging,
  ) {
    this.#shelf = shelf;
    this.#windows = windows;
    this.#own = own;
    this.#now = now;
    this.#newName = newName;
    this.#designs = designs;
  }

  /** Puts one away with its steps; one of the same content and no steps that lies there already goes. */
  add(line: History<Trials>): Kept {
    const date = this.#now().toISOString();
    const key = `${PREFIX}${date}.${this.#newName()}`;
    const kept = this.#shelf.put(key, writeRecord(line, { date, from: '' }, MOST_LETTERS, this.#designs.of));
    if (kept !== 'kept') return kept;
    const others = this.#shelf.keys(PREFIX).filter((other) => other !== key);
    for (const other of others) {
      const history = this.take(other);
      if (history && !hasSteps(history) && sameContent(history.present, line.present))
        this.#shelf.drop(other);
    }
    // Their keys begin with the date.
    const all = this.#shelf.keys(PREFIX).sort();
    for (const old of all.slice(0, Math.max(0, all.length - MOST_EARLIER))) this.#shelf.drop(old);
    return 'kept';
  }

  /** Whether there is any, as far as can be told without reading it. */
  any(): boolean {
    return this.#keys().length > 0;
  }

  /** The newest first; one without steps of its own isn't said twice. */
  list(): EarlierSheet[] {
    const seen: Trials[] = [];
    return this.#keys()
      .flatMap((key) => {
        const record = readRecord(this.#shelf.look(key) ?? '');
        return record ? [{ key, record }] : [];
      })
      .sort((a, b) => (a.record.date < b.record.date ? 1 : -1))
      .filter(({ record: { history } }) => {
        const known = seen.some((other) => sameContent(other, history.present));
        seen.push(history.present);
        return !known || hasSteps(history);
      })
      .map(({ key, record: { title, date } }) => ({ key, title, date }));
  }

  /** With the steps that another window had; null where it is gone or can't be read. */
  take(key: string): History<Trials> | null {
    const record = readRecord(this.#shelf.look(key) ?? '');
    if (record) this.#designs.learn(record.designs);
    return record?.history ?? null;
  }

  #keys(): string[] {
    const others = this.#shelf.keys(this.#windows).filter((key) => key !== this.#own());
    return [...this.#shelf.keys(PREFIX), ...others];
  }
}

const hasSteps = (line: History<Trials>): boolean => canUndo(line) || canRedo(line);
