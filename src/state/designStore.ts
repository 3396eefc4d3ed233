/**
 * Designs under their names in the browser's database (IndexedDB): for all windows and visits. Nothing here throws, and nothing is
 * taken out but by name: what can't be read stays where it is.
 */
import { openDB, type DBSchema, type IDBPDatabase } from 'idb';

/** One of them, as it lies there. */
export interface KeptDesign {
  readonly id: string;
  readonly name: string;
  /** When it was last kept, ISO 8601, UTC. */
  readonly date: string;
  /** As a design's file (sheet/designFile.ts). */
  readonly design: string;
}

/** 'newer': a newer program keeps them otherwise. The rest as in storage.ts. */
export type StoreTrouble = 'full' | 'refused' | 'newer';

export type Stored<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly trouble: StoreTrouble };

interface Scheme extends DBSchema {
  readonly designs: { key: string; value: KeptDesign };
}

type Database = IDBPDatabase<Scheme>;

/** Raised when older programs could not read what lies there; then what lies there is to be moved in `upgrade`. */
const VERSION = 1;
const TABLE = 'designs';

/** When it is now. */
export const clock = (): Date => new Date();

/** By its standard name, or that of an older browser; what comes from elsewhere has none. */
const nameOf = (error: unknown): string =>
  typeof error === 'object' && error !== null && 'name' in error ? String(error.name) : '';

export class DesignStore {
  readonly #name: string;
  #database: Promise<Database> | null = null;

  constructor(name = 'lodetone') {
    this.#name = name;
  }

  /** In no order. */
  all = (): Promise<Stored<KeptDesign[]>> => this.#run((database) => database.getAll(TABLE));

  /**
   * Puts one there, over what lies under its id, or takes it away.
   * @param change what lies there or null → what is to lie there, null for nothing; undefined leaves it
   * @returns what lay there before
   */
  change = (
    id: string,
    change: (before: KeptDesign | null) => KeptDesign | null | undefined,
  ): Promise<Stored<KeptDesign | null>> =>
    this.#run(async (database) => {
      // Read and written in one: no other window comes between. On the disk before it is said to be kept.
      const transaction = database.transaction(TABLE, 'readwrite', { durability: 'strict' });
      const before = (await transaction.store.get(id)) ?? null;
      const next = change(before);
      if (next) await transaction.store.put(next);
      else if (next === null) await transaction.store.delete(id);
      await transaction.done;
      return before;
    });

  /** Lets go of the database. */
  close = async (): Promise<void> => {
    const open = this.#database;
    this.#database = null;
    await open?.then(
      (database) => database.close(),
      () => {},
    );
  };

  #open(): Promise<Database> {
    return (this.#database ??= openDB<Scheme>(this.#name, VERSION, {
      upgrade: (database) => void database.createObjectStore(TABLE, { keyPath: 'id' }),
      // A newer page, or one that takes everything away, waits for this one.
      blocking: () => void this.close(),
      terminated: () => (this.#database = null),
    }));
  }

  /** A browser may close a connection at any time: then it is opened anew, once. */
  async #run<T>(act: (database: Database) => Promise<T>): Promise<Stored<T>> {
    for (let attempt = 1; ; attempt++) {
      try {
        return { ok: true, value: await act(await this.#open()) };
      } catch (error) {
        await this.close();
        const name = nameOf(error);
        if (name === 'VersionError') return { ok: false, trouble: 'newer' };
        if (/quota/i.test(name)) return { ok: false, trouble: 'full' };
        if (attempt > 1) return { ok: false, trouble: 'refused' };
      }
    }
  }
}
