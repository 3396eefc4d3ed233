/** What a browser may do to designs that keep themselves; and all of them as one file. */
import { openDB } from 'idb';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { readDesigns } from '../../src/sheet/designsFile.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { allAsText, takeIn } from '../../src/state/allDesigns.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { DesignBrowser, presets } from './designWindows.ts';

afterEach(() => void vi.restoreAllMocks());

describe('[exact] trouble', () => {
  it.each([
    ['QuotaExceededError', /; not among the designs: the browser’s room for them is full; delete a design/],
    ['UnknownError', /; not among the designs: the browser keeps none for this page, as in a private window/],
  ])('%s is said, and nothing is lost: it is kept as soon as it can be', async (name, sentence) => {
    const browser = new DesignBrowser();
    const window = await browser.open();
    window.edit('a');
    await window.rest();
    const refuse = vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
      throw new DOMException('No.', name);
    });
    window.edit('b').edit('c');
    await window.rest();
    expect(window.kept).toMatch(sentence);
    expect(await browser.designs()).toEqual({ a: ['a'] });
    // The page lives on, or a new one comes.
    refuse.mockRestore();
    window.edit('d');
    await window.rest();
    expect(window.kept).toBe('kept on this machine only, as «d»');
    expect(await browser.designs()).toEqual({ d: ['d', 'c', 'b', 'a'] });
  });

  it('a write that breaks off in the middle leaves all as it was', async () => {
    const browser = new DesignBrowser();
    const window = await browser.open();
    window.edit('a');
    await window.rest();
    let count = 0;
    // eslint-disable-next-line @typescript-eslint/unbound-method -- called with its own `this` below
    const { put } = IDBObjectStore.prototype;
    vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(function (this: IDBObjectStore, value) {
      if (++count % 2 === 0) throw new DOMException('No.', 'QuotaExceededError');
      return put.call(this, value);
    });
    window.edit('b');
    await window.rest();
    expect(count).toBeGreaterThan(1);
    vi.restoreAllMocks();
    expect(await browser.designs()).toEqual({ a: ['a'] });
  });

  it('a connection that the browser closes in the middle is opened anew, once', async () => {
    const browser = new DesignBrowser();
    const window = await browser.open();
    window.edit('a');
    await window.rest();
    vi.spyOn(IDBDatabase.prototype, 'transaction').mockImplementationOnce(() => {
      throw new DOMException('The database connection is closing.', 'InvalidStateError');
    });
    window.edit('b');
    await window.rest();
    expect(await browser.designs()).toEqual({ b: ['b', 'a'] });
    expect(window.kept).toBe('kept on this machine only, as «b»');
  });

  it('what was spoilt while it was open is left alone, shown with its fault, and gone on from in a copy', async () => {
    const browser = new DesignBrowser();
    const window = await browser.open();
    window.edit('a');
    await window.rest();
    const { kept } = await window.shown('a');
    await window.store.write((writing) =>
      writing.objectStore('designs').put({ ...kept, design: kept.design.slice(0, 90) }),
    );
    window.edit('b');
    await window.rest();
    const designs = await browser.designs();
    expect(designs['b']).toEqual(['b']);
    expect(designs['a']?.[0]).toMatch(/Design must be whole JSON/);
    expect(window.keeping.said).toMatch(/or spoilt; from here on this is a copy, «b»/);
  });

  it('a database of version 1 is gone on with: names stay, and what lay there is an earlier state', async () => {
    const browser = new DesignBrowser();
    const old = await openDB('lodetone', 1, {
      upgrade: (database) => void database.createObjectStore('designs', { keyPath: 'id' }),
    });
    const design = `${JSON.stringify({ ...exampleSheet(), title: 'from before' }, null, 2)}\n`;
    await old.put('designs', { id: 'old', name: 'Walnut', date: '2026-01-02T03:04:05.000Z', design });
    old.close();
    const window = await browser.open();
    expect(await browser.designs()).toEqual({ Walnut: ['from before'] });
    await window.openDesign('Walnut');
    expect(window.bench.trials).toEqual(wrap({ ...exampleSheet(), title: 'from before' }));
    window.edit('now');
    await window.rest();
    expect(await browser.designs()).toEqual({ Walnut: ['now', 'from before'] });
  });

  it('a newer program’s database is left alone, and said', async () => {
    const browser = new DesignBrowser();
    (await openDB('lodetone', 3, { upgrade: (db) => void db.createObjectStore('others') })).close();
    const window = await browser.open();
    window.edit('a');
    await window.rest();
    expect(window.kept).toMatch(/; not among the designs, which a newer Lodetone keeps here/);
    expect([...(await openDB('lodetone')).objectStoreNames]).toStrictEqual(['others']);
  });
});

describe('[exact] all designs as one file', () => {
  it('come back on another computer, with what they were; what is here is never written over', async () => {
    const browser = new DesignBrowser();
    const window = await browser.open();
    window.edit('a').edit('a2');
    window.do((bench) => bench.open(presets[1]!.sheet)).edit('b');
    await window.rest();
    const text = await allAsText(window.store, browser.now());
    const before = await browser.designs();
    const file = readDesigns((text.ok && text.value) || '');
    if (!file.ok) throw new Error(file.message);

    expect(await takeIn(window.store, file.designs, browser.now())).toBe(
      '0 designs have come in; 2 were here already.',
    );
    expect(await browser.designs()).toEqual(before);
    window.edit('b2');
    await window.rest();
    expect(await takeIn(window.store, file.designs, browser.now())).toBe(
      '«b» is among the designs; 1 was here already.',
    );
    expect(await browser.designs()).toEqual({ a2: ['a2', 'a'], b: ['b'], b2: ['b2', 'b'] });

    const other = new DesignBrowser();
    const there = await other.open();
    expect(await takeIn(there.store, file.designs, other.now())).toBe('2 designs have come in.');
    expect(await other.designs()).toEqual(before);
  });

  it('of which one does not fit into the browser is taken in not at all', async () => {
    const browser = new DesignBrowser();
    const window = await browser.open();
    window.edit('a');
    window.do((bench) => bench.open(presets[1]!.sheet)).edit('b');
    await window.rest();
    const text = await allAsText(window.store, browser.now());
    const file = readDesigns((text.ok && text.value) || '');
    if (!file.ok) throw new Error(file.message);
    const other = new DesignBrowser();
    const there = await other.open();
    // eslint-disable-next-line @typescript-eslint/unbound-method -- called with its own `this` below
    const { put } = IDBObjectStore.prototype;
    let count = 0;
    vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(function (this: IDBObjectStore, value) {
      if (++count > 1) throw new DOMException('No.', 'QuotaExceededError');
      return put.call(this, value);
    });
    expect(await takeIn(there.store, file.designs, other.now())).toMatch(
      /^Nothing was taken in\. The browser has no room/,
    );
    vi.restoreAllMocks();
    expect(await other.designs()).toEqual({});
  });
});
