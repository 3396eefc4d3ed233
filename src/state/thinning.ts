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

/** The newest of these stay, each of them, while they are younger than that, ms: a busy hour pushes nothing older out. */
const EACH = 40;
const YOUNG = 10 * MINUTE;
/** Below an age, ms, else one state in so long stays, ms. */
const LADDER: readonly (readonly [age: number, each: number])[] = [
  [HOUR, MINUTE],
  [DAY, HOUR],
  [30 * DAY, DAY],
  [Infinity, WEEK],
];

/** States of one design, and letters of them all; the oldest go. The ladder alone leaves some 150, and one more a week. */
export const MOST_STATES = 400;
export const MOST_STATE_LETTERS = 8_000_000;

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
  return newest.flatMap(({ state, time }, i) => {
    const each = i < EACH && now - time < YOUNG ? 0 : (LADDER.find(([age]) => now - time < age)?.[1] ?? WEEK);
    const stretch = `${each} ${Math.floor(time / each)}`;
    if (each > 0 && taken.has(stretch)) return [state];
    taken.add(stretch);
    count++;
    letters += state.letters;
    return count > MOST_STATES || letters > MOST_STATE_LETTERS ? [state] : [];
  });
}
