/** Designs and what they were, as they are shown. What lies in a browser may have been spoilt, or be another version's. Pure. */
import { changeList, changesOf } from '../sheet/changes.ts';
import { readDesignText } from '../sheet/designFile.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { currentSheet, type Trials } from '../sheet/trials.ts';
import type { KeptDesign, KeptState } from './designStore.ts';
import { dayWords } from './words.ts';

interface Shown {
  readonly key: string;
  /** ISO 8601; what can't be read is the oldest. */
  readonly date: string;
  /** «27 Nov 2026, 14:05». */
  readonly when: string;
  /** null where it can't be read; `fault` then says why, in words. */
  readonly trials: Trials | null;
  readonly sheet: Sheet | null;
  readonly fault: string;
}

/** One of the list. */
export interface ShownDesign extends Shown {
  readonly name: string;
  readonly kept: KeptDesign;
}

/** One of those that a design was. */
export interface ShownState extends Shown {
  /** In what it differs from what came next, in words. */
  readonly differs: string;
}

function shown(key: string, date: unknown, design: unknown): Shown {
  const read =
    typeof design === 'string'
      ? readDesignText(design)
      : ({ ok: false, message: 'Design must be a text; got something else.' } as const);
  const isDate = typeof date === 'string' && !Number.isNaN(Date.parse(date));
  return {
    key,
    date: isDate ? date : '',
    when: isDate ? dayWords(date) : '',
    trials: read.ok ? read.trials : null,
    sheet: read.ok ? currentSheet(read.trials) : null,
    fault: read.ok ? '' : read.message,
  };
}

export function shownDesign(kept: KeptDesign): ShownDesign {
  const { id, name, date, design } = kept as Partial<KeptDesign> & { readonly id: string };
  return {
    ...shown(id, date, design),
    name: typeof name === 'string' && name !== '' ? name : 'untitled',
    kept,
  };
}

/** Differences that are named. */
const NAMED = 3;

/** @param states the newest first; `now` what the design is */
export function shownStates(states: readonly KeptState[], now: Trials | null): ShownState[] {
  let next = now;
  return states.map(({ date, mark, design }) => {
    const state = shown(`${date} ${mark}`, date, design);
    const differs = state.trials && next ? differenceOf(state.trials, next) : '';
    next = state.trials ?? next;
    return { ...state, differs };
  });
}

/** «cable 5.0 → 7.0 m, magnet alnico 5 → alnico 2»: what was done to it then. */
function differenceOf(before: Trials, after: Trials): string {
  const all = changeList(changesOf(currentSheet(before), currentSheet(after)));
  const more = all.length - NAMED;
  const words = all.slice(0, NAMED).join(', ');
  if (words === '') return 'its other trials';
  return more > 0 ? `${words} and ${more} more` : words;
}
