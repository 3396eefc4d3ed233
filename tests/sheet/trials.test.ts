import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkTrials, objection } from '../../src/sheet/checkTrials.ts';
import * as history from '../../src/sheet/history.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { readSearch } from '../../src/sheet/readSearch.ts';
import { DEFAULT_SPREAD } from '../../src/sheet/spread.ts';
import {
  addBlind,
  addChanged,
  addTrial,
  alone,
  currentSheet,
  editOpen,
  letter,
  openTrial,
  placeSheet,
  removeBlind,
  removeTrial,
  sameContent,
  splitTrial,
  withSearch,
  withSpread,
  wrap,
  type BlindResult,
  type Trials,
} from '../../src/sheet/trials.ts';
import { arbitraryTrials } from '../fixtures/arbitrarySheet.ts';
import { fullestSheet, fullestTrials } from '../fixtures/fullestSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const SEED = 26;

/* eslint-disable @typescript-eslint/no-explicit-any -- data from outside has no type */
type Data = any;

const example = exampleSheet();
const titled = (title: string): Sheet => ({ ...example, title });
const result = (a: number, b: number): BlindResult => ({ a, b, rounds: 16, right: 12, date: '2026-03-01' });
const three: Trials = {
  format: 1,
  open: 1,
  trials: [titled('a'), titled('b'), titled('c')],
  blind: [result(0, 1), result(0, 2), result(2, 1)],
};

describe('[exact] trials', () => {
  it('one sheet is a document of one', () => {
    expect(wrap(example)).toStrictEqual({ format: 1, open: 0, trials: [example], blind: [] });
    expect(currentSheet(wrap(example))).toBe(example);
    expect([0, 1, 5].map(letter)).toStrictEqual(['A', 'B', 'F']);
  });

  it('adding copies the open one as the next letter and opens the copy, up to six', () => {
    const four = addTrial(three);
    expect(four.open).toBe(3);
    expect(four.trials.map((s) => s.title)).toStrictEqual(['a', 'b', 'c', 'b, variant 2']);
    expect(four.trials.slice(0, 3)).toStrictEqual(three.trials);
    expect({ ...four.trials[3], title: 'b' }).toStrictEqual(three.trials[1]);
    const six = addTrial(addTrial(four));
    expect(addTrial(six)).toBe(six);
  });

  it('a copy has a title of its own, within its limit, and no other trial’s is changed', () => {
    const titles = (t: Trials): string[] => t.trials.map((s) => s.title);
    expect(titles(addTrial(addTrial(wrap(titled('a')))))).toStrictEqual([
      'a',
      'a, variant 2',
      'a, variant 3',
    ]);
    // One that was taken out leaves its number free.
    expect(titles(addTrial(removeTrial(addTrial(addTrial(wrap(titled('a')))), 1)))).toStrictEqual([
      'a',
      'a, variant 3',
      'a, variant 2',
    ]);
    expect(titles(addTrial(wrap(titled(''))))).toStrictEqual(['', 'variant 2']);
    // A letter of two units at the place of the cut, and one before it.
    for (const long of [
      'x'.repeat(80),
      `${'x'.repeat(68)}\u{1D11E}${'x'.repeat(10)}`,
      '\u{1D11E}'.repeat(40),
    ]) {
      const copy = addTrial(wrap(titled(long)));
      expect(currentSheet(copy).title).toMatch(/, variant 2$/);
      // It throws for half a letter.
      expect(() => encodeURIComponent(currentSheet(copy).title)).not.toThrow();
      expect(checkTrials(copy).ok).toBe(true);
    }
  });

  it('opening another; the same or none that is there changes nothing', () => {
    expect(currentSheet(openTrial(three, 2)).title).toBe('c');
    for (const index of [1, 3, -1, 0.5]) expect(openTrial(three, index)).toBe(three);
  });

  it('removing: what is open stays open, blind results follow their trials or go', () => {
    expect(removeTrial(three, 0)).toStrictEqual({
      ...three,
      open: 0,
      trials: [titled('b'), titled('c')],
      blind: [result(1, 0)],
    });
    expect(removeTrial(three, 2)).toStrictEqual({
      ...three,
      trials: [titled('a'), titled('b')],
      blind: [result(0, 1)],
    });
    expect(removeTrial({ ...three, open: 2 }, 2).open).toBe(1);
    expect(removeTrial(three, 3)).toBe(three);
    const one = wrap(example);
    expect(removeTrial(one, 0)).toBe(one);
  });

  it('an edit of the open one: instrument and listen go to all, the rest to none', () => {
    const sheet: Sheet = {
      ...titled('new'),
      notes: 'other',
      instrument: { ...example.instrument, frets: 21 },
      listen: { ...example.listen, tempo: 120 },
      harness: { ...example.harness, cable: { length: 9, capacitancePerMetre: 1e-10 } },
    };
    const edited = editOpen(three, sheet);
    expect(edited.trials[1]).toBe(sheet);
    expect(edited.trials[0]).toStrictEqual({
      ...titled('a'),
      instrument: sheet.instrument,
      listen: sheet.listen,
    });
    expect(edited.trials[2]!.harness).toBe(example.harness);
  });

  it('an edit that shares instrument and listen leaves the others the very same', () => {
    const edited = editOpen(three, titled('new'));
    expect(edited.trials[0]).toBe(three.trials[0]);
    expect(edited.trials[2]).toBe(three.trials[2]);
    expect(editOpen(three, currentSheet(three))).toBe(three);
  });

  it('keeps the last twenty blind results', () => {
    let trials: Trials = { ...three, blind: [] };
    for (let rounds = 10; rounds < 35; rounds++)
      trials = addBlind(trials, { ...result(0, 1), rounds, right: 5 });
    expect(trials.blind.map((r) => r.rounds)).toStrictEqual(Array.from({ length: 20 }, (_, i) => 15 + i));
  });

  it('whatever is done to a sound document leaves one, and undo brings it back', () => {
    const step: fc.Arbitrary<(t: Trials) => Trials> = fc.oneof(
      fc.constant(addTrial),
      fc.nat(6).map((i) => (t: Trials) => removeTrial(t, i)),
      fc.nat(6).map((i) => (t: Trials) => openTrial(t, i)),
      fc.integer({ min: 30, max: 300 }).map((tempo) => (t: Trials) => {
        const sheet = currentSheet(t);
        return editOpen(t, { ...sheet, listen: { ...sheet.listen, tempo } });
      }),
      fc.lorem({ maxCount: 3 }).map((title) => (t: Trials) => {
        return editOpen(t, { ...currentSheet(t), title: title.slice(0, 80) });
      }),
    );
    fc.assert(
      fc.property(arbitraryTrials, fc.array(step, { maxLength: 12 }), (first, steps) => {
        let past = history.newHistory(first);
        for (const change of steps) past = history.record(past, change(past.present));
        expect(checkTrials(past.present)).toStrictEqual({ ok: true, trials: past.present });
        while (history.canUndo(past)) past = history.undo(past);
        expect(past.present).toBe(first);
      }),
      { seed: SEED, numRuns: 200 },
    );
  });
});

describe('the check of a document', () => {
  it('[exact] lets every generated one through, unchanged and fresh, its shared parts shared', () => {
    fc.assert(
      fc.property(arbitraryTrials, (trials) => {
        const checked = checkTrials(structuredClone(trials));
        expect(checked).toStrictEqual({ ok: true, trials });
        if (!checked.ok) return;
        const [first] = checked.trials.trials;
        for (const sheet of checked.trials.trials) {
          expect(sheet.instrument).toBe(first!.instrument);
          expect(sheet.listen).toBe(first!.listen);
        }
      }),
      { seed: SEED, numRuns: 200 },
    );
  });

  it('[exact] takes a plain sheet for a document of one', () => {
    expect(checkTrials(fullestSheet)).toStrictEqual({ ok: true, trials: wrap(fullestSheet) });
  });

  it.each<[name: string, spoil: (t: Data) => void, message: string]>([
    ['no trial', (t) => (t.trials = []), 'Trials must be 1 to 6 in number; got 0.'],
    ['seven', (t) => t.trials.push(t.trials[0]), 'Trials must be 1 to 6 in number; got 7.'],
    ['no list', (t) => (t.trials = 3), 'Trials must be 1 to 6 in number; got 3.'],
    [
      'a newer format',
      (t) => (t.format = 2),
      'Trials must be of format 1; got 2. A newer Lodetone made them: reload the page, or update.',
    ],
    ['no format', (t) => delete t.format, 'Trials must say their format, a number; got none.'],
    ['none open', (t) => (t.open = 6), 'Open trial must be one of 0, 1, 2, 3, 4, 5; got 6.'],
    [
      'another tempo',
      (t) => (t.trials[2].listen.tempo = 40),
      'Trial C: instrument and way of listening must be those of trial A; got others.',
    ],
    [
      'another scale',
      (t) => (t.trials[1].instrument.scaleLength = 0.63),
      'Trial B: instrument and way of listening must be those of trial A; got others.',
    ],
    [
      'a fault in one',
      (t) => (t.trials[3].pickups[1].build.rows[0].pole.length = 1),
      'Trial D: pickup 2, build of row 1: pole length must be between 3.0 mm and 40.0 mm; got 1000.0 mm.',
    ],
    [
      'a result of one trial',
      (t) => (t.blind[4].b = t.blind[4].a),
      'Blind result 5: its trials must be two; got E twice.',
    ],
    [
      'a result of none',
      (t) => (t.blind[0].a = 6),
      'Blind result 1: its first trial must be one of 0, 1, 2, 3, 4, 5; got 6.',
    ],
    [
      'more right than asked',
      (t) => Object.assign(t.blind[1], { rounds: 10, right: 11 }),
      'Blind result 2: right rounds must be at most all, 10; got 11.',
    ],
    [
      'a day that never was',
      (t) => (t.blind[0].date = '2025-02-29'),
      'Blind result 1: date must be a day as YYYY-MM-DD; got "2025-02-29".',
    ],
    ['too many results', (t) => t.blind.push(t.blind[0]), 'Blind results must be 0 to 20 in number; got 21.'],
  ])('%s', (_, spoil, message) => {
    // Not structuredClone, which would keep what they share shared.
    const data: Data = JSON.parse(JSON.stringify(fullestTrials));
    spoil(data);
    expect(checkTrials(data)).toStrictEqual({ ok: false, message });
  });

  it.each<[string, unknown]>([
    ['nothing', undefined],
    ['a list', [fullestSheet]],
    ['trials that are only inherited', Object.create(fullestTrials)],
    [
      'a getter that throws',
      {
        get trials(): number {
          throw new Error('no');
        },
      },
    ],
  ])('%s is no document', (_, data) => {
    expect(checkTrials(data)).toStrictEqual({
      ok: false,
      message: expect.stringMatching(/^(Sheet|Trials) must /),
    });
  });
});

describe('[exact] what the bench does with trials', () => {
  const other = { ...example.listen, string: example.listen.string === 1 ? 2 : 1 };

  it('a state before a change keeps the letter, what it became is the next and stays on the table', () => {
    const now = editOpen(three, titled('after'));
    const split = splitTrial(now, titled('before'));
    expect(split.trials.map((s) => s.title)).toStrictEqual(['a', 'before', 'c', 'after']);
    expect(split.open).toBe(3);
    expect(checkTrials(split).ok).toBe(true);
  });

  it('the state before is played as all now are', () => {
    const now = editOpen(three, { ...titled('after'), listen: other });
    const split = splitTrial(now, titled('before'));
    expect(split.trials.map((s) => s.listen)).toStrictEqual(split.trials.map(() => other));
    expect(checkTrials(split).ok).toBe(true);
  });

  it('beyond six nothing is split', () => {
    const six = addTrial(addTrial(addTrial(three)));
    expect(splitTrial(six, titled('before'))).toBe(six);
  });

  it('a sheet alone is the whole document; beside others it takes their instrument and listening', () => {
    const sheet = { ...titled('preset'), listen: other };
    expect(placeSheet(wrap(example), sheet)).toStrictEqual(wrap(sheet));
    const placed = placeSheet(three, sheet);
    expect(placed.trials.map((s) => s.title)).toStrictEqual(['a', 'preset', 'c']);
    expect(placed.trials[1]!.listen).toBe(example.listen);
    expect(placed.trials[0]).toBe(three.trials[0]);
    const one = wrap(example);
    expect(placeSheet(one, example)).toBe(one);
  });

  it('a blind result is taken out', () => {
    expect(removeBlind(three, 1).blind).toStrictEqual([result(0, 1), result(2, 1)]);
    expect(removeBlind(three, 3)).toBe(three);
  });

  it('a change is objected to in the words of the one it concerns', () => {
    const [pickup] = example.pickups;
    const wrong = { ...titled('b'), pickups: [{ ...pickup!, place: 5 }, ...example.pickups.slice(1)] };
    expect(objection(editOpen(three, wrong), three)).toMatch(/must be/);
    expect(objection(editOpen(three, titled('new')), three)).toBe('');
    expect(objection(openTrial(three, 2), three)).toBe('');
    // A shorter scale leaves room for this trial's pickups, but not for those of A.
    const long = { ...example, instrument: { ...example.instrument, scaleLength: 0.9 } };
    const far = { ...long, title: 'a', pickups: [{ ...pickup!, place: 0.63 }, ...example.pickups.slice(1)] };
    const before: Trials = { format: 1, open: 1, trials: [far, long], blind: [] };
    expect(objection(before, three)).toBe('');
    const short = { ...long, instrument: { ...long.instrument, scaleLength: 0.6 } };
    expect(objection(editOpen(before, short), before)).toMatch(/^Trial A: /);
  });

  it('what a maker can’t hold goes with the document; absent it is what holds where nobody said', () => {
    const spread = { ...DEFAULT_SPREAD, gap: 0.1e-3 };
    const kept = withSpread(wrap(example), spread);
    expect(alone(wrap(example))).toBe(example);
    expect(alone(kept)).toBeNull();
    expect(withSpread(kept, DEFAULT_SPREAD)).toStrictEqual(wrap(example));
    expect(sameContent(kept, wrap(example))).toBe(false);
    // Another sheet, a trial more and a trial less leave it as it is.
    expect(placeSheet(kept, titled('other')).spread).toBe(spread);
    expect(removeTrial(addTrial(kept), 0).spread).toBe(spread);
    const read = checkTrials(JSON.parse(JSON.stringify(kept)));
    expect(read.ok && read.trials).toStrictEqual(kept);
    const from = (data: object): Data => checkTrials({ ...kept, spread: data });
    expect(from({ ...spread, turns: 2 }).message).toBe(
      'Spread: spread must be between 0 % and 50 %; got 200 %.',
    );
    expect(from({ turns: 0.02 }).ok).toBe(false);
    expect(from({ ...DEFAULT_SPREAD }).trials).toStrictEqual(wrap(example));
  });

  it('what is wanted and what there is go with the document, and what is wrong is named', () => {
    const search = {
      wants: { resonance: 5000, alike: 1 },
      stock: { wires: [63e-6], enamels: ['single'], turns: [5000, 8000] },
      load: { resistance: null, capacitance: 0 },
    } as const;
    const text = JSON.stringify(search);
    const kept = withSearch(wrap(example), text);
    expect(alone(kept)).toBeNull();
    expect(sameContent(kept, wrap(example))).toBe(false);
    expect(withSearch(kept, undefined)).toStrictEqual(wrap(example));
    expect(placeSheet(kept, titled('other')).search).toBe(text);
    const read = checkTrials(JSON.parse(JSON.stringify(kept)));
    expect(read.ok && read.trials).toStrictEqual(kept);
    expect(readSearch(text)).toStrictEqual({ ok: true, search });
    expect(readSearch('{').ok || readSearch('7').ok).toBe(false);
    expect((checkTrials({ ...kept, search: 7 }) as Data).message).toMatch(/^Search must be text/);
    const from = (stock: object): string | undefined =>
      (readSearch(JSON.stringify({ ...search, stock })) as Data).message;
    expect(from({ wires: [] })).toBe('Search: wires must be 1 to 12 in number; got 0.');
    expect(from({ turns: [8000, 5000] })).toBe(
      'Search: turns at most must be no less than at least, 8000; got 5000.',
    );
    expect(from({ grades: ['lead'] })).toMatch(/^Search: magnet grade must be one of /);
    const { load: _, ...inGuitar } = search;
    expect(readSearch(JSON.stringify(inGuitar))).toStrictEqual({ ok: true, search: inGuitar });
    const into = (load: unknown): string | undefined =>
      (readSearch(JSON.stringify({ ...search, load })) as Data).message;
    expect(into({ resistance: 1, capacitance: 0 })).toMatch(
      /^Search: input resistance must be between .*; got 1\.00 Ω\.$/,
    );
    expect(into({ resistance: null })).toMatch(/^Search: input capacitance must be /);
    expect(into('nothing')).toMatch(/^Search: load must be a group of fields/);
  });

  it('a changed copy of the open trial lies beside it', () => {
    const changed = addChanged(three, { ...titled('b'), notes: 'more turns' });
    expect(changed.trials.map(({ title }) => title)).toStrictEqual(['a', 'b', 'c', 'b, variant 2']);
    expect([changed.open, changed.trials[3]!.notes]).toStrictEqual([3, 'more turns']);
  });
});
