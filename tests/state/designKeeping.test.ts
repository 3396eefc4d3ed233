/** Designs that keep themselves: from the first change on, across undo, kills, several windows and whatever a browser does. */
import fc from 'fast-check';
import { openDB } from 'idb';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { readDesigns } from '../../src/sheet/designsFile.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { allAsText, takeIn } from '../../src/state/allDesigns.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { DesignBrowser, presets, type DesignWindow } from './designWindows.ts';

afterEach(() => void vi.restoreAllMocks());

describe('[exact] a document', () => {
  it('that nobody changed is no design, and the database is not even opened for it', async () => {
    const open = vi.spyOn(IDBFactory.prototype, 'open');
    const browser = new DesignBrowser();
    const window = await browser.open();
    expect(open).not.toHaveBeenCalled();
    window.do((bench) => bench.open(presets[1]!.sheet));
    await window.rest();
    expect(await browser.designs()).toEqual({});
    expect(window.kept).toBe('kept on this machine only');
  });

  it('is one from the first change on, under its title, which its name follows until a person gives it another', async () => {
    const browser = new DesignBrowser();
    const window = await browser.open();
    window.edit('a').edit('b');
    await window.rest();
    expect(await browser.designs()).toEqual({ b: ['b', 'a'] });
    expect(window.kept).toBe('kept on this machine only, as «b»');
    await window.list.rename(await window.shown('b'), ' Walnut ');
    window.edit('c');
    await window.rest();
    expect(await browser.designs()).toEqual({ Walnut: ['c', 'b', 'a'] });
  });

  it('that takes the place of another begins another design; undo goes back into the one that was left', async () => {
    const browser = new DesignBrowser();
    const window = await browser.open();
    window.edit('a1').edit('a2');
    window.do((bench) => bench.open(presets[1]!.sheet)).edit('b1');
    await window.rest();
    expect(await browser.designs()).toEqual({ b1: ['b1'], a2: ['a2', 'a1'] });
    window.do((bench) => bench.undo());
    window.do((bench) => bench.undo());
    await window.rest();
    expect(window.title).toBe('a2');
    window.edit('a3');
    await window.rest();
    expect(await browser.designs()).toEqual({ a3: ['a3', 'a2', 'a1'], b1: ['b1'] });
    // The same after a reload: which state is of which design is kept with the steps.
    const again = await browser.open(window.kill());
    while (again.bench.canUndo) again.do((bench) => bench.undo());
    again.edit('a4');
    await again.rest();
    const designs = await browser.designs();
    expect(designs['a4']?.slice(0, 2)).toEqual(['a4', 'first preset']);
    expect(Object.keys(designs)).toHaveLength(2);
  });

  it('of the same title as another has another name', async () => {
    const browser = new DesignBrowser();
    const window = await browser.open();
    window.edit('same');
    window.do((bench) => bench.open(presets[1]!.sheet)).edit('same');
    await window.rest();
    expect(Object.keys(await browser.designs()).sort()).toEqual(['same', 'same, 2']);
  });

  it('opened from the list is gone on in, in its duplicate as well, though both say the same', async () => {
    const browser = new DesignBrowser();
    const window = await browser.open();
    window.edit('a');
    await window.rest();
    await window.list.duplicate(await window.shown('a'));
    await window.openDesign('a, copy');
    window.edit('in the copy');
    await window.rest();
    expect(await browser.designs()).toEqual({ a: ['a'], 'a, copy': ['in the copy', 'a'] });
    window.do((bench) => bench.undo()).edit('again in it');
    await window.rest();
    expect((await browser.designs())['a, copy']).toEqual(['again in it', 'a', 'in the copy']);
  });

  it('going back is a step that undo takes back, and the state left is kept', async () => {
    const browser = new DesignBrowser();
    const window = await browser.open();
    for (const title of ['a', 'b', 'c']) window.edit(title);
    await window.rest();
    await window.goBack('c', 'a');
    expect(window.title).toBe('a');
    expect(await browser.designs()).toEqual({ a: ['a', 'c', 'b'] });
    window.do((bench) => bench.undo());
    await window.rest();
    expect(await browser.designs()).toEqual({ c: ['c', 'a', 'b'] });
  });

  it('deleted while it is open stays so until the next change; undo brings its earlier states back as well', async () => {
    const browser = new DesignBrowser();
    const window = await browser.open();
    window.edit('a').edit('b');
    await window.rest();
    await window.list.remove(await window.shown('b'));
    const again = await browser.open(window.kill());
    expect(await browser.designs()).toEqual({});
    await window.list.undo();
    expect(await browser.designs()).toEqual({ b: ['b', 'a'] });
    await again.list.remove(await again.shown('b'));
    again.edit('c');
    await again.rest();
    expect(await browser.designs()).toEqual({ c: ['c'] });
    await again.list.undo();
    expect(again.list.said).toMatch(/has been changed since; it stays as it is/);
  });
});

describe('[exact] a kill', () => {
  it('between the window’s record and the designs loses nothing: who comes next brings it in', async () => {
    const browser = new DesignBrowser();
    const window = await browser.open();
    window.edit('a');
    await window.rest();
    window.edit('b');
    window
      .do((bench) => bench.open(presets[1]!.sheet))
      .edit('c')
      .edit('d');
    window.kill();
    expect(await browser.designs()).toEqual({ a: ['a'] });
    // Another window, which knows nothing of it.
    await browser.open();
    expect(await browser.designs()).toEqual({ d: ['d'], b: ['b', 'a'] });
    // And it is brought in once.
    const write = vi.spyOn(IDBObjectStore.prototype, 'put');
    await browser.open(window.session);
    expect(write.mock.calls.map(([value]) => Object.keys(value as object))).toEqual([]);
  });

  it('of a window whose design another has gone on in: what it left is among the earlier states', async () => {
    const browser = new DesignBrowser();
    const one = await browser.open();
    one.edit('a');
    await one.rest();
    one.edit('left');
    const other = await browser.open();
    one.kill();
    await other.rest();
    other.edit('b');
    await other.rest();
    await browser.open(one.session);
    const designs = await browser.designs();
    expect(Object.values(designs).flat().sort()).toEqual(expect.arrayContaining(['a', 'b', 'left']));
  });

  it('of a sheet from before there were designs: what it shows becomes one, unless it is a preset as it comes', async () => {
    for (const [title, names] of [
      ['from before', ['from before']],
      ['first preset', []],
    ] as const) {
      const browser = new DesignBrowser();
      const window = await browser.open();
      window.edit('x').edit(title);
      for (const [key, text] of browser.storage.all)
        browser.storage.setItem(key, text.replace(/"designs":.*?,(?="present")/, ''));
      expect([...browser.storage.all.values()].join()).not.toMatch(/"designs"/);
      window.kill();
      const again = await browser.open(window.session);
      expect(Object.keys(await browser.designs())).toEqual(names);
      again.edit('gone on');
      await again.rest();
      expect(Object.keys(await browser.designs())).toEqual(['gone on']);
    }
  });
});

describe('[exact] two windows on one design', () => {
  it('the later one is told; what it changes goes into a copy, and on in it', async () => {
    const browser = new DesignBrowser();
    const one = await browser.open();
    one.edit('a');
    await one.rest();
    const other = await browser.open();
    expect([one.keeping.elsewhere, other.keeping.elsewhere]).toEqual([false, true]);
    other.edit('b').edit('c');
    await other.rest();
    one.edit('a2');
    await one.rest();
    expect(await browser.designs()).toEqual({ a2: ['a2', 'a'], c: ['c', 'b'] });
    expect([other.keeping.elsewhere, other.kept]).toEqual([false, 'kept on this machine only, as «c»']);
    expect(other.keeping.said).toMatch(/another window’s, or spoilt; from here on this is a copy, «/);
    // Back before the copy began, and on from there: the same copy.
    other.do((bench) => bench.undo());
    other.do((bench) => bench.undo());
    await other.rest();
    expect(other.keeping.elsewhere).toBe(true);
    other.edit('d');
    await other.rest();
    expect((await browser.designs())['d']).toEqual(['d', 'c', 'b']);
  });

  it('may branch without a change', async () => {
    const browser = new DesignBrowser();
    const one = await browser.open();
    one.edit('a');
    await one.rest();
    const other = await browser.open();
    await other.keeping.branch();
    await other.rest();
    expect(await browser.designs()).toEqual({ a: ['a'], 'a, 2': ['a'] });
    expect(other.kept).toMatch(/as «a, 2»/);
  });

  it('may take it over, as the other left it; the other is told, and goes on in a copy', async () => {
    const browser = new DesignBrowser();
    const one = await browser.open();
    one.edit('a');
    await one.rest();
    const other = await browser.open();
    one.edit('b');
    await one.rest();
    await other.keeping.takeOver();
    other.keeping.note();
    await other.rest();
    expect([other.title, other.keeping.elsewhere]).toEqual(['b', false]);
    expect([one.keeping.elsewhere, one.keeping.said]).toEqual([
      true,
      'Another window has taken this design over; what you change here goes into a copy, unless you take it back.',
    ]);
    other.edit('c');
    one.edit('d');
    await other.rest();
    await one.rest();
    expect(await browser.designs()).toEqual({ d: ['d'], c: ['c', 'b', 'a'] });
    other.do((bench) => bench.undo());
    other.do((bench) => bench.undo());
    expect(other.title).toBe('a');
  });

  it('a window that ends, however, leaves it to the other', async () => {
    const browser = new DesignBrowser();
    const one = await browser.open();
    one.edit('a');
    await one.rest();
    const other = await browser.open();
    one.kill();
    await other.rest();
    expect(other.keeping.elsewhere).toBe(false);
    other.edit('b');
    await other.rest();
    expect(await browser.designs()).toEqual({ b: ['b', 'a'] });
  });

  it('where the browser has no locks neither writes over the other', async () => {
    const browser = new DesignBrowser();
    browser.locks = null;
    const one = await browser.open();
    one.edit('a');
    await one.rest();
    const other = await browser.open();
    one.edit('b');
    await one.rest();
    other.edit('c').edit('d');
    await other.rest();
    expect(await browser.designs()).toEqual({ b: ['b', 'a'], d: ['d', 'c'] });
    expect(other.kept).toMatch(/as «d»/);
  });

  it('opened from the list in the later window it is not copied before it is changed', async () => {
    const browser = new DesignBrowser();
    const one = await browser.open();
    one.edit('a').edit('a2');
    await one.rest();
    const other = await browser.open();
    other.do((bench) => bench.open(presets[1]!.sheet));
    await other.openDesign('a2');
    expect(Object.keys(await browser.designs())).toEqual(['a2']);
    expect(other.keeping.elsewhere).toBe(true);
    // To go back in it is to change it.
    await other.goBack('a2', 'a');
    expect(await browser.designs()).toEqual({ a: ['a'], a2: ['a2', 'a'] });
  });
});

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

const ACTS = [
  ...['edit', 'edit', 'edit', 'undo', 'redo', 'preset', 'earlier', 'open', 'back', 'rest', 'duplicate'],
  ...['reload', 'kill', 'window', 'take over', 'branch', 'refuse'],
] as const;
const acts = fc.array(fc.record({ kind: fc.constantFrom(...ACTS), at: fc.nat(7) }), {
  minLength: 5,
  maxLength: 40,
});

/** One gesture of one of the windows. */
async function perform(
  browser: DesignBrowser,
  windows: DesignWindow[],
  { kind, at }: { readonly kind: (typeof ACTS)[number]; readonly at: number },
  title: string,
): Promise<void> {
  const window = windows[at % windows.length]!;
  const { list, keeping } = window;
  await list.refresh();
  const design = list.list[at % Math.max(1, list.list.length)];
  if (kind === 'edit') window.edit(title);
  else if (kind === 'undo' || kind === 'redo') window.do((bench) => bench[kind]());
  else if (kind === 'preset') window.do((bench) => bench.open(presets[at % 2]!.sheet));
  else if (kind === 'earlier') window.do((bench) => bench.openEarlier(bench.earlier.list[at]?.key ?? ''));
  else if (kind === 'open' && design) await window.openDesign(design.name);
  else if (kind === 'back' && design) {
    await list.unfold(design);
    const state = list.earlier[at % Math.max(1, list.earlier.length)];
    if (state) await list.goBack(design, state);
    keeping.note();
  } else if (kind === 'rest') await window.rest();
  else if (kind === 'duplicate' && design) await list.duplicate(design);
  else if (kind === 'take over' && keeping.elsewhere) await keeping.takeOver();
  else if (kind === 'branch') await keeping.branch();
  else if (kind === 'refuse') {
    const put = vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
      throw new DOMException('No.', 'QuotaExceededError');
    });
    window.edit(title);
    await window.rest();
    put.mockRestore();
  } else if (kind === 'window' && windows.length < 3) windows.push(await browser.open());
  else if (kind === 'reload' || kind === 'kill') {
    const session = window.kill();
    windows.splice(windows.indexOf(window), 1);
    if (kind === 'reload' || windows.length === 0)
      windows.push(await browser.open(kind === 'reload' ? session : undefined));
  }
  keeping.note();
}

describe('[exact] whatever windows do', () => {
  it('what was among the designs stays there, every last state comes there, and every state can be had back', async () => {
    await fc.assert(
      fc.asyncProperty(acts, fc.boolean(), async (all, locks) => {
        const browser = new DesignBrowser();
        if (!locks) browser.locks = null;
        const windows = [await browser.open()];
        const committed = new Set<string>();
        const kept = new Set<string>();
        const inDesigns = async (): Promise<Set<string>> =>
          new Set(Object.values(await browser.designs()).flat());
        let count = 0;
        for (const act of all) {
          const title = `state ${++count}`;
          const alive = [...windows];
          await perform(browser, windows, act, title);
          if (alive.some((window) => window.title === title)) committed.add(title);
          for (const there of await inDesigns()) kept.add(there);
        }
        const last = windows.map(({ title }) => title).filter((title) => committed.has(title));
        const lines = new Set(windows.flatMap(({ line }) => line));
        for (const window of windows) window.kill();
        const next = await browser.open();
        const designs = await inDesigns();
        expect([...kept].filter((title) => !designs.has(title))).toEqual([]);
        expect(last.filter((title) => !designs.has(title))).toEqual([]);
        for (const { key } of next.bench.earlier.list)
          for (const state of ((line) => (line ? [...line.past, line.present, ...line.future] : []))(
            next.bench.keeper.earlier.take(key),
          ))
            lines.add(state.trials[0]!.title);
        for (const title of next.line) lines.add(title);
        expect([...committed].filter((title) => !designs.has(title) && !lines.has(title))).toEqual([]);
      }),
      { seed: 11, numRuns: 40 },
    );
  });
});
