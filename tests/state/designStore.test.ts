/** Designs in the browser's database, and everything that a browser does to them. */
import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { openDB } from 'idb';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { wrap, type Trials } from '../../src/sheet/trials.ts';
import { DesignStore, type KeptDesign } from '../../src/state/designStore.ts';
import { Designs } from '../../src/state/designs.svelte.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const first = wrap({ ...exampleSheet(), title: 'first' });
const second = wrap({ ...exampleSheet(), title: 'second', notes: 'walnut' });

interface Table {
  readonly designs: Designs;
  readonly opened: Trials[];
  lay: (trials: Trials) => void;
}

/** A page at the shared database. */
function page(store = new DesignStore()): Table {
  const opened: Trials[] = [];
  const bench = {
    trials: first,
    get sheet() {
      return this.trials.trials[0]!;
    },
    openDesign: (trials: Trials) => void opened.push(trials),
  };
  const keeping = { opens: () => undefined, flush: () => Promise.resolve() };
  let day = 0;
  const now = (): Date => new Date(Date.UTC(2026, 10, 1 + day++));
  return {
    designs: new Designs(bench, keeping, store, now),
    opened,
    lay: (trials) => (bench.trials = trials),
  };
}

const names = ({ designs }: Table): string[] => designs.list.map(({ name }) => name);

beforeEach(() => void (globalThis.indexedDB = new IDBFactory()));
afterEach(() => void vi.restoreAllMocks());

describe('what a person does', () => {
  it('[exact] keeps, finds, opens, renames, duplicates, replaces and deletes; each step is taken back by undo', async () => {
    const table = page();
    const { designs } = table;
    await designs.keep('  One  ');
    table.lay(second);
    await designs.keep('');
    expect(names(table)).toStrictEqual(['second', 'One']);
    await designs.open(designs.list[1]!);
    expect(table.opened).toStrictEqual([first]);

    designs.wanted = 'WALNUT';
    expect(names(table)).toStrictEqual(['second']);
    designs.wanted = '';

    await designs.rename(designs.list[1]!, 'Uno');
    expect(names(table)).toStrictEqual(['second', 'Uno']);
    await designs.undo();
    expect(names(table)).toStrictEqual(['second', 'One']);
    expect(designs.canUndo).toBe(false);

    await designs.duplicate(designs.list[1]!);
    expect(names(table)).toStrictEqual(['One, copy', 'second', 'One']);
    await designs.undo();
    expect(names(table)).toStrictEqual(['second', 'One']);

    await designs.replace(designs.list[1]!);
    expect(designs.list.find(({ name }) => name === 'One')!.trials).toStrictEqual(second);
    await designs.undo();
    expect(designs.list.find(({ name }) => name === 'One')!.trials).toStrictEqual(first);

    await designs.remove(designs.list.find(({ name }) => name === 'One')!);
    expect(names(table)).toStrictEqual(['second']);
    expect(designs.said).toMatch(/«One» is deleted; undo brings it back/);
    await designs.undo();
    expect(names(table).toSorted()).toStrictEqual(['One', 'second']);
  });

  it('[exact] the next visit has them all', async () => {
    const one = page();
    await one.designs.keep('One');
    const two = page();
    await two.designs.refresh();
    expect(two.designs.list.map(({ trials }) => trials)).toStrictEqual([first]);
  });

  it('what another window has deleted is not brought back by renaming or replacing it', async () => {
    const [one, two] = [page(), page()];
    await one.designs.keep('One');
    await two.designs.refresh();
    const shown = two.designs.list[0]!;
    await one.designs.remove(one.designs.list[0]!);
    for (const act of [
      () => two.designs.replace(shown),
      () => two.designs.rename(shown, 'other'),
      () => two.designs.duplicate(shown),
      () => two.designs.remove(shown),
    ]) {
      await act();
      expect(names(two)).toStrictEqual([]);
      expect(two.designs.said).toMatch(/there no more/);
      expect(two.designs.canUndo).toBe(false);
    }
  });

  it('undo does not write over what another window has made of a design since, and is still there when it fails', async () => {
    const [one, two] = [page(), page()];
    await one.designs.keep('One');
    await one.designs.rename(one.designs.list[0]!, 'Uno');
    await two.designs.refresh();
    await two.designs.rename(two.designs.list[0]!, 'Eins');
    await one.designs.undo();
    expect(names(one)).toStrictEqual(['Eins']);
    expect(one.designs.said).toMatch(/has been changed since; it stays as it is/);

    await one.designs.remove(one.designs.list[0]!);
    const refuse = vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
      throw new DOMException('No.', 'QuotaExceededError');
    });
    await one.designs.undo();
    expect(one.designs.said).toMatch(/no room/);
    refuse.mockRestore();
    await one.designs.undo();
    expect(names(one)).toStrictEqual(['Eins']);
  });
});

describe('what a browser does', () => {
  it('a connection that it closes is opened anew, once, and nothing is lost', async () => {
    const table = page();
    await table.designs.keep('One');
    const all = vi.spyOn(IDBDatabase.prototype, 'transaction').mockImplementationOnce(() => {
      throw new DOMException('The database connection is closing.', 'InvalidStateError');
    });
    await table.designs.keep('Two');
    expect(names(table)).toStrictEqual(['Two', 'One']);
    expect(all.mock.calls.length).toBeGreaterThan(1);
  });

  it.each([
    ['QuotaExceededError', /no room for another design\. Delete one, or save this one as a file/],
    ['UnknownError', /keeps no designs for this page, as in a private window/],
  ])('%s is said, and what was there stays', async (name, sentence) => {
    const table = page();
    await table.designs.keep('One');
    const refuse = vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
      throw new DOMException('No.', name);
    });
    await table.designs.keep('Two');
    expect(table.designs.said).toMatch(sentence);
    await table.designs.rename(table.designs.list[0]!, 'other');
    expect(table.designs.said).toMatch(sentence);
    refuse.mockRestore();
    await table.designs.refresh();
    expect(names(table)).toStrictEqual(['One']);
  });

  it('where there is no database at all it is said', async () => {
    vi.spyOn(globalThis.indexedDB, 'open').mockImplementation(() => {
      throw new DOMException('Denied.', 'SecurityError');
    });
    const table = page();
    await table.designs.refresh();
    expect(table.designs.said).toMatch(/as in a private window/);
    await table.designs.keep('One');
    expect(table.designs.said).toMatch(/as in a private window\. Save it as a file/);
  });

  it('a newer program’s database is left alone, and said', async () => {
    (await openDB('lodetone', 3, { upgrade: (db) => void db.createObjectStore('others') })).close();
    const table = page();
    await table.designs.keep('One');
    expect(table.designs.said).toMatch(/A newer Lodetone keeps the designs here/);
    expect([...(await openDB('lodetone')).objectStoreNames]).toStrictEqual(['others']);
  });

  it('a newer page that wants the database gets it at once', async () => {
    const table = page();
    await table.designs.keep('One');
    const newer = await openDB('lodetone', 3);
    expect(await newer.count('designs')).toBe(1);
  });
});

it('a record that is spoilt, or of a newer format, is shown with its reason, stays, and can be deleted and brought back', async () => {
  const store = new DesignStore();
  const date = new Date(0).toISOString();
  const spoilt: unknown[] = [
    { id: 'a', name: 'cut', date, design: '{"format": 1, "tit' },
    { id: 'b', name: 'newer', date, design: JSON.stringify({ ...exampleSheet(), format: 3 }) },
    { id: 'c', name: 7, date: 'never', design: 12 },
  ];
  for (const record of spoilt)
    await store.write((writing) => writing.objectStore('designs').put(record as KeptDesign));
  const table = page(store);
  const { designs } = table;
  await designs.refresh();
  const faults = Object.fromEntries(designs.list.map(({ key, fault }) => [key, fault]));
  expect(faults['a']).toMatch(/Design must be whole JSON/);
  expect(faults['b']).toMatch(/Sheet must be of format 1 or 2; got 3\. A newer Lodetone made it/);
  expect(faults['c']).toMatch(/Design must be a text/);
  for (const shown of designs.list) await designs.open(shown);
  expect(table.opened).toStrictEqual([]);
  await designs.remove(designs.list[0]!);
  await designs.undo();
  const all = await store.all();
  expect(all.ok && all.value).toStrictEqual(spoilt);
});
