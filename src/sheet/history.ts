/**
 * Undo and redo over immutable values, one step a gesture. A drag begins a gesture, previews as often as it
 * likes and commits once; Escape cancels, and it was never there. Everything here is pure: a history is data, and
 * every function returns the next one.
 */
import { sameData } from './edit.ts';

/** A value with what it was and, after undo, what it is to be again. */
export interface History<T> {
  /** What is shown now, a preview included. */
  readonly present: T;
  /** Oldest first. */
  readonly past: readonly T[];
  /** The next redo first. */
  readonly future: readonly T[];
  /** What stood before the gesture under way; null when there is none. */
  readonly before: { readonly value: T } | null;
}

/** Steps kept; a sheet shares most of its parts with its neighbours, so they cost little. */
export const MOST_STEPS = 200;

/** Of a value that nobody has changed yet. */
export function newHistory<T>(present: T): History<T> {
  return { present, past: [], future: [], before: null };
}

/** Begins a gesture; one already under way goes on. */
export function begin<T>(history: History<T>): History<T> {
  return history.before ? history : { ...history, before: { value: history.present } };
}

/** Shows a value while the gesture lasts; begins one if there is none. */
export function preview<T>(history: History<T>, value: T): History<T> {
  return { ...begin(history), present: value };
}

/**
 * Ends the gesture as one step; none when nothing differs from before. What had been undone is not lost by it: it comes to
 * stand before what the gesture began from, so that undo finds it behind that.
 */
export function commit<T>(history: History<T>): History<T> {
  const { before, present, past, future } = history;
  if (!before) return history;
  if (sameData(before.value, present)) return { ...history, present: before.value, before: null };
  const steps = [...past, ...future, before.value];
  return { present, past: steps.slice(-MOST_STEPS), future: [], before: null };
}

/** Ends the gesture as if it had never begun. */
export function cancel<T>(history: History<T>): History<T> {
  return history.before ? { ...history, present: history.before.value, before: null } : history;
}

/** One change without a preview: a typed figure, a switch, another preset. */
export function record<T>(history: History<T>, value: T): History<T> {
  return commit(preview(commit(history), value));
}

/** Another value in place of the present one, which is nothing to undo: what is looked at, not what is said. */
export const replace = <T>(history: History<T>, value: T): History<T> => ({ ...history, present: value });

const stepsOf = <T>({ past, future }: History<T>): number => past.length + future.length;

/** Whether one that adopts the other has all that it had, but for the one step that every change may cost. */
export const canHold = <T>(history: History<T>, other: History<T>): boolean =>
  stepsOf(other) === 0 || stepsOf(history) + 1 + stepsOf(other) <= MOST_STEPS;

/**
 * What another history shows, as one step: undo goes back to what is shown now and on through its steps, and behind the
 * oldest of them come all states of the other. Where there is no room for both, the oldest of its own steps go, and what is
 * shown now stays; see canHold.
 */
export function adopt<T>(history: History<T>, other: History<T>): History<T> {
  const own = record(history, other.present);
  const room = Math.max(1, MOST_STEPS - stepsOf(other));
  return { ...own, past: [...other.past, ...other.future, ...own.past.slice(-room)] };
}

/** Whether undo or redo would change anything. */
export const canUndo = <T>(history: History<T>): boolean =>
  history.before !== null || history.past.length > 0;
export const canRedo = <T>(history: History<T>): boolean =>
  history.before === null && history.future.length > 0;

/** Back by one step; a gesture under way is cancelled instead. */
export function undo<T>(history: History<T>): History<T> {
  if (history.before) return cancel(history);
  const value = history.past.at(-1);
  if (history.past.length === 0) return history;
  return {
    present: value as T,
    past: history.past.slice(0, -1),
    future: [history.present, ...history.future],
    before: null,
  };
}

/** Forward by one step; does nothing during a gesture. */
export function redo<T>(history: History<T>): History<T> {
  if (!canRedo(history)) return history;
  return {
    present: history.future[0] as T,
    past: [...history.past, history.present].slice(-MOST_STEPS),
    future: history.future.slice(1),
    before: null,
  };
}
