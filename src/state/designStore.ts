/**
 * The browser's database (IndexedDB) with the designs, their earlier states, and how far each window's record is in them: for
 * all windows and visits. Nothing here throws, and nothing is taken out but by name: what can't be read stays where it is.
 */
import { openDB, type DBSchema, type IDBPDatabase, type IDBPTransaction } from 'idb';

/** One of them, as it lies there. */
export interface KeptDesign {
  readonly id: string;
  readonly name: string;
  /** Whether a person gave it that name; else it follows the title. Absent in what older programs kept: they did. */
  readonly named?: boolean;
  /** When it was last kept, ISO 8601, UTC. */
  readonly date: string;
  /** As a design's file (sheet/designFile.ts). */
  readonly design: string;
}

/** What a design was before. */
export interface KeptState {
  /** Of which design. */
  readonly id: string;
  /** When it was kept, ISO 8601, UTC. */
  readonly date: string;
  /** Made of the text: no two states of a design that are of one moment have the same. */
  readonly mark: string;
  readonly design: string;
}

/** How far a window's record (keeper.ts) is in the designs. */
export interface KeptWindow {
  readonly window: string;
  /** Of the record that is in them, whole. */
  readonly date: string;
}

/** 'newer': a newer program keeps them otherwise. The rest as in storage.ts. */
export type StoreTrouble = 'full' | 'refused' | 'newer';

export type Stored<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly trouble: StoreTrouble };

interface Scheme extends DBSchema {
  readonly designs: { key: string; value: KeptDesign };
  readonly states: { key: [id: string, date: string, mark: string]; value: KeptState };
  readonly windows: { key: string; value: KeptWindow };
}

type Database = IDBPDatabase<Scheme>;
type Tables = ['designs', 'states', 'windows'];
/** All of it, within which no other window comes between. */
export type Reading = IDBPTransaction<Scheme, Tables>;
export type Writing = IDBPTransaction<Scheme, Tables, 'readwrite'>;

/**
 * Raised when older programs could not go on with what lies there; then what lies there is to be moved in `upgrade`.
 * 2: states and windows.
 */
const VERSION = 2;
const TABLES: Tables = ['designs', 'states', 'windows'];

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
  all = (): Promise<Stored<KeptDesign[]>> => this.read((reading) => reading.objectStore('designs').getAll());

  /** @param act waits for nothing but what it asks of the transaction; may be called again */
  read = <T>(act: (reading: Reading) => Promise<T>): Promise<Stored<T>> =>
    this.#run((database) => act(database.transaction(TABLES, 'readonly')));

  /**
   * All of it or nothing, on the disk before it is said to be kept.
   * @param act waits for nothing but what it asks of the transaction; may be called again
   */
  write = <T>(act: (writing: Writing) => Promise<T>): Promise<Stored<T>> =>
    this.#run(async (database) => {
      const transaction = database.transaction(TABLES, 'readwrite', { durability: 'strict' });
      // What ends it is said below.
      transaction.done.catch(() => undefined);
      try {
        const value = await act(transaction);
        await transaction.done;
        return value;
      } catch (error) {
        try {
          transaction.abort();
        } catch {
          // It has ended by itself.
        }
        throw error;
      }
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
      upgrade: (database) => {
        const { objectStoreNames: there } = database;
        if (!there.contains('designs')) database.createObjectStore('designs', { keyPath: 'id' });
        if (!there.contains('states'))
          database.createObjectStore('states', { keyPath: ['id', 'date', 'mark'] });
        if (!there.contains('windows')) database.createObjectStore('windows', { keyPath: 'window' });
      },
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
