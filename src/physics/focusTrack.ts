/** How far one dimension of a build moves the focus: the reach's width on the chosen string for each of its values. */
import type { Sheet } from '../sheet/sheet.ts';
import { FieldSolver } from './field.ts';
import { fieldQuestion } from './fieldQuestion.ts';

/** Why a track goes no further. */
export interface TrackEnd {
  /** 'limit': the lever's own; 'turns': beyond, the width goes back again; 'refused': `message` says what the build forbids. */
  readonly why: 'limit' | 'turns' | 'refused';
  readonly message: string;
}

/** Where the focus can be moved by a lever, without a jump and in one sense. */
export interface FocusTrack {
  /** Widths of the row's reach, rising, and the lever's value for each, m. Two at least, or the one that stands. */
  readonly widths: Float64Array;
  readonly values: Float64Array;
  readonly narrow: TrackEnd;
  readonly wide: TrackEnd;
}

interface Point {
  readonly value: number;
  readonly width: number;
}

/** Values computed from the one that stands to either end; between them the width is smooth. */
const POINTS = 6;
/** Halvings that find where a build begins to be refused: to 1/4000 of the lever's way. */
const HALVINGS = 12;
/** Steps that look for a turning point; the width there is flat. */
const TURN_STEPS = 3;
/** Widths nearer than this are one, m. */
const SAME = 1e-6;

/** A dimension of one row of a pickup, and how far it may go. */
export interface TrackedLever {
  /** From 0. */
  readonly pickup: number;
  readonly row: number;
  /** As it stands, and its limits, m. */
  readonly value: number;
  readonly min: number;
  readonly max: number;
  /** Whether its values count by their ratios: a width changes fastest where a gap is small. */
  readonly byRatio: boolean;
  /** The sheet with the lever there; or why the document can't have it, in a sentence. */
  readonly at: (value: number) => Sheet | string;
}

/**
 * The focus on the chosen string, as the lever moves it. Between the computed values a monotone curve through them is
 * within 0.05 mm of the reach [tests/physics/focusTrack.test.ts].
 *
 * @throws as FieldSolver.answer does for the build that stands; RangeError when that is none
 */
export function focusTrack(lever: TrackedLever, solver = new FieldSolver()): FocusTrack {
  const { pickup, row, value, min, max } = lever;
  const point = (to: number): Point => {
    const sheet = lever.at(to);
    const question = typeof sheet === 'string' ? null : fieldQuestion(sheet, pickup);
    if (typeof sheet === 'string' || !question)
      throw new RangeError('The pickup must have a build for its focus to be moved by it; it has none.');
    if (!question.build.rows[row])
      throw new RangeError(
        'The row must be one of the build’s for its focus to be moved; it has no such row.',
      );
    return { value: to, width: solver.width(question, { string: sheet.listen.string - 1, row }) };
  };
  const refuses = (to: number): string => {
    const sheet = lever.at(to);
    if (typeof sheet === 'string') return sheet;
    const question = fieldQuestion(sheet, pickup);
    return question ? solver.refusal(question) : '';
  };
  const standing = point(value);
  const [down, up] = [min, max].map((end) =>
    side(standing, lastBuilt(value, end, refuses), lever.byRatio, point),
  ) as [Side, Side];
  return trackOf(standing, down, up);
}

interface Side {
  /** From the one that stands on, without it. */
  readonly points: readonly Point[];
  readonly end: TrackEnd;
}

interface Reached {
  readonly value: number;
  readonly end: TrackEnd;
}

const LIMIT: TrackEnd = { why: 'limit', message: '' };
const TURNS: TrackEnd = { why: 'turns', message: '' };

/** The value nearest to `end` for which nothing refuses the build. */
function lastBuilt(from: number, end: number, refuses: (value: number) => string): Reached {
  let message = refuses(end);
  if (message === '') return { value: end, end: LIMIT };
  let [good, bad] = [from, end];
  for (let i = 0; i < HALVINGS; i++) {
    const middle = 0.5 * (good + bad);
    const refused = refuses(middle);
    if (refused === '') good = middle;
    else {
      bad = middle;
      message = refused;
    }
  }
  return { value: good, end: { why: 'refused', message } };
}

/** As far on one side as the width goes on in one sense. */
function side(
  standing: Point,
  { value: last, end }: Reached,
  byRatio: boolean,
  at: (value: number) => Point,
): Side {
  const points: Point[] = [];
  if (Math.abs(last - standing.value) < SAME) return { points, end };
  let before = standing;
  for (let i = 1; i <= POINTS; i++) {
    const share = i / POINTS;
    const value = byRatio
      ? standing.value * (last / standing.value) ** share
      : standing.value + (last - standing.value) * share;
    const next = at(i === POINTS ? last : value);
    const sense = Math.sign((points[0] ?? next).width - standing.width);
    if (i > 1 && sense * (next.width - before.width) < SAME) {
      const turn = turningPoint(points.at(-2) ?? standing, before, next, sense, at);
      if (sense * (turn.width - before.width) > SAME) points.push(turn);
      return { points, end: TURNS };
    }
    points.push(next);
    before = next;
  }
  return { points, end };
}

/** The widest (sense 1) or narrowest (−1) between two points about a third that is so by itself. */
function turningPoint(a: Point, b: Point, c: Point, sense: number, at: (value: number) => Point): Point {
  let [left, best, right] = [a, b, c];
  for (let i = 0; i < TURN_STEPS; i++) {
    for (const half of [left, right]) {
      const middle = at(0.5 * (half.value + best.value));
      if (sense * (middle.width - best.width) > 0) {
        [left, right] = half === left ? [left, best] : [best, right];
        best = middle;
        break;
      }
      if (half === left) left = middle;
      else right = middle;
    }
  }
  return best;
}

/** Both sides as one way; where the width goes the same way on both, the one that leads further. */
function trackOf(standing: Point, down: Side, up: Side): FocusTrack {
  const gain = ({ points }: Side): number => (points.at(-1)?.width ?? standing.width) - standing.width;
  const none = ({ points, end }: Side): Side => ({ points: [], end: points.length === 0 ? end : TURNS });
  let [narrow, wide] = gain(down) <= gain(up) ? [down, up] : [up, down];
  if (gain(narrow) >= 0) narrow = none(narrow);
  if (gain(wide) <= 0) wide = none(wide);
  const way = [...narrow.points.toReversed(), standing, ...wide.points];
  return {
    widths: Float64Array.from(way, ({ width }) => width),
    values: Float64Array.from(way, ({ value }) => value),
    narrow: narrow.end,
    wide: wide.end,
  };
}
