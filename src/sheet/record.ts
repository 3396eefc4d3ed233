/**
 * A document with all that undo and redo can bring back, as one text for a browser's storage. What stands on the table is
 * written whole, every other state as what it differs from its neighbour by. What is read is trusted in nothing.
 */
import { checkTrials } from './checkTrials.ts';
import { sameData } from './edit.ts';
import type { History } from './history.ts';
import { MOST_STEPS } from './history.ts';
import { patch, patched } from './patch.ts';
import { currentSheet, type Trials } from './trials.ts';

/** Raised only when an older program could not read the record. */
const RECORD = 1;

/** Letters of a record; the oldest steps are left out beyond. A browser's storage holds some five million in all. */
export const MOST_LETTERS = 256 * 1024;

/** What is said about a record besides its states. */
export interface RecordHead {
  /** ISO 8601, UTC. */
  readonly date: string;
  /** Under which name the record lay that this one was begun from; empty for none. */
  readonly from: string;
}

/** What was read. `lost`: whether some of its steps could not be. */
export interface KeptRecord extends RecordHead {
  readonly history: History<Trials>;
  readonly title: string;
  readonly lost: boolean;
  /** Which design each state is of, where that was written: see `Belongs`. */
  readonly designs: ReadonlyMap<Trials, string>;
}

/**
 * Which design a state is of: its id, behind an asterisk while the state lies there as it was opened and nobody has changed
 * it; empty for none.
 */
export type Belongs = (state: Trials) => string;
const BELONGS = /^\*?[\w-]{1,48}$/;

/** Neighbours stay the same from one commit to the next: each difference is found once. */
const differences = new WeakMap<Trials, WeakMap<Trials, string>>();
const wholes = new WeakMap<Trials, string>();

function difference(from: Trials, to: Trials): string {
  const known = differences.get(from) ?? new WeakMap<Trials, string>();
  differences.set(from, known);
  const text = known.get(to) ?? JSON.stringify(patch(from, to));
  known.set(to, text);
  return text;
}

function whole(trials: Trials): string {
  const text = wholes.get(trials) ?? JSON.stringify(trials);
  wholes.set(trials, text);
  return text;
}

/** From the nearest to the farthest, as far as there is room. */
function chain(first: Trials, rest: readonly Trials[], room: number): string {
  const all: string[] = [];
  let from = first;
  for (const to of rest) {
    const text = difference(from, to);
    room -= text.length + 1;
    if (room < 0) break;
    all.push(text);
    from = to;
  }
  return `[${all.join(',')}]`;
}

/** One after another, as «so many of that design». */
function runs(states: readonly Trials[], of: Belongs): [string, number][] {
  const all: [string, number][] = [];
  for (const state of states) {
    const design = of(state);
    const last = all.at(-1);
    if (last?.[0] === design) last[1]++;
    else all.push([design, 1]);
  }
  return all;
}

/**
 * @param history at rest: of a gesture under way only what stood before it would be kept
 * @param most letters; what is on the table is written whatever it takes
 */
export function writeRecord(
  history: History<Trials>,
  head: RecordHead,
  most = MOST_LETTERS,
  of: Belongs = () => '',
): string {
  const present = history.before?.value ?? history.present;
  const designs = [[present], history.past.toReversed(), history.future].map((states) => runs(states, of));
  const begin = `{"record":${RECORD},"date":${JSON.stringify(head.date)},"from":${JSON.stringify(head.from)},"designs":${JSON.stringify(designs)},"present":${whole(present)}`;
  const future = chain(present, history.future, (most - begin.length) / 2);
  const past = chain(present, history.past.toReversed(), most - begin.length - future.length);
  return `${begin},"future":${future},"past":${past}}`;
}

/**
 * States from the nearest to the farthest; ends where one can't be read, and says so.
 * @param raw the present as it was written: an older Lodetone's differences are between documents as it wrote them
 */
function follow(
  raw: unknown,
  present: Trials,
  patches: unknown,
): { readonly states: Trials[]; readonly lost: boolean } {
  const states: Trials[] = [];
  if (!Array.isArray(patches)) return { states, lost: true };
  let written = sameData(raw, present) ? present : raw;
  let last = present;
  for (const by of patches.slice(0, MOST_STEPS) as unknown[]) {
    try {
      written = patched(written, by);
      const checked = checkTrials(written);
      if (!checked.ok) return { states, lost: true };
      // What is as it was shares its parts with its neighbour, so that nothing is computed anew for it; it is never its neighbour itself.
      const next = sameData(written, checked.trials) ? (written as Trials) : checked.trials;
      last = next === last ? { ...next } : next;
      states.push(last);
    } catch {
      return { states, lost: true };
    }
  }
  return { states, lost: false };
}

/** What of it can be read. */
function belonging(groups: readonly (readonly Trials[])[], written: unknown): Map<Trials, string> {
  const designs = new Map<Trials, string>();
  const lists = Array.isArray(written) ? (written as unknown[]) : [];
  groups.forEach((states, group) => {
    const list = lists[group];
    let at = 0;
    for (const run of Array.isArray(list) ? (list as unknown[]) : []) {
      const [design, count] = Array.isArray(run) ? (run as unknown[]) : [];
      if (typeof design !== 'string' || typeof count !== 'number' || !(count > 0)) return;
      for (const state of states.slice(at, at + count)) if (BELONGS.test(design)) designs.set(state, design);
      at += count;
    }
  });
  return designs;
}

/** null for a text that holds no document. Never throws. */
export function readRecord(text: string): KeptRecord | null {
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch {
    return null;
  }
  if (typeof data !== 'object' || data === null) return null;
  const fields = data as Readonly<Record<string, unknown>>;
  if (fields['record'] !== RECORD) return null;
  const checked = checkTrials(fields['present']);
  if (!checked.ok) return null;
  const present = checked.trials;
  const past = follow(fields['present'], present, fields['past']);
  const future = follow(fields['present'], present, fields['future']);
  const { date, from } = fields;
  return {
    history: { present, past: past.states.toReversed(), future: future.states, before: null },
    title: currentSheet(present).title,
    date: typeof date === 'string' && !Number.isNaN(Date.parse(date)) ? date : new Date(0).toISOString(),
    from: typeof from === 'string' ? from : '',
    lost: past.lost || future.lost,
    designs: belonging([[present], past.states, future.states], fields['designs']),
  };
}
