/** The door for documents from outside, of several trials or of a single sheet. */
import { buildSheet, checkSheet } from './check.ts';
import {
  asFields,
  checkFormat,
  choice,
  Fault,
  figure,
  group,
  list,
  orDefault,
  refuse,
  text,
  type Fields,
} from './fault.ts';
import type { Sheet } from './sheet.ts';
import { SPREADS, type Spread, type SpreadKey } from './spread.ts';
import {
  currentSheet,
  letter,
  LONGEST_SEARCH,
  MOST_BLIND,
  MOST_TRIALS,
  sameShared,
  TRIALS_FORMAT,
  withSearch,
  withSpread,
  wrap,
} from './trials.ts';
import type { BlindResult, Trials } from './trials.ts';

/** A document to be trusted, or a sentence about the first thing that is wrong. */
export type CheckedTrials =
  | { readonly ok: true; readonly trials: Trials }
  | { readonly ok: false; readonly message: string };

function checkTrial(data: unknown, index: number, first: Sheet | undefined): Sheet {
  const where = `Trial ${letter(index)}`;
  let sheet: Sheet;
  try {
    sheet = buildSheet(data);
  } catch (error) {
    if (error instanceof Fault) refuse(where, error.message);
    throw error;
  }
  if (!first) return sheet;
  if (!sameShared(sheet, first))
    refuse(where, 'Instrument and way of listening must be those of trial A; got others.');
  return { ...sheet, instrument: first.instrument, listen: first.listen };
}

const DAY = /^\d{4}-\d{2}-\d{2}$/;

const isDay = (date: string): boolean => {
  if (!DAY.test(date)) return false;
  const time = Date.parse(`${date}T00:00:00Z`);
  // A day that the month does not have is carried over into the next one, and then reads otherwise.
  return !Number.isNaN(time) && new Date(time).toISOString().startsWith(date);
};

function checkBlind(value: unknown, number: number, trials: number): BlindResult {
  const where = `Blind result ${number}`;
  const fields = asFields(value, '', where);
  const all = Array.from({ length: trials }, (_, i) => i);
  const a = choice(fields, 'a', all, where, 'Its first trial');
  const b = choice(fields, 'b', all, where, 'Its second trial');
  if (a === b) refuse(where, `Its trials must be two; got ${letter(a)} twice.`);
  const rounds = figure(fields, 'rounds', 'rounds', where);
  const right = figure(fields, 'right', 'roundsRight', where);
  if (right > rounds) refuse(where, `Right rounds must be at most all, ${rounds}; got ${right}.`);
  const date = text(fields, 'date', 10, where, 'Date', false, DAY);
  if (!isDay(date)) refuse(where, `Date must be a day as YYYY-MM-DD; got "${date}".`);
  return { a, b, rounds, right, date };
}

function checkSpread(fields: Fields): Spread {
  const spread = group(fields, 'spread', '', 'Spread');
  const read = SPREADS.map(([key, name]) => [key, figure(spread, key, name, 'Spread')] as const);
  return Object.fromEntries(read) as Record<SpreadKey, number>;
}

function buildTrials(fields: Fields): Trials {
  checkFormat(fields, TRIALS_FORMAT, 'Trials', ['their', 'them']);
  const given = list(fields, 'trials', '', 'Trials', 1, MOST_TRIALS);
  const trials: Sheet[] = [];
  given.forEach((trial, i) => trials.push(checkTrial(trial, i, trials[0])));
  const document: Trials = {
    format: TRIALS_FORMAT,
    open: choice(
      fields,
      'open',
      trials.map((_, i) => i),
      '',
      'Open trial',
    ),
    trials,
    blind: list(fields, 'blind', '', 'Blind results', 0, MOST_BLIND).map((result, i) =>
      checkBlind(result, i + 1, trials.length),
    ),
  };
  const spread = orDefault(fields, 'spread', undefined, () => checkSpread(fields));
  const search = orDefault(fields, 'search', undefined, () =>
    text(fields, 'search', LONGEST_SEARCH, '', 'Search'),
  );
  return withSearch(withSpread(document, spread), search);
}

/** A document, or a single sheet as a document of its own. Never throws. */
export function checkTrials(data: unknown): CheckedTrials {
  try {
    const several = typeof data === 'object' && data !== null && Object.hasOwn(data, 'trials');
    return { ok: true, trials: several ? buildTrials(data as Fields) : wrap(buildSheet(data)) };
  } catch (error) {
    if (error instanceof Fault) return { ok: false, message: error.message };
    return { ok: false, message: 'Sheet must be plain data; got something that cannot be read.' };
  }
}

/**
 * What is wrong with a document that follows from a checked one; empty when nothing is. The open trial is looked at by
 * itself, the others when something about them has changed: this runs while a handle moves.
 */
export function objection(next: Trials, before: Trials): string {
  const sheet = currentSheet(next);
  if (!before.trials.includes(sheet)) {
    const checked = checkSheet(sheet);
    if (!checked.ok) return checked.message;
  }
  if (next.trials.every((trial) => trial === sheet || before.trials.includes(trial))) return '';
  const all = checkTrials(next);
  return all.ok ? '' : all.message;
}
