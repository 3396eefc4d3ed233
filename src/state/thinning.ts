/** Which of a design's earlier states stay: the younger the closer together. Pure. */

/** An earlier state, without what it holds. */
export interface Stood {
  /** When it was committed, ISO 8601, UTC. */
  readonly date: string;
  /** Letters that it takes. */
  readonly letters: number;
}

const SECOND = 1000;
const MINUTE = 60 * SECOND;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
const WEEK = 7 * DAY;

/** Below an age, ms, one state in so long stays, ms; 0 for all. */
const LADDER: readonly (readonly [age: number, each: number])[] = [
  [10 * MINUTE, 0],
  [HOUR, MINUTE],
  [DAY, HOUR],
  [30 * DAY, DAY],
  [Infinity, WEEK],
];

/** States of one design, and letters of them all; the oldest go. */
export const MOST_STATES = 160;
export const MOST_STATE_LETTERS = 4_000_000;

/**
 * Of each stretch of time the last state stays, so that what a design was when it was left is there. Stretches begin at fixed
 * times: what stays today is not another than yesterday because the clock has gone on.
 * @param states in any order; a date that can't be read counts as the oldest of all
 * @param now ms since 1970
 * @returns those that go
 */
export function surplus<T extends Stood>(states: readonly T[], now: number): T[] {
  const newest = states
    .map((state) => ({ state, time: Date.parse(state.date) || 0 }))
    .sort((a, b) => b.time - a.time);
  const taken = new Set<string>();
  let count = 0;
  let letters = 0;
  return newest.flatMap(({ state, time }) => {
    const each = LADDER.find(([age]) => now - time < age)?.[1] ?? WEEK;
    const stretch = `${each} ${Math.floor(time / each)}`;
    if (each > 0 && taken.has(stretch)) return [state];
    taken.add(stretch);
    count++;
    letters += state.letters;
    return count > MOST_STATES || letters > MOST_STATE_LETTERS ? [state] : [];
  });
}
