import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { newHistory, record, undo, type History } from '../../src/sheet/history.ts';
import { patch, patched } from '../../src/sheet/patch.ts';
import { MOST_LETTERS, readRecord, writeRecord } from '../../src/sheet/record.ts';
import { addTrial, editOpen, openTrial, removeTrial, wrap, type Trials } from '../../src/sheet/trials.ts';
import { arbitrarySheet } from '../fixtures/arbitrarySheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const SEED = 41;
const example = exampleSheet();
const HEAD = { date: '2026-03-04T05:06:07.000Z', from: '' };
/** As it comes out of a storage. */
const round = (value: unknown): unknown => JSON.parse(JSON.stringify(value)) as unknown;

/** Plain data as sheets are made of, without numbers that JSON does not have. */
const data = fc.letrec((tie) => ({
  any: fc.oneof(
    { depthSize: 'medium' },
    fc.integer(),
    fc.string(),
    fc.constant(null),
    fc.array(tie('any')),
    fc.dictionary(fc.constantFrom('a', 'b', 's', 'i', 'l'), tie('any')),
  ),
})).any;

describe('patch', () => {
  it('[exact] makes the one of the other, through a storage too', () => {
    fc.assert(
      fc.property(data, data, (from, to) => {
        expect(patched(from, round(patch(from, to)))).toEqual(round(to));
      }),
      { seed: SEED, numRuns: 2000 },
    );
  });

  it('[exact] is null for what says the same, and shares what did not change', () => {
    expect(patch({ a: [1, { b: 2 }] }, { a: [1, { b: 2 }] })).toBe(null);
    const from = { a: { deep: [1, 2, 3] }, b: { c: 1, words: 'of some length' } };
    const to = patched(from, patch(from, { ...from, b: { c: 2, words: 'of some length' } })) as typeof from;
    expect(to.a).toBe(from.a);
    expect(to.b.c).toBe(2);
  });

  it('that does not fit is refused', () => {
    for (const [from, by] of [
      [1, { i: { a: null } }],
      [{ a: 1 }, { i: { b: { s: 1 } } }],
      [{ a: 1 }, { i: { __proto__: null, toString: { s: 1 } } }],
      [[1], { l: [1] }],
      [[1], { l: [-1] }],
      [[1], { l: 3 }],
      [{ a: 1 }, { l: [] }],
      [1, 5],
      [1, undefined],
      [1, {}],
    ])
      expect(() => patched(from, by)).toThrow(RangeError);
  });
});

/** A document with undo and redo in it. */
const lines: fc.Arbitrary<History<Trials>> = fc
  .tuple(
    arbitrarySheet,
    fc.array(
      fc.oneof(
        arbitrarySheet.map((sheet) => ({ kind: 'place' as const, sheet })),
        fc.record({ kind: fc.constantFrom('add', 'remove', 'turn', 'undo'), at: fc.nat(3) }),
      ),
      { maxLength: 12 },
    ),
  )
  .map(([first, acts]) =>
    acts.reduce(
      (line, act) => {
        const { present } = line;
        if (act.kind === 'place') return record(line, wrap((act as { sheet: Trials['trials'][0] }).sheet));
        const { at } = act as { at: number };
        if (act.kind === 'undo') return undo(line);
        if (act.kind === 'add') return record(line, addTrial(present));
        if (act.kind === 'turn') return record(line, openTrial(present, at));
        return record(line, removeTrial(present, at));
      },
      newHistory(wrap(first)),
    ),
  );

describe('record', () => {
  it('[exact] brings back every step', () => {
    fc.assert(
      fc.property(lines, (line) => {
        const read = readRecord(writeRecord(line, HEAD));
        expect(read?.history).toStrictEqual(line);
        expect([read?.date, read?.lost]).toEqual([HEAD.date, false]);
      }),
      { seed: SEED, numRuns: 40 },
    );
  });

  const edited = (count: number): History<Trials> => {
    let line = newHistory(wrap(example));
    for (let i = 1; i <= count; i++) {
      const { present } = line;
      const sheet = present.trials[0]!;
      line = record(line, editOpen(present, { ...sheet, title: `step ${i}` }));
    }
    return line;
  };

  it('[exact] of a Lodetone that knew one bar alone brings back every step, where the bar changed as well', () => {
    const text = readFileSync(new URL('../fixtures/old-links/one-bar.json', import.meta.url), 'utf8');
    const old = JSON.parse(text) as { pickups: { build: { bar: object | null; gapBass: number } }[] };
    const withBuild = (change: object): Trials =>
      wrap({
        ...old,
        pickups: old.pickups.map((p, i) => (i === 0 ? { ...p, build: { ...p.build, ...change } } : p)),
      } as never);
    const bar = old.pickups[0]!.build.bar!;
    const steps = [{}, { bar: { ...bar, top: -0.01 } }, { gapBass: 0.004 }, { bar: null }].map(withBuild);
    const all = steps.slice(1).reduce(record, newHistory(steps[0]!));
    const read = readRecord(writeRecord(undo(all), HEAD))!;
    expect(read.lost).toBe(false);
    const { past, present, future } = read.history;
    const seen = [...past, present, ...future].map(({ trials: [sheet] }) => {
      const { bars, gapBass } = sheet!.pickups[0]!.build!;
      return [bars[0]?.top, gapBass];
    });
    expect(seen).toEqual([
      [-0.0088, 0.003],
      [-0.01, 0.003],
      [-0.0088, 0.004],
      [undefined, 0.003],
    ]);
  });

  it('takes little more room for two hundred steps than for none', () => {
    const [none, many] = [writeRecord(edited(0), HEAD).length, writeRecord(edited(200), HEAD).length];
    expect(many).toBeLessThan(none + 200 * 80);
  });

  it('within its room keeps the newest steps; what is on the table always', () => {
    const line = edited(200);
    const room = writeRecord(edited(0), HEAD).length + 1000;
    const read = readRecord(writeRecord(line, HEAD, room))!.history;
    expect(read.past.length).toBeGreaterThan(5);
    expect(read.past).toEqual(line.past.slice(-read.past.length));
    expect(readRecord(writeRecord(line, HEAD, 10))?.history).toEqual({ ...line, past: [] });
    expect(MOST_LETTERS).toBeLessThanOrEqual(5e6 / 16);
  });

  it('shares what did not change between the steps that it reads', () => {
    const { past, present } = readRecord(writeRecord(edited(5), HEAD))!.history;
    expect(past[0]?.trials[0]?.pickups).toBe(present.trials[0]?.pickups);
  });

  it('of a gesture under way keeps what stood before it', () => {
    const line = { ...edited(2), before: { value: wrap({ ...example, title: 'before' }) } };
    expect(readRecord(writeRecord(line, HEAD))?.title).toBe('before');
  });

  it('that is no record, or whose sheet breaks a rule, is none', () => {
    const whole = writeRecord(edited(3), HEAD);
    for (const text of [
      '',
      'null',
      '[]',
      '{}',
      whole.slice(0, 300),
      whole.replace('"record":1', '"record":2'),
      whole.replace('"sampleRate":', '"sampleRate":1'),
    ])
      expect(readRecord(text)).toBe(null);
  });

  it('with a step that can’t be read keeps the sheet and the steps before it, and says so', () => {
    const line = edited(5);
    const whole = writeRecord(line, HEAD);
    const spoiled = whole.replace('"s":"step 2"', '"s":2');
    expect(spoiled).not.toBe(whole);
    const read = readRecord(spoiled)!;
    expect(read.lost).toBe(true);
    expect(read.history.present).toEqual(line.present);
    expect(read.history.past).toEqual(line.past.slice(-2));
  });

  it('[exact] however it was spoiled, what is read has passed the check, and nothing is thrown', () => {
    const whole = writeRecord(edited(4), HEAD);
    fc.assert(
      fc.property(fc.nat(whole.length), fc.nat(20), fc.string({ maxLength: 5 }), (at, cut, put) => {
        const read = readRecord(whole.slice(0, at) + put + whole.slice(at + cut));
        if (read) expect(readRecord(writeRecord(read.history, HEAD))?.history).toEqual(read.history);
      }),
      { seed: SEED, numRuns: 500 },
    );
  });
});
