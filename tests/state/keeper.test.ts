/** What is kept for the next visit, with windows that share it, are killed, come back, and run out of room. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { record, redo, undo } from '../../src/sheet/history.ts';
import { sameContent } from '../../src/sheet/trials.ts';
import { MOST_EARLIER } from '../../src/state/earlierShelf.ts';
import { FakeStorage } from './fakeStorage.ts';
import { Browser, preset, titled, titleOf, type Window } from './windows.ts';

const SEED = 7;
const steps = ({ line }: Window): (string | undefined)[] =>
  [...line.past, line.present, ...line.future].map(titleOf);

describe('[exact] a window', () => {
  it('has its document and every step again after a reload, and after a crash', () => {
    const first = new Browser().open();
    for (const title of ['a', 'b', 'c']) first.edit(title);
    first.keep(undo(first.line));
    const again = first.reload();
    expect(again.line).toStrictEqual(first.line);
    expect(titleOf(redo(again.line).present)).toBe('c');
    again.edit('d');
    expect(again.reload().line).toStrictEqual(again.line);
  });

  it('that was reloaded hears late of what it wrote before, and goes on in its own record', () => {
    const browser = new Browser();
    const first = browser.open();
    for (const title of ['a', 'b']) first.edit(title);
    const again = first.reload();
    browser.tell();
    again.edit('c');
    browser.tell();
    expect(again.shared).toBe(0);
    expect(again.keeper.earlier.list()).toEqual([]);
    expect(browser.storage.length).toBe(1);
  });

  it('keeps nothing of a sheet that nobody changed', () => {
    const browser = new Browser();
    browser.open().reload();
    expect(browser.storage.length).toBe(0);
  });

  it('of its own stays its own: another’s newer document doesn’t come over it', () => {
    const browser = new Browser();
    const [one, other] = [browser.open(), browser.open()];
    one.edit('one');
    other.edit('other');
    browser.tell();
    expect([one.shared, other.shared]).toEqual([0, 0]);
    expect(titleOf(one.reload().line.present)).toBe('one');
    expect(titleOf(other.reload().line.present)).toBe('other');
  });

  it('new on a later visit has the newest document with its steps; the others are earlier sheets', () => {
    const browser = new Browser();
    const [one, other] = [browser.open(), browser.open()];
    other.edit('other');
    one.edit('one');
    one.kill();
    other.kill();
    const next = browser.open();
    expect(steps(next)).toEqual([titleOf(preset), 'one']);
    expect(next.keeper.earlier.list().map(({ title }) => title)).toEqual(['other']);
    next.edit('two');
    // It goes on in the record that it found, instead of making one more.
    expect(browser.storage.length).toBe(2);
  });

  it('that is opened beside another with the same document is told, and neither writes over the other', () => {
    const browser = new Browser();
    const one = browser.open();
    one.edit('a');
    const other = browser.open();
    expect(steps(other)).toEqual(steps(one));
    browser.tell();
    expect([one.shared, other.shared]).toEqual([0, 1]);
    one.edit('one');
    other.edit('other');
    browser.tell();
    expect(steps(one.reload())).toEqual([titleOf(preset), 'a', 'one']);
    expect(steps(other.reload())).toEqual([titleOf(preset), 'a', 'other']);
  });

  it('that is duplicated goes on by itself, even if nobody could be asked before both changed it', () => {
    const browser = new Browser();
    const one = browser.open();
    one.edit('a');
    const session = new FakeStorage();
    for (const [key, value] of one.session.all) session.setItem(key, value);
    const other = browser.open(session);
    one.edit('one');
    other.edit('other');
    browser.tell();
    expect(other.shared).toBeGreaterThan(0);
    expect(steps(one.reload())).toEqual([titleOf(preset), 'a', 'one']);
    expect(steps(other.reload())).toEqual([titleOf(preset), 'a', 'other']);
  });

  it('that comes by a link leaves the newest document of others as it was', () => {
    const browser = new Browser();
    const one = browser.open();
    one.edit('a');
    const before = [...browser.storage.all];
    const other = browser.open(new FakeStorage(), true);
    expect(steps(other)).toEqual(steps(one));
    other.lay(titled('from the link'));
    browser.tell();
    expect([...browser.storage.all].slice(0, 1)).toEqual(before);
    expect([one.shared, other.shared]).toEqual([0, 0]);
  });
});

describe('[exact] earlier sheets', () => {
  it('are the last twenty and more, the newest first, each once', () => {
    expect(MOST_EARLIER).toBeGreaterThanOrEqual(20);
    const window = new Browser().open();
    for (let i = 0; i < MOST_EARLIER + 5; i++) {
      window.edit(`sheet ${i}`);
      window.lay(preset);
    }
    const { earlier } = window.keeper;
    expect(earlier.list().map(({ title }) => title)).toEqual(
      Array.from({ length: MOST_EARLIER }, (_, i) => `sheet ${MOST_EARLIER + 4 - i}`),
    );
    const last = earlier.take(earlier.list().at(-1)!.key)!.present;
    window.keep(record(window.line, last));
    window.lay(preset);
    expect(earlier.list()).toHaveLength(MOST_EARLIER);
    expect(sameContent(earlier.take(earlier.list()[0]!.key)!.present, last)).toBe(true);
  });

  it('with so many steps that undo can’t have them beside its own takes their place: they are one more', () => {
    const browser = new Browser();
    const [one, other] = [browser.open(), browser.open()];
    for (let i = 0; i < 150; i++) one.edit(`one ${i}`);
    for (let i = 0; i < 150; i++) other.edit(`other ${i}`);
    other.kill();
    // By hand: what undo brings back, and behind what is opened.
    const seen = new Set(steps(one));
    const { key } = one.keeper.earlier.list()[0]!;
    const line = one.keeper.earlier.take(key)!;
    one.lay(line.present, line);
    for (const title of steps(one)) seen.add(title);
    expect(seen.size).toBe(301);
    const again = one.reload();
    expect(again.keeper.earlier.list()[0]!.title).toBe('one 149');
    expect(browser.had().size).toBe(301);
  });

  it('that is there no more is none', () => {
    expect(new Browser().open().keeper.earlier.take('lodetone.earlier.x')).toBe(null);
  });
});

describe('[exact] what is broken', () => {
  const WORK = /^lodetone\.work\./;
  const keyOf = (browser: Browser): string => [...browser.storage.all.keys()].find((key) => WORK.test(key))!;

  it('is put aside, not deleted, and said', () => {
    const browser = new Browser();
    const one = browser.open();
    one.edit('a');
    const key = keyOf(browser);
    const spoiled = browser.storage.getItem(key)!.slice(0, 100);
    browser.storage.setItem(key, spoiled);
    const again = one.reload();
    expect(again.message).toMatch(/could not be read; it is put aside, not deleted/);
    expect(steps(again)).toEqual([titleOf(preset)]);
    again.edit('b');
    expect([...browser.storage.all.values()]).toContain(spoiled);
    expect(again.reload().message).toBe('');
  });

  it('and can’t be put aside for want of room is not written over', () => {
    const browser = new Browser();
    const one = browser.open();
    one.edit('a');
    const key = keyOf(browser);
    const spoiled = browser.storage.getItem(key)!.slice(0, -50);
    browser.storage.setItem(key, spoiled);
    browser.storage.room = spoiled.length + 200;
    const again = one.reload();
    browser.storage.room = Infinity;
    again.edit('b');
    expect(browser.storage.getItem(key)).toBe(spoiled);
    expect(steps(again.reload())).toEqual([titleOf(preset), 'b']);
  });

  it('in some of its steps opens with the others, and is put aside whole', () => {
    const browser = new Browser();
    const one = browser.open();
    for (const title of ['a', 'b', 'c']) one.edit(title);
    const key = keyOf(browser);
    const spoiled = browser.storage.getItem(key)!.replace('"s":"a"', '"s":1');
    browser.storage.setItem(key, spoiled);
    const again = one.reload();
    expect(again.message).toMatch(/^Some of the steps/);
    expect(steps(again)).toEqual(['b', 'c']);
    again.edit('d');
    expect([...browser.storage.all.values()]).toContain(spoiled);
    expect(again.reload().message).toBe('');
  });
});

describe('[exact] the one document of an earlier version', () => {
  it('opens, and moves into a record', () => {
    const browser = new Browser();
    browser.storage.setItem('lodetone.sheet', JSON.stringify(titled('old')));
    const window = browser.open();
    expect(steps(window)).toEqual(['old']);
    expect(browser.storage.getItem('lodetone.sheet')).toBe(null);
    expect(steps(window.reload())).toEqual(['old']);
  });

  it('beside newer ones is an earlier sheet', () => {
    const browser = new Browser();
    browser.open().edit('new');
    browser.storage.setItem('lodetone.sheet', JSON.stringify(titled('old').trials[0]));
    const window = browser.open();
    expect(titleOf(window.line.present)).toBe('new');
    expect(window.keeper.earlier.list().map(({ title }) => title)).toEqual(['old']);
  });
});

describe('[exact] without room', () => {
  it('there are fewer steps to undo, then nothing new is kept; what was kept before stays', () => {
    const browser = new Browser();
    const window = browser.open();
    expect(window.edit('a')).toBe('kept');
    const small = browser.storage.getItem([...browser.storage.all.keys()][0]!)!.length;
    for (let i = 0; i < 150; i++) window.edit(`a longer title, of step ${i}`);
    browser.storage.room = small + 2000;
    expect(window.edit('b')).toBe('shortened');
    const again = window.reload();
    expect(titleOf(again.line.present)).toBe('b');
    expect(again.line.past.length).toBeGreaterThan(0);
    browser.storage.room = 10;
    expect(again.edit('c')).toBe('full');
    expect(titleOf(again.line.present)).toBe('c');
    expect(titleOf(again.reload().line.present)).toBe('b');
  });
});

type Act = {
  readonly kind:
    | 'edit'
    | 'undo'
    | 'redo'
    | 'lay'
    | 'earlier'
    | 'reload'
    | 'kill'
    | 'duplicate'
    | 'open'
    | 'visit'
    | 'tell';
  readonly at: number;
};

const acts: fc.Arbitrary<Act[]> = fc.array(
  fc.record({
    kind: fc.constantFrom<Act['kind'][]>(
      'edit',
      'edit',
      'edit',
      'undo',
      'redo',
      'lay',
      'earlier',
      'reload',
      'kill',
      'duplicate',
      'open',
      'visit',
      'tell',
    ),
    at: fc.nat(5),
  }),
  { minLength: 5, maxLength: 60 },
);

describe('[exact] whatever windows do', () => {
  it('every state that was ever committed can be had back', () => {
    fc.assert(
      fc.property(acts, (all) => {
        const browser = new Browser();
        const committed = new Set<string>();
        let count = 0;
        browser.open();
        for (const { kind, at } of all) {
          const window = browser.windows[at % Math.max(1, browser.windows.length)];
          if (kind === 'tell') browser.tell();
          else if (kind === 'open' || kind === 'visit' || !window) browser.open(undefined, kind === 'visit');
          else if (kind === 'edit') {
            const title = `state ${++count}`;
            window.edit(title);
            committed.add(title);
          } else if (kind === 'undo') window.keep(undo(window.line));
          else if (kind === 'redo') window.keep(redo(window.line));
          else if (kind === 'lay') window.lay(preset);
          else if (kind === 'earlier') {
            const { key } = window.keeper.earlier.list()[at] ?? {};
            const line = key === undefined ? null : window.keeper.earlier.take(key);
            if (line) window.lay(line.present, line);
          } else if (kind === 'reload') window.reload();
          else if (kind === 'kill') window.kill();
          else {
            const session = new FakeStorage();
            for (const [key, value] of window.session.all) session.setItem(key, value);
            browser.open(session);
          }
        }
        // Some windows hear of the rest, and then all are killed at once.
        if (count % 2) browser.tell();
        for (const window of [...browser.windows]) window.kill();
        const had = browser.had();
        expect([...committed].filter((title) => !had.has(title))).toEqual([]);
      }),
      { seed: SEED, numRuns: 300 },
    );
  });
});
