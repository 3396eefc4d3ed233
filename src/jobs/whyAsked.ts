/** What is asked about a change: its causes, and the sheet without each. Apart, so that a worker goes without the document's rules. */
import { causesBetween } from '../sheet/causes.ts';
import { checkSheet } from '../sheet/check.ts';
import { listenedAs } from '../sheet/heardAlike.ts';
import type { Sheet } from '../sheet/sheet.ts';
import type { WhyWish } from './why.ts';

/** Checked sheets. */
export function whyAsked(after: Sheet, was: Sheet): Pick<WhyWish, 'before' | 'causes'> {
  const before = listenedAs(was, after);
  const causes = causesBetween(before, after).map(({ words, undone }) => ({
    words,
    undone: undone === before || checkSheet(undone).ok ? undone : null,
  }));
  return { before, causes };
}
