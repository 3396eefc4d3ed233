/**
 * Several versions of a sheet beside one another: the document that links, storage and undo carry. All of them are
 * played on the same instrument and in the same way, so that only the pickups, the harness and what is written on the
 * sheet differ. Pure functions over immutable data; what does not apply returns the very same document.
 */
import { LONGEST_TITLE } from './check.ts';
import { sameData } from './edit.ts';
import { onInstrument } from './otherInstrument.ts';
import type { Sheet } from './sheet.ts';
import { isDefaultSpread, type Spread } from './spread.ts';

/** Raised only when an older program could not read the data. */
export const TRIALS_FORMAT = 1;
/** Trials of a document, and blind results kept with it. */
export const MOST_TRIALS = 6;
export const MOST_BLIND = 20;
/** Letters of what is wanted: every list full. */
export const LONGEST_SEARCH = 2000;

/** What a blind listen came to; `a` and `b` count trials from 0. */
export interface BlindResult {
  readonly a: number;
  readonly b: number;
  readonly rounds: number;
  /** Rounds in which the right one was named. */
  readonly right: number;
  /** Calendar day, YYYY-MM-DD (ISO 8601). */
  readonly date: string;
}

/** The document. */
export interface Trials {
  readonly format: typeof TRIALS_FORMAT;
  /** Which one is on the table, from 0. */
  readonly open: number;
  /** One to six; instrument and listen are the same in all. */
  readonly trials: readonly Sheet[];
  /** At most twenty, the oldest first. */
  readonly blind: readonly BlindResult[];
  /** What its maker can't hold; absent: DEFAULT_SPREAD. */
  readonly spread?: Spread;
  /** What is wanted of a pickup and of what it may be built, as text: only who searches reads it (readSearch.ts). Absent where nobody has said. */
  readonly search?: string;
}

/** A document of one sheet. */
export function wrap(sheet: Sheet): Trials {
  return { format: TRIALS_FORMAT, open: 0, trials: [sheet], blind: [] };
}

/** Its sheet, where it is one and nothing else; null where there is more to it. */
export const alone = ({ trials, blind, spread, search }: Trials): Sheet | null =>
  trials.length === 1 && blind.length === 0 && !spread && !search ? trials[0]! : null;

/** The sheet on the table. */
export function currentSheet(trials: Trials): Sheet {
  // The check lets no document through whose open trial is not there.
  return trials.trials[trials.open] as Sheet;
}

/** A, B, C … for 0, 1, 2 … */
export const letter = (index: number): string => String.fromCharCode(65 + index);

/** Puts another trial on the table. */
export function openTrial(trials: Trials, index: number): Trials {
  return index === trials.open || !trials.trials[index] ? trials : { ...trials, open: index };
}

/**
 * Copies the open trial as the next letter, under a title that no other has, and puts the copy on the table; not beyond
 * six.
 */
export function addTrial(trials: Trials): Trials {
  const open = currentSheet(trials);
  return withTrial(trials, { ...open, title: titleOfCopy(open.title, trials) });
}

/** A changed copy of the open trial as the next letter, on the table; not beyond six. @param sheet of the same instrument, played alike */
export const addChanged = (trials: Trials, sheet: Sheet): Trials =>
  withTrial(trials, { ...sheet, title: titleOfCopy(sheet.title, trials) });

function withTrial(trials: Trials, sheet: Sheet): Trials {
  if (trials.trials.length >= MOST_TRIALS) return trials;
  return { ...trials, open: trials.trials.length, trials: [...trials.trials, sheet] };
}

/** «Skerry» → «Skerry, variant 2» → «Skerry, variant 3»: a number and not the letter, which changes as trials are taken out. */
function titleOfCopy(title: string, { trials }: Trials): string {
  const taken = new Set(trials.map((sheet) => sheet.title));
  const plain = title.replace(/(^|, )variant \d+$/, '');
  for (let n = 2; ; n++) {
    const mark = `variant ${n}`;
    // Cut between letters, never within one that takes two units.
    const room = LONGEST_TITLE - mark.length - 2;
    const short = plain.length > room ? plain.slice(0, room).replace(/[\uD800-\uDBFF]$/, '') : plain;
    const copy = short === '' ? mark : `${short.trimEnd()}, ${mark}`;
    if (!taken.has(copy)) return copy;
  }
}

/**
 * Takes a trial out; the last one stays. Later ones move up a letter, in blind results too; results that the one taken
 * out had part in go with it.
 */
export function removeTrial(trials: Trials, index: number): Trials {
  if (trials.trials.length < 2 || !trials.trials[index]) return trials;
  const moved = (i: number): number => (i > index ? i - 1 : i);
  const last = trials.trials.length - 2;
  return {
    ...trials,
    open: Math.min(moved(trials.open), last),
    trials: trials.trials.filter((_, i) => i !== index),
    blind: trials.blind
      .filter(({ a, b }) => a !== index && b !== index)
      .map((result) => ({ ...result, a: moved(result.a), b: moved(result.b) })),
  };
}

/**
 * The open trial exchanged for `sheet`, whose instrument and way of listening go to all the others too. A change of
 * the instrument may leave another trial with a pickup beyond its nut: `checkTrials` says so.
 */
export function editOpen(trials: Trials, sheet: Sheet): Trials {
  const { instrument, listen } = sheet;
  if (sheet === currentSheet(trials)) return trials;
  return {
    ...trials,
    trials: trials.trials.map((other, i) => {
      if (i === trials.open) return sheet;
      return sameShared(other, sheet) ? other : onInstrument(other, instrument, listen);
    }),
  };
}

/**
 * Keeps what the open trial was before a change: it takes the open one's letter, and what stands there now becomes the
 * next letter and stays on the table. Not beyond six.
 */
export function splitTrial(trials: Trials, before: Sheet): Trials {
  const now = currentSheet(trials);
  const { instrument, listen } = now;
  const earlier = sameShared(before, now) ? before : onInstrument(before, instrument, listen);
  // A mod may have written into the title what it did.
  const told = now.title === before.title ? { ...now, title: titleOfCopy(now.title, trials) } : now;
  const added = withTrial(trials, told);
  if (added === trials) return trials;
  return { ...added, trials: added.trials.map((sheet, i) => (i === trials.open ? earlier : sheet)) };
}

/**
 * Another sheet in place of the open trial. A document of one becomes that sheet, its maker's spread kept; beside other trials it is heard on
 * their instrument and in their way, so that it can be compared with them.
 */
export function placeSheet(trials: Trials, sheet: Sheet): Trials {
  if (trials.trials.length === 1)
    return sheet === currentSheet(trials)
      ? trials
      : withSearch(withSpread(wrap(sheet), trials.spread), trials.search);
  const { instrument, listen } = currentSheet(trials);
  return editOpen(trials, onInstrument(sheet, instrument, listen));
}

/** A change of every trial: of the strings, whose number the builds of all of them follow. */
export function editAll(trials: Trials, change: (sheet: Sheet) => Sheet): Trials {
  const changed = trials.trials.map(change);
  return changed.every((sheet, i) => sheet === trials.trials[i]) ? trials : { ...trials, trials: changed };
}

/** Keeps a blind result; beyond twenty the oldest goes. */
export function addBlind(trials: Trials, result: BlindResult): Trials {
  return { ...trials, blind: [...trials.blind, result].slice(-MOST_BLIND) };
}

/** What its maker can't hold; undefined for what holds where nobody said. */
export function withSpread(trials: Trials, spread: Spread | undefined): Trials {
  const { spread: _, ...rest } = trials;
  return spread && !isDefaultSpread(spread) ? { ...rest, spread } : rest;
}

/** What is wanted, and what there is; undefined where nobody says. */
export function withSearch(trials: Trials, search: string | undefined): Trials {
  const { search: _, ...rest } = trials;
  return search ? { ...rest, search } : rest;
}

/** Takes a blind result out. */
export function removeBlind(trials: Trials, index: number): Trials {
  if (!trials.blind[index]) return trials;
  return { ...trials, blind: trials.blind.filter((_, i) => i !== index) };
}

/** Whether two sheets are of one instrument and played in one way. */
export function sameShared(a: Sheet, b: Sheet): boolean {
  return sameData(a.instrument, b.instrument) && sameData(a.listen, b.listen);
}

/** Whether two documents say the same but for which trial is on the table. */
export const sameContent = (a: Trials, b: Trials): boolean =>
  a === b ||
  (sameData(a.trials, b.trials) && sameData([a.blind, a.spread, a.search], [b.blind, b.spread, b.search]));
