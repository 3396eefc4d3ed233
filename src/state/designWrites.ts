/** What is done to designs and their earlier states, each within one transaction: nothing that lay there goes without being kept. */
import { crc32 } from '../sheet/crc32.ts';
import { readDesignText } from '../sheet/designFile.ts';
import { plainText } from '../sheet/plainText.ts';
import { alone, currentSheet, sameContent, type Trials } from '../sheet/trials.ts';
import type { KeptDesign, KeptState, Reading, Writing } from './designStore.ts';
import { surplus } from './thinning.ts';

/** Letters of a name. */
export const LONGEST_NAME = 80;

/** Without what nobody sees, in one line, of LONGEST_NAME letters at most. */
export const cleanName = (name: string): string =>
  cut(plainText(name).replace(/\s+/g, ' ').trim(), LONGEST_NAME);

export const randomId = (): string =>
  Array.from(crypto.getRandomValues(new Uint8Array(9)), (byte) => byte.toString(16).padStart(2, '0')).join(
    '',
  );

/** As the database has it: a design's file without its spaces. */
export const textOf = (trials: Trials): string => JSON.stringify(alone(trials) ?? trials);

/** null for what can't be read. */
export function trialsOf(text: unknown): Trials | null {
  const read = typeof text === 'string' ? readDesignText(text) : null;
  return read?.ok ? read.trials : null;
}

/** «Skerry», «Skerry, 2», «Skerry, 3»: the first that is not taken. */
export function freeName(wanted: string, taken: readonly string[]): string {
  for (let n = 1; ; n++) {
    const number = n === 1 ? '' : `, ${n}`;
    const name = cut(wanted, LONGEST_NAME - number.length) + number;
    if (!taken.includes(name)) return name;
  }
}

/** Between letters, never within one that takes two units. */
const cut = (text: string, most: number): string =>
  text.length > most ? text.slice(0, most).replace(/[\uD800-\uDBFF]$/, '') : text;

/** By length and checksum. */
const markOf = (text: string): string =>
  `${text.length}.${crc32(new TextEncoder().encode(text)).toString(36)}`;
const lettersOf = (mark: string): number => Number.parseInt(mark, 10) || 0;

const ofDesign = (id: string): IDBKeyRange => IDBKeyRange.bound([id], [id, []]);

/** The newest first. */
export async function statesOf(within: Reading | Writing, id: string): Promise<KeptState[]> {
  const store = (within as Reading).objectStore('states');
  return (await store.getAll(ofDesign(id))).reverse();
}

export const takenNames = async (within: Writing): Promise<string[]> =>
  (await within.objectStore('designs').getAll()).map(({ name }) => name);

/** Puts a design where none is; its name is made one that no other has. @returns the name */
export async function putNew(within: Writing, design: KeptDesign): Promise<string> {
  const name = freeName(design.name, await takenNames(within));
  await within.objectStore('designs').put({ ...design, name });
  return name;
}

/** Among what a design was before, unless it is there. */
export async function putEarlier(
  within: Writing,
  { id, date, design }: Omit<KeptState, 'mark'>,
  now: number,
): Promise<void> {
  await dropEarlier(within, id, design);
  await within.objectStore('states').put({ id, date, mark: markOf(design), design });
  await thin(within, id, now);
}

/** What is the design itself need not be there a second time. */
export async function dropEarlier(within: Writing, id: string, design: string): Promise<void> {
  const store = within.objectStore('states');
  const mark = markOf(design);
  for (const key of await store.getAllKeys(ofDesign(id)))
    if (key[2] === mark && (await store.get(key))?.design === design) await store.delete(key);
}

async function thin(within: Writing, id: string, now: number): Promise<void> {
  const store = within.objectStore('states');
  const states = (await store.getAllKeys(ofDesign(id))).map((key) => ({
    key,
    date: key[1],
    letters: lettersOf(key[2]),
  }));
  for (const { key } of surplus(states, now)) await store.delete(key);
}

export async function dropAll(within: Writing, id: string): Promise<void> {
  await within.objectStore('designs').delete(id);
  await within.objectStore('states').delete(ofDesign(id));
}

/** The same design with other content; what it was is kept. Its name follows the title unless a person gave it one. */
export async function putOver(
  within: Writing,
  was: KeptDesign,
  next: { readonly trials: Trials; readonly date: string },
  now: number,
): Promise<void> {
  const { id } = was;
  const design = textOf(next.trials);
  if (typeof was.design === 'string')
    await putEarlier(within, { id, date: was.date, design: was.design }, now);
  await dropEarlier(within, id, design);
  await within
    .objectStore('designs')
    .put({ ...(await renamed(within, was, next.trials)), date: next.date, design });
}

async function renamed(within: Writing, was: KeptDesign, trials: Trials): Promise<KeptDesign> {
  const title = titleOf(trials);
  if (was.named !== false || isNameOf(was.name, title)) return was;
  const taken = (await takenNames(within)).filter((name) => name !== was.name);
  return { ...was, name: freeName(title, taken) };
}

export const titleOf = (trials: Trials): string => currentSheet(trials).title || 'untitled';

const isNameOf = (name: string, title: string): boolean =>
  name === title || (name.startsWith(`${title}, `) && /^\d+$/.test(name.slice(title.length + 2)));

/** A state that stays. */
export interface NextState {
  readonly id: string;
  readonly trials: Trials;
  readonly date: string;
  /** Whether a design is made of it where there is none. */
  readonly create: boolean;
  /** Whether we know that this is what lay there: else another window has been at it. */
  readonly knows: (was: KeptDesign) => boolean;
}

/**
 * What a state that stays does to its design. 'other': something lies there that we don't know, and is left alone; 'none':
 * there is none, and none is wanted.
 */
export async function putState(
  within: Writing,
  next: NextState,
  now: number,
): Promise<'kept' | 'other' | 'none'> {
  const { id, trials, date } = next;
  const designs = within.objectStore('designs');
  const was = await designs.get(id);
  if (!was) {
    if (!next.create) return 'none';
    await putNew(within, { id, name: titleOf(trials), named: false, date, design: textOf(trials) });
    return 'kept';
  }
  const lay = trialsOf(was.design);
  if (lay && sameContent(lay, trials)) {
    // Another trial is on the table: nothing to go back to.
    if (lay.open !== trials.open && next.knows(was)) await designs.put({ ...was, design: textOf(trials) });
    return 'kept';
  }
  if (!next.knows(was)) return 'other';
  await putOver(within, was, { trials, date }, now);
  return 'kept';
}
