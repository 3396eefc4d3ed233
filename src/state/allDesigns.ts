/** All designs with their earlier states out of the database and into it, as one file (sheet/designsFile.ts). */
import { writeDesigns, type ReadDesign, type WrittenDesign } from '../sheet/designsFile.ts';
import { sameContent } from '../sheet/trials.ts';
import type { DesignStore, Reading, Stored, Writing } from './designStore.ts';
import { STORE_WORDS } from './designWords.ts';
import { cleanName, putEarlier, putNew, randomId, statesOf, titleOf, trialsOf } from './designWrites.ts';

/** The file; null where there is no design. */
export async function allAsText(store: DesignStore, now: Date): Promise<Stored<string | null>> {
  const all = await store.read(takeOut);
  if (!all.ok) return all;
  return { ok: true, value: all.value.length > 0 ? writeDesigns(all.value, now.toISOString()) : null };
}

/** @returns what has come of it, in words: of all together, or of none */
export async function takeIn(store: DesignStore, designs: readonly ReadDesign[], now: Date): Promise<string> {
  const put = await store.write((writing) => putIn(writing, designs, now.getTime()));
  if (!put.ok) return `Nothing was taken in. ${STORE_WORDS[put.trouble]}`;
  const { names, same } = put.value;
  const came =
    names.length === 1 ? `«${names[0]}» is among the designs` : `${names.length} designs have come in`;
  return same > 0 ? `${came}; ${same} ${same === 1 ? 'was' : 'were'} here already.` : `${came}.`;
}

/** Where it was spoilt there may be anything. */
const plain = (value: unknown): string => (typeof value === 'string' ? value : JSON.stringify(value ?? null));

/** Also those that can't be read, as they lie there. */
async function takeOut(reading: Reading): Promise<WrittenDesign[]> {
  const all: WrittenDesign[] = [];
  for (const { id, name, named, date, design } of await reading.objectStore('designs').getAll()) {
    const earlier = await statesOf(reading, id);
    all.push({
      id,
      name: plain(name),
      named: named !== false,
      date: plain(date),
      design: plain(design),
      earlier: earlier.map((state) => ({ date: state.date, design: state.design })),
    });
  }
  return all;
}

/** How many came in, and how many were there already. */
interface PutIn {
  readonly names: readonly string[];
  readonly same: number;
}

/**
 * Writes over nothing: what lies under the same id and says something else stays, and what comes is another design.
 * @param now ms since 1970
 */
async function putIn(writing: Writing, designs: readonly ReadDesign[], now: number): Promise<PutIn> {
  const names: string[] = [];
  let same = 0;
  for (const { id: wanted, name, named, date, design, trials, earlier } of designs) {
    const was = await writing.objectStore('designs').get(wanted);
    const lies = was ? trialsOf(was.design) : null;
    const id = was && !(lies && sameContent(lies, trials)) ? randomId() : wanted;
    if (was && id === wanted) same++;
    else {
      const cleaned = cleanName(name) || titleOf(trials);
      names.push(await putNew(writing, { id, name: cleaned, named, date, design }));
    }
    for (const state of earlier) await putEarlier(writing, { id, ...state }, now);
  }
  return { names, same };
}
