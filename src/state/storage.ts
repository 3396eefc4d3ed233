/** What the browser remembers for us. A browser may refuse (private windows, full disks); then nothing is kept. */

/** 'full': there is no room. 'refused': the browser keeps nothing for this page. */
export type Kept = 'kept' | 'full' | 'refused';

/** A browser's storage that never throws. */
export class Shelf {
  readonly #storage: () => Storage;

  /** @param storage a browser may throw already when it is asked for */
  constructor(storage: () => Storage) {
    this.#storage = storage;
  }

  put(key: string, value: string): Kept {
    try {
      this.#storage().setItem(key, value);
      return 'kept';
    } catch (error) {
      // By its standard name, or that of an older browser.
      const name = error instanceof Error ? error.name : '';
      return /quota/i.test(name) ? 'full' : 'refused';
    }
  }

  /** null for what was never kept, or can't be read. */
  look(key: string): string | null {
    try {
      return this.#storage().getItem(key);
    } catch {
      return null;
    }
  }

  drop(key: string): void {
    try {
      this.#storage().removeItem(key);
    } catch {
      // Nothing was kept in the first place.
    }
  }

  /** All keys that begin so. */
  keys(prefix: string): string[] {
    try {
      const storage = this.#storage();
      const all = Array.from({ length: storage.length }, (_, i) => storage.key(i) ?? '');
      return all.filter((key) => key.startsWith(prefix));
    } catch {
      return [];
    }
  }
}

/** For all windows and visits. */
export const lasting = new Shelf(() => localStorage);
/** For this window, through reloads and crashes. */
export const ofWindow = new Shelf(() => sessionStorage);

/** @returns whether it is kept */
export const remember = (key: string, value: string): boolean => lasting.put(key, value) === 'kept';

/** null for what was never kept, or can't be read. */
export const recall = (key: string): string | null => lasting.look(key);
