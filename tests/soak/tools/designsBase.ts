/** The browser's database with the designs, from beside the app: what lies in it, and what may befall it. */
import type { Page } from 'playwright-core';
import { trialsOf } from '../../../src/state/designWrites.ts';
import { markOf } from './windows.ts';

/** Of one design, or of one that it was. */
interface Lying {
  readonly id: string;
  readonly name?: string;
  readonly design: unknown;
}

export interface Base {
  /** 0 where there is none. */
  readonly version: number;
  readonly designs: readonly Lying[];
  readonly states: readonly Lying[];
}

/** All that lies there; the connection is given up at once. */
export const look = (page: Page): Promise<Base> =>
  page.evaluate(async () => {
    const known = (await indexedDB.databases()).some(({ name }) => name === 'lodetone');
    if (!known) return { version: 0, designs: [], states: [] };
    const done = <T>(request: IDBRequest<T>): Promise<T> =>
      new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error ?? new Error('It failed.'));
      });
    const database = await done(indexedDB.open('lodetone'));
    const all = async (name: string): Promise<Lying[]> =>
      database.objectStoreNames.contains(name)
        ? ((await done(database.transaction(name).objectStore(name).getAll())) as Lying[])
        : [];
    const [designs, states] = [await all('designs'), await all('states')];
    const { version } = database;
    database.close();
    return { version, designs, states };
  });

/** By what its states are known; what can't be read has none. */
export const marksIn = ({ designs, states }: Pick<Base, 'designs' | 'states'>): Set<string> =>
  new Set(
    [...designs, ...states].flatMap(({ design }) => {
      const trials = trialsOf(design);
      return trials ? [markOf(trials)] : [];
    }),
  );

/** The base anew, as a program of another version has it; no window of the app may be open. */
export const remake = (page: Page, base: Base): Promise<void> =>
  page.evaluate(async ({ version, designs, states }) => {
    const done = <T>(request: IDBRequest<T>): Promise<T> =>
      new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error ?? new Error('It failed.'));
      });
    await done(indexedDB.deleteDatabase('lodetone'));
    const asked = indexedDB.open('lodetone', version);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore('designs', { keyPath: 'id' });
      if (version > 1) {
        asked.result.createObjectStore('states', { keyPath: ['id', 'date', 'mark'] });
        asked.result.createObjectStore('windows', { keyPath: 'window' });
      }
    };
    const database = await done(asked);
    const writing = database.transaction([...database.objectStoreNames], 'readwrite');
    for (const design of designs) writing.objectStore('designs').put(design);
    if (version > 1) for (const state of states) writing.objectStore('states').put(state);
    await new Promise((resolve) => (writing.oncomplete = resolve));
    database.close();
  }, base);

/** Cuts a design's text in the middle. */
export const spoil = (page: Page, id: string): Promise<void> =>
  page.evaluate(async (key) => {
    const asked = indexedDB.open('lodetone');
    await new Promise((resolve) => (asked.onsuccess = resolve));
    const writing = asked.result.transaction('designs', 'readwrite');
    const store = writing.objectStore('designs');
    const got = store.get(key) as IDBRequest<{ design: string }>;
    got.onsuccess = () => store.put({ ...got.result, design: got.result.design.slice(0, 200) });
    await new Promise((resolve) => (writing.oncomplete = resolve));
    asked.result.close();
  }, id);

/** To be run in a page before the app: lets `dropConnections` find what it has open. */
export function watchConnections(): void {
  const open = new Set<IDBDatabase>();
  Object.assign(window, { openConnections: open });
  // eslint-disable-next-line @typescript-eslint/unbound-method -- called with its own `this` below
  const { transaction } = IDBDatabase.prototype;
  IDBDatabase.prototype.transaction = function (this: IDBDatabase, ...args): IDBTransaction {
    open.add(this);
    return transaction.apply(this, args);
  };
}

/** As a browser does that is short of something: the app's own connections are closed under it. */
export const dropConnections = (page: Page): Promise<void> =>
  page.evaluate(() => {
    const { openConnections } = window as unknown as { openConnections: Set<IDBDatabase> };
    for (const database of openConnections) database.close();
    openConnections.clear();
  });

/**
 * Lets the page keep so many bytes.
 * @returns lets it keep as much as ever: what ends with the session that asked for it
 */
export async function limitRoom(page: Page, bytes: number): Promise<() => Promise<void>> {
  const session = await page.context().newCDPSession(page);
  const { origin } = new URL(page.url());
  await session.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: bytes });
  return async () => {
    await session.send('Storage.overrideQuotaForOrigin', { origin });
    await session.detach();
  };
}

/** Whether the browser takes something more, in another database. */
export const hasRoom = (page: Page): Promise<boolean> =>
  page.evaluate(async () => {
    const asked = indexedDB.open('something else');
    asked.onupgradeneeded = () => asked.result.createObjectStore('all', { autoIncrement: true });
    const opened = await new Promise<boolean>((resolve) => {
      asked.onsuccess = () => resolve(true);
      asked.onerror = () => resolve(false);
    });
    if (!opened) return false;
    const writing = asked.result.transaction('all', 'readwrite');
    writing.objectStore('all').put('x'.repeat(20_000));
    const taken = await new Promise<boolean>((resolve) => {
      writing.oncomplete = () => resolve(true);
      writing.onabort = () => resolve(false);
    });
    asked.result.close();
    return taken;
  });
