/** Designs that keep themselves: from the first change on, across undo, kills, several windows and whatever a browser does. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { DesignBrowser, presets } from './designWindows.ts';

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
