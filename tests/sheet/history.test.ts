/** Against a model that a reader can follow: a list of values and a place in it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  adopt,
  begin,
  cancel,
  canHold,
  canRedo,
  canUndo,
  commit,
  MOST_STEPS,
  newHistory,
  preview,
  record,
  redo,
  replace,
  undo,
  type History,
} from '../../src/sheet/history.ts';

const SEED = 23;

type Act =
  | { readonly kind: 'gesture'; readonly values: readonly number[]; readonly ends: 'commit' | 'cancel' }
  | { readonly kind: 'record'; readonly value: number }
  | { readonly kind: 'undo' | 'redo' };

const value = fc.nat(3);
const acts: fc.Arbitrary<Act[]> = fc.array(
  fc.oneof(
    fc.record({
      kind: fc.constant('gesture' as const),
      values: fc.array(value, { maxLength: 4 }),
      ends: fc.constantFrom('commit' as const, 'cancel' as const),
    }),
    fc.record({ kind: fc.constant('record' as const), value }),
    fc.record({ kind: fc.constantFrom('undo' as const, 'redo' as const) }),
  ),
  { maxLength: 60 },
);

interface Model {
  readonly values: { n: number }[];
  at: number;
}

function enter(model: Model, n: number): void {
  const { values, at } = model;
  if (values[at]!.n === n) return;
  // What had been undone goes before what the change began from.
  values.push(...values.splice(at, 1), { n });
  model.at = values.length - 1;
}

function act(history: History<{ n: number }>, step: Act, model: Model): History<{ n: number }> {
  switch (step.kind) {
    case 'undo':
      model.at = Math.max(0, model.at - 1);
      return undo(history);
    case 'redo':
      model.at = Math.min(model.values.length - 1, model.at + 1);
      return redo(history);
    case 'record':
      enter(model, step.value);
      return record(history, { n: step.value });
    case 'gesture': {
      let next = begin(history);
      for (const n of step.values) next = preview(next, { n });
      const last = step.values.at(-1);
      if (step.ends === 'commit' && last !== undefined) enter(model, last);
      return step.ends === 'commit' ? commit(next) : cancel(next);
    }
  }
}

describe('history', () => {
  it('[exact] does what the model does', () => {
    fc.assert(
      fc.property(acts, (steps) => {
        let history = newHistory({ n: 0 });
        const model: Model = { values: [{ n: 0 }], at: 0 };
        for (const step of steps) {
          history = act(history, step, model);
          expect(history.present).toStrictEqual(model.values[model.at]);
          expect(history.past).toStrictEqual(model.values.slice(0, model.at));
          expect(history.future).toStrictEqual(model.values.slice(model.at + 1));
          expect(canUndo(history)).toBe(model.at > 0);
          expect(canRedo(history)).toBe(model.at < model.values.length - 1);
        }
      }),
      { seed: SEED, numRuns: 1000 },
    );
  });

  it('[exact] undo and redo are each other’s inverse', () => {
    fc.assert(
      fc.property(acts, (steps) => {
        const model: Model = { values: [{ n: 0 }], at: 0 };
        const history = steps.reduce((h, step) => act(h, step, model), newHistory({ n: 0 }));
        if (canUndo(history)) expect(redo(undo(history))).toStrictEqual(history);
        if (canRedo(history)) expect(undo(redo(history))).toStrictEqual(history);
      }),
      { seed: SEED, numRuns: 1000 },
    );
  });

  it('[exact] loses nothing: every state that ever stood can be undone or redone to', () => {
    fc.assert(
      fc.property(acts, (steps) => {
        let history = newHistory({ n: 0 });
        const model: Model = { values: [{ n: 0 }], at: 0 };
        const stood = new Set([0]);
        for (const step of steps) {
          history = act(history, step, model);
          stood.add(history.present.n);
        }
        const there = [...history.past, history.present, ...history.future].map(({ n }) => n);
        expect(new Set(there)).toStrictEqual(stood);
      }),
      { seed: SEED, numRuns: 1000 },
    );
  });

  it('what was undone before another change is behind it', () => {
    let history = record(undo(undo(record(record(newHistory('a'), 'b'), 'c'))), 'd');
    const back: string[] = [];
    for (; canUndo(history); history = undo(history)) back.push(undo(history).present);
    expect(back).toStrictEqual(['a', 'c', 'b']);
  });

  it('another history adopted is one step, with its own steps behind all others', () => {
    const other = undo(record(record(newHistory('x'), 'y'), 'z'));
    const history = adopt(record(newHistory('a'), 'b'), other);
    expect(history).toStrictEqual({ present: 'y', past: ['x', 'z', 'a', 'b'], future: [], before: null });
    // The same document again is no step.
    expect(adopt(history, newHistory('y'))).toStrictEqual(history);
  });

  it('another history adopted where there is no room for both comes whole, and the oldest of its own steps go', () => {
    const long = (name: string): History<string> =>
      Array.from({ length: 150 }, (_, i) => `${name}${i}`).reduce(record<string>, newHistory(name));
    const [own, other] = [long('own'), long('other')];
    expect(canHold(own, other)).toBe(false);
    const both = adopt(own, other);
    expect(both.past.slice(0, 150)).toStrictEqual(other.past);
    expect(both.past.at(-1)).toBe('own149');
    expect(both.past).toHaveLength(MOST_STEPS);
    expect(canHold(own, newHistory('x'))).toBe(true);
  });

  it('a drag is one step, however often it previews', () => {
    let history = begin(newHistory('a'));
    for (let i = 0; i < 500; i++) history = preview(history, `b${i}`);
    expect(history.present).toBe('b499');
    history = commit(history);
    expect(history.past).toStrictEqual(['a']);
    expect(undo(history).present).toBe('a');
  });

  it('a drag that comes back to where it began is no step and keeps the very same value', () => {
    const start = { n: 1 };
    const history = commit(preview(preview(begin(newHistory(start)), { n: 2 }), { n: 1 }));
    expect(history.past).toHaveLength(0);
    expect(history.present).toBe(start);
  });

  it('cancelling keeps what could be redone', () => {
    const undone = undo(record(newHistory(1), 2));
    expect(cancel(preview(undone, 3))).toStrictEqual(undone);
    expect(redo(cancel(preview(undone, 3))).present).toBe(2);
  });

  it('during a gesture undo cancels it and redo waits', () => {
    const history = preview(record(newHistory(1), 2), 3);
    expect(canUndo(history)).toBe(true);
    expect(undo(history).present).toBe(2);
    expect(redo(history)).toBe(history);
  });

  it('without a gesture commit and cancel do nothing; at the ends undo and redo do nothing', () => {
    const history = newHistory(1);
    for (const nothing of [commit, cancel, undo, redo]) expect(nothing(history)).toBe(history);
  });

  it('record ends a gesture under way as a step of its own', () => {
    const history = record(preview(newHistory(1), 2), 3);
    expect(history).toStrictEqual({ present: 3, past: [1, 2], future: [], before: null });
  });

  it(`keeps ${MOST_STEPS} steps`, () => {
    let history = newHistory(0);
    for (let i = 1; i <= MOST_STEPS + 50; i++) history = record(history, i);
    expect(history.past).toHaveLength(MOST_STEPS);
    while (canUndo(history)) history = undo(history);
    expect(history.present).toBe(50);
    while (canRedo(history)) history = redo(history);
    expect(history.present).toBe(MOST_STEPS + 50);
  });
});

it('[exact] what is replaced is nothing to undo, and takes nothing from what is', () => {
  const two = record(record(newHistory(0), 1), 2);
  const turned = replace(undo(two), 7);
  expect([turned.present, canUndo(turned), canRedo(turned)]).toEqual([7, true, true]);
  expect(undo(turned).present).toBe(0);
  expect(redo(turned).present).toBe(2);
});
