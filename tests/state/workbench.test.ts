/** The bench with the real prediction, its workers run in the same thread. */
import { withoutPickup } from '../../src/sheet/compose.ts';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { JobClient, type WorkerLike } from '../../src/jobs/client.ts';
import type { JobRequest } from '../../src/jobs/protocol.ts';
import { predict } from '../../src/physics/predict.ts';
import { setAt } from '../../src/sheet/edit.ts';
import { newHistory } from '../../src/sheet/history.ts';
import type { Modded } from '../../src/sheet/mods.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { addTrial, wrap } from '../../src/sheet/trials.ts';
import { Keeper } from '../../src/state/keeper.ts';
import { Workbench } from '../../src/state/workbench.svelte.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { FakeStorage } from './fakeStorage.ts';

const example = exampleSheet();
const WIDTH = ['pickups', 0, 'rows', 0, 'reach', 'width'] as const;

/** A sheet of this title has a fault. */
const UNBUILT = 'unbuilt';

/** What is asked about a sheet of this title breaks off: nothing is wrong with it. */
const BROKEN_OFF = 'broken off';

/** Predicts, and says of all other work that it can't be done. */
class OwnThread implements WorkerLike {
  private readonly listeners = new Map<string, (event: Event) => void>();
  private readonly asked: Sheet[];

  constructor(asked: Sheet[]) {
    this.asked = asked;
  }

  postMessage(message: unknown): void {
    const { id, kind, sheet } = message as JobRequest;
    if (kind === 'figures') this.asked.push(sheet);
    queueMicrotask(() => {
      const data =
        sheet.title === UNBUILT
          ? {
              id,
              ok: false,
              message: 'It does not hold.',
              faults: [{ path: [], message: 'It does not hold.' }],
            }
          : kind === 'figures' && sheet.title !== BROKEN_OFF
            ? { id, ok: true, value: predict(sheet) }
            : { id, ok: false, message: 'No.', faults: [] };
      this.listeners.get('message')?.(new MessageEvent('message', { data }));
    });
  }

  addEventListener(type: string, listener: (event: Event) => void): void {
    this.listeners.set(type, listener);
  }

  removeEventListener(type: string): void {
    this.listeners.delete(type);
  }

  terminate(): void {
    this.listeners.clear();
  }
}

interface Opened {
  readonly bench: Workbench;
  /** What was predicted for the open trial, and for the others. */
  readonly asked: Sheet[];
  readonly aside: Sheet[];
}

function open(first = wrap(example), presets: readonly Sheet[] = []): Opened {
  const asked: Sheet[] = [];
  const aside: Sheet[] = [];
  const client = (list: Sheet[]): JobClient => new JobClient({ create: () => new OwnThread(list) });
  const named = presets.map((sheet) => ({ name: sheet.title, sheet }));
  return { bench: new Workbench(newHistory(first), named, client(asked), client(aside)), asked, aside };
}

/** Lets everything that waits for nothing but its turn happen. */
const settled = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 20));

let kept = new FakeStorage();
beforeEach(() => {
  kept = new FakeStorage();
  vi.stubGlobal('localStorage', kept);
});
afterEach(() => vi.unstubAllGlobals());

const width = (sheet: Sheet): number | undefined => sheet.pickups[0]?.rows[0]?.reach.width;

describe('[exact] trials on the bench', () => {
  it('a copy is there at once, without being computed anew', async () => {
    const { bench, asked, aside } = open();
    await settled();
    const before = bench.prediction;
    expect(before).not.toBe(null);
    expect(bench.other).toBe(null);
    bench.addTrial();
    await settled();
    expect(bench.trials.trials.length).toBe(2);
    expect(bench.prediction).toBe(before);
    expect([asked.length, aside.length]).toEqual([1, 0]);
    expect([bench.other?.letter, bench.other?.prediction]).toEqual(['A', before]);
  });

  it('one turns between them without computing, waiting or undoing', async () => {
    const { bench, asked } = open();
    await settled();
    bench.addTrial();
    bench.set(WIDTH, 0.02);
    await settled();
    const [a, b] = [bench.other?.prediction, bench.prediction];
    expect(a).not.toBe(b);
    const so = asked.length;
    for (let i = 0; i < 5; i++) {
      bench.openTrial(0);
      await Promise.resolve();
      expect([bench.prediction, bench.other?.letter, width(bench.sheet)]).toEqual([a, 'B', width(example)]);
      bench.openTrial(1);
      await Promise.resolve();
      expect([bench.prediction, bench.other?.letter, width(bench.sheet)]).toEqual([b, 'A', 0.02]);
    }
    expect(asked.length).toBe(so);
    // Two steps were made, not twelve.
    bench.undo();
    expect(width(bench.sheet)).toBe(width(example));
    bench.undo();
    expect(bench.trials.trials.length).toBe(1);
    expect(bench.canUndo).toBe(false);
  });

  it('what is shared changes in all, and the other one is computed again aside', async () => {
    const { bench, aside } = open(addTrial(wrap(example)));
    await settled();
    const string = example.listen.string === 2 ? 3 : 2;
    bench.set(['listen', 'string'], string);
    await settled();
    expect(bench.trials.trials.map((s) => s.listen.string)).toEqual([string, string]);
    expect(bench.other?.prediction.note.string).toBe(string);
    expect(aside.at(-1)?.listen.string).toBe(string);
  });

  it('the other one is the one that lay there before, or the one chosen', async () => {
    const { bench } = open(addTrial(addTrial(wrap(example))));
    expect([bench.trials.open, bench.against]).toEqual([2, 0]);
    bench.openTrial(1);
    expect(bench.against).toBe(2);
    bench.compareWith(0);
    expect(bench.against).toBe(0);
    bench.removeTrial(0);
    await settled();
    expect([bench.trials.open, bench.against, bench.other?.letter]).toEqual([0, 1, 'B']);
    bench.removeTrial(1);
    expect([bench.against, bench.other]).toEqual([null, null]);
  });

  it('the whole document is kept with its steps, and opens again', () => {
    const { bench } = open();
    bench.addTrial();
    bench.set(WIDTH, 0.02);
    bench.openTrial(0);
    const { history } = new Keeper().open();
    expect(history?.present).toEqual(bench.trials);
    expect(history?.past).toHaveLength(2);
    expect(bench.trials.open).toBe(0);
  });

  it('an edit is not lost when another sheet takes its place: it is an earlier one, and undo has it after a reload', () => {
    const { bench } = open();
    bench.set(WIDTH, 0.02);
    bench.open({ ...example, title: 'other' });
    expect(bench.earlier.any).toBe(true);
    expect(bench.earlier.list.map(({ title }) => title)).toEqual([example.title]);
    const { history } = new Keeper().open();
    expect(width(history!.past.at(-1)!.trials[0]!)).toBe(0.02);
    // As one step.
    bench.openEarlier(bench.earlier.list[0]!.key);
    expect([bench.sheet.title, width(bench.sheet)]).toEqual([example.title, 0.02]);
    bench.undo();
    expect(bench.sheet.title).toBe('other');
    bench.redo();
    bench.openEarlier(bench.earlier.list[0]!.key);
    expect(bench.message).toMatch(/open already|is open; undo/);
  });

  it('a preset that nobody changed is no earlier sheet', () => {
    const { bench } = open(wrap(example), [example]);
    bench.open({ ...example, title: 'other' });
    bench.open(example);
    expect(bench.earlier.list.map(({ title }) => title)).toEqual(['other']);
  });

  it('what another window had can be had from a sheet of the same content: its steps come behind', () => {
    const theirs = open().bench;
    theirs.set(WIDTH, 0.02);
    theirs.undo();
    const { bench } = open(wrap({ ...example, title: 'mine' }));
    bench.set(['title'], 'other');
    bench.set(['title'], example.title);
    const [window] = bench.earlier.list;
    expect(bench.trials).toStrictEqual(theirs.trials);
    bench.openEarlier(window!.key);
    const widths: (number | undefined)[] = [];
    while (bench.canUndo) {
      widths.push(width(bench.sheet));
      bench.undo();
    }
    expect([...widths, width(bench.sheet)]).toContain(0.02);
    // Once more there is nothing new in it.
    while (bench.canRedo) bench.redo();
    expect(bench.sheet.title).toBe(example.title);
  });

  it('what another window had is opened with its steps', () => {
    const theirs = open().bench;
    theirs.set(WIDTH, 0.02);
    theirs.set(WIDTH, 0.021);
    const { bench } = open(wrap({ ...example, title: 'mine' }));
    bench.set(WIDTH, 0.018);
    const [window] = bench.earlier.list;
    expect(window?.title).toBe(example.title);
    bench.openEarlier(window!.key);
    expect(width(bench.sheet)).toBe(0.021);
    const back = [];
    while (bench.canUndo) {
      bench.undo();
      back.push([bench.sheet.title, width(bench.sheet)]);
    }
    expect(back).toEqual([
      ['mine', 0.018],
      ['mine', 0.014],
      [example.title, 0.02],
      [example.title, 0.014],
    ]);
  });

  it('a sheet is opened alone as the document, beside others as the open trial', async () => {
    const { bench } = open();
    const other = { ...example, title: 'other', listen: { ...example.listen, seconds: 3 } };
    bench.open(other);
    expect(bench.trials).toEqual(wrap(other));
    bench.addTrial();
    bench.open({ ...example, title: 'third' });
    await settled();
    expect(bench.trials.trials.map((s) => [s.title, s.listen.seconds])).toEqual([
      ['other', 3],
      ['third', 3],
    ]);
    expect(bench.message).toMatch(/^Opened as trial B/);
    bench.undo();
    expect(bench.trials.trials.map((s) => s.title)).toEqual(['other', 'other, variant 2']);
  });

  it('a trial that can’t be built shows its faults and no other trial’s curve', async () => {
    const broken = { ...example, title: UNBUILT };
    const { bench } = open({ format: 1, open: 0, trials: [example, broken], blind: [] });
    await settled();
    const good = bench.prediction;
    expect(good).not.toBe(null);
    expect([bench.other, bench.otherTrouble]).toEqual([null, 'It does not hold.']);
    bench.openTrial(1);
    await settled();
    expect([bench.prediction, bench.faults.length, bench.message]).toEqual([null, 1, 'It does not hold.']);
    bench.openTrial(0);
    await Promise.resolve();
    expect([bench.prediction, bench.faults.length, bench.message]).toEqual([good, 0, '']);
    // Of the same trial the last good one stays while a fault lasts.
    bench.set(['title'], UNBUILT);
    await settled();
    expect([bench.prediction, bench.faults.length, bench.message]).toEqual([good, 1, 'It does not hold.']);
    // Undone, nothing is wrong any more, and nothing says so.
    bench.undo();
    await settled();
    expect([bench.prediction, bench.faults.length, bench.message]).toEqual([good, 0, '']);
  });

  it('figures that broke off leave the last ones, known as older, until a change is answered', async () => {
    const { bench, asked } = open();
    await settled();
    const good = bench.prediction;
    bench.set(['title'], BROKEN_OFF);
    await settled();
    expect([bench.prediction, bench.message, bench.broken]).toEqual([good, 'No.', true]);
    bench.set(WIDTH, 0.02);
    await settled();
    expect(bench.broken).toBe(true);
    bench.set(['title'], 'whole');
    await settled();
    expect([bench.broken, bench.message]).toEqual([false, '']);
    expect(asked.length).toBe(4);
  });

  it('what can’t be kept for the next visit is known, and what can be as well', () => {
    const { bench } = open();
    kept.room = 0;
    bench.set(WIDTH, 0.02);
    expect([bench.keeping, width(bench.sheet)]).toEqual(['full', 0.02]);
    expect(bench.words.keeping).toMatch(/not kept.*full; copy the link/);
    kept.room = Infinity;
    bench.set(WIDTH, 0.021);
    expect(bench.keeping).toBe('kept');
  });

  it('when one is taken out the one compared with stays the same, under its new letter', () => {
    const { bench } = open(addTrial(addTrial(addTrial(wrap(example)))));
    expect(bench.trials.open).toBe(3);
    bench.compareWith(2);
    bench.removeTrial(1);
    expect([bench.trials.open, bench.against]).toEqual([2, 1]);
    bench.removeTrial(1);
    expect([bench.trials.open, bench.against]).toEqual([1, 0]);
  });

  it('a refused change is said and changes nothing', () => {
    const { bench } = open(addTrial(wrap(example)));
    const before = bench.trials;
    const why = bench.put(WIDTH, 5);
    expect(bench.trials).toBe(before);
    expect(why).toMatch(/focus must be between/);
    expect(bench.message).toBe(why);
    expect(bench.put(WIDTH, 0.02)).toBe('');
    expect(bench.message).toBe('');
  });
});

describe('[exact] mods on the bench', () => {
  const wider = (sheet: Sheet, pickup: number): Modded => ({
    ok: true,
    sheet: setAt(sheet, ['pickups', pickup, 'rows', 0, 'reach', 'width'], 0.02),
  });

  it('what was before is kept beside what it became, or taken back', async () => {
    const { bench } = open();
    await settled();
    const was = bench.prediction;
    bench.mod('focus at 20 mm', wider);
    await settled();
    expect([bench.before?.what, bench.before?.prediction, bench.before?.sheet]).toEqual([
      'focus at 20 mm',
      was,
      example,
    ]);
    bench.undo();
    expect(bench.before).toBe(null);
    bench.redo();
    expect(bench.before?.what).toBe('focus at 20 mm');
    bench.keepMod();
    await settled();
    expect(bench.trials.trials.map((s) => [s.title, width(s)])).toEqual([
      [example.title, width(example)],
      [`${example.title}, focus at 20 mm`, 0.02],
    ]);
    expect([bench.trials.open, bench.other?.letter, bench.other?.prediction]).toEqual([1, 'A', was]);
    expect(bench.before).toBe(null);
  });

  it('is compared no more once a pickup is put in or taken out, for its number may be another’s then', async () => {
    const { bench } = open();
    await settled();
    bench.mod('focus at 20 mm', wider);
    await settled();
    bench.restructure((sheet) => withoutPickup(sheet, sheet.pickups.length - 1));
    expect(bench.before).toBe(null);
    bench.undo();
    expect(bench.before?.what).toBe('focus at 20 mm');
  });

  it('two mods in one go are each compared with what was just before', async () => {
    const { bench } = open();
    await settled();
    bench.mod('focus at 20 mm', wider);
    bench.mod('called other', (sheet) => ({ ok: true, sheet: setAt(sheet, ['title'], 'other') }));
    await settled();
    expect(bench.before?.what).toBe('called other');
    expect(bench.before && width(bench.before.sheet)).toBe(0.02);
    expect(bench.before?.prediction.voices[0]?.reach.rows[0]?.width).toBeCloseTo(0.02, 9);
  });

  it('what can’t be done is said and returned, and changes nothing; what can is not', async () => {
    const { bench } = open();
    const message = 'The magnets are alnico 5 already.';
    expect(bench.mod('nothing', () => ({ ok: false, message }))).toBe(message);
    expect(bench.message).toBe(message);
    expect(bench.canUndo).toBe(false);
    expect(bench.mod('focus at 20 mm', wider)).toBe('');
    expect(bench.message).toBe('');
    expect(bench.canUndo).toBe(true);
    await settled();
  });

  it('a change that the sheet’s own check refuses is returned as well', () => {
    const { bench } = open();
    const sheet = setAt(example, WIDTH, 5);
    expect(bench.mod('focus at 5 m', () => ({ ok: true, sheet }))).toMatch(/focus must be between/);
    expect(bench.canUndo).toBe(false);
  });
});
