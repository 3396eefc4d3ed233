/**
 * All designs of a computer as one file: JSON in UTF-8. What is read is trusted in nothing.
 *
 *     { "lodetone": "designs",       first of all, by which the file is known
 *       "format": 1,
 *       "date": "2026-11-27T…Z",     of the file, ISO 8601, UTC, as all dates in it
 *       "designs": [
 *         { "id": "…",               letters, digits, - and _; the same on every computer that it comes to
 *           "name": "Walnut",
 *           "named": true,           whether a person gave it that name; else it follows the title
 *           "date": "…",             when it was kept
 *           "design": {…},           as a design's own file (designFile.ts); a text where it can't be read
 *           "earlier": [ { "date": "…", "design": {…} } ] } ] }
 */
import { readDesignText } from './designFile.ts';
import { plainText } from './plainText.ts';
import type { Trials } from './trials.ts';

export const DESIGNS_FORMAT = 1;
/** Bytes. */
export const LARGEST_DESIGNS = 64_000_000;
/** Of a file; and earlier states of one design. */
const MOST_DESIGNS = 5000;
const MOST_EARLIER = 1000;

/** As it is written: the texts of designs are those of their own files. */
export interface WrittenDesign {
  readonly id: string;
  readonly name: string;
  readonly named: boolean;
  readonly date: string;
  readonly design: string;
  readonly earlier: readonly { readonly date: string; readonly design: string }[];
}

/** As it is read: what it is now has passed the check, what it was before is checked when it is looked at. */
export interface ReadDesign extends WrittenDesign {
  readonly trials: Trials;
}

export type ReadDesigns =
  | {
      readonly ok: true;
      readonly designs: readonly ReadDesign[];
      /** What can't be read of it, a sentence each. */
      readonly faults: readonly string[];
    }
  | { readonly ok: false; readonly message: string };

/** Whether a file that begins so is one, whatever its size. */
export const beginsDesigns = (head: string): boolean =>
  /^\uFEFF?\s*\{\s*"lodetone"\s*:\s*"designs"/.test(head);

const parsed = (text: string): unknown => {
  try {
    return JSON.parse(text);
  } catch {
    return text;
  }
};

/** What `readDesigns` takes. */
export function writeDesigns(designs: readonly WrittenDesign[], date: string): string {
  const all = designs.map(({ id, name, named, date: kept, design, earlier }) => ({
    id,
    name,
    named,
    date: kept,
    design: parsed(design),
    earlier: earlier.map((state) => ({ date: state.date, design: parsed(state.design) })),
  }));
  return `${JSON.stringify({ lodetone: 'designs', format: DESIGNS_FORMAT, date, designs: all }, null, 1)}\n`;
}

const fail = (message: string): ReadDesigns => ({ ok: false, message });

type Fields = Readonly<Record<string, unknown>>;
const isFields = (value: unknown): value is Fields =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const isDate = (value: unknown): value is string =>
  typeof value === 'string' && value.length < 40 && !Number.isNaN(Date.parse(value));
const textOf = (design: unknown): string =>
  typeof design === 'string' ? design : JSON.stringify(design ?? null);

/** Never throws. A fault in one design leaves out that one; of a file that is not whole nothing is taken. */
export function readDesigns(text: string): ReadDesigns {
  if (text.length > LARGEST_DESIGNS)
    return fail(`File of designs must be at most 64 MB; got ${(text.length / 1e6).toFixed(0)} MB.`);
  let data: unknown;
  try {
    data = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch {
    return fail(
      'File of designs must be whole JSON; got a text that breaks off or is spoilt. Have it saved or sent again; nothing was taken from it.',
    );
  }
  if (!isFields(data) || data['lodetone'] !== 'designs' || !Array.isArray(data['designs']))
    return fail(
      'File of designs must say "lodetone": "designs" and list them under "designs"; got something else.',
    );
  if (data['format'] !== DESIGNS_FORMAT)
    return fail(
      `File of designs must be of format ${DESIGNS_FORMAT}; got ${JSON.stringify(data['format'] ?? null).slice(0, 20)}. A newer Lodetone made it: reload the page, or update.`,
    );
  const all = data['designs'] as unknown[];
  if (all.length > MOST_DESIGNS)
    return fail(`File must hold at most ${MOST_DESIGNS} designs; got ${all.length}.`);
  const designs: ReadDesign[] = [];
  const faults: string[] = [];
  all.forEach((one, i) => {
    const read = readOne(one);
    if (typeof read === 'string') faults.push(`Design ${i + 1}${nameOf(one)}: ${read}`);
    else designs.push(read);
  });
  return { ok: true, designs, faults };
}

const nameOf = (one: unknown): string => {
  const name = isFields(one) ? one['name'] : null;
  return typeof name === 'string' ? ` «${plainText(name).slice(0, 80)}»` : '';
};

/** A sentence for what can't be read. */
function readOne(one: unknown): ReadDesign | string {
  if (!isFields(one)) return 'It must be a group of fields; got something else.';
  const { id, name, named, date, design, earlier } = one;
  if (typeof id !== 'string' || !/^[\w-]{1,48}$/.test(id))
    return 'Its id must be of 1 to 48 letters, digits, - and _; got another.';
  const read = readDesignText(textOf(design));
  if (!read.ok) return read.message;
  if (!isDate(date)) return 'Its date must be one of ISO 8601; got another.';
  const states = Array.isArray(earlier) ? (earlier as unknown[]).slice(0, MOST_EARLIER) : [];
  return {
    id,
    name: typeof name === 'string' ? name : '',
    named: named !== false,
    date: new Date(date).toISOString(),
    design: textOf(design),
    trials: read.trials,
    earlier: states.flatMap((state) =>
      isFields(state) && isDate(state['date'])
        ? [{ date: new Date(state['date']).toISOString(), design: textOf(state['design']) }]
        : [],
    ),
  };
}
