/** The designs on this computer: a list to look through, and what can be done with each; every step can be taken back. */
import { readDesignText, writeDesign } from '../sheet/designFile.ts';
import { sameData } from '../sheet/edit.ts';
import { plainText } from '../sheet/plainText.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { currentSheet, type Trials } from '../sheet/trials.ts';
import { clock, DesignStore, type KeptDesign, type Stored, type StoreTrouble } from './designStore.ts';
import { dayWords } from './words.ts';
import type { Workbench } from './workbench.svelte.ts';

/** One of the list, as it is shown. */
export interface ShownDesign {
  readonly key: string;
  readonly name: string;
  /** «27 Nov 2026, 14:05». */
  readonly when: string;
  /** null where it can't be read; `fault` then says why, in words. */
  readonly trials: Trials | null;
  readonly sheet: Sheet | null;
  readonly fault: string;
}

type Bench = Pick<Workbench, 'trials' | 'sheet' | 'openDocument'>;

interface Step {
  readonly id: string;
  readonly was: KeptDesign | null;
  readonly left: KeptDesign | null;
}

const GONE = 'That design is there no more.';

/** Letters of a name. */
export const LONGEST_NAME = 80;

const WORDS: Readonly<Record<StoreTrouble, string>> = {
  full: 'The browser has no room for another design. Delete one, or save this one as a file.',
  refused: 'The browser keeps no designs for this page, as in a private window. Save it as a file.',
  newer: 'A newer Lodetone keeps the designs here, and this one can’t read them. Reload the page, or update.',
};

const cleaned = (name: string): string =>
  plainText(name)
    .replace(/\s+/g, ' ')
    .trim()
    .slice(0, LONGEST_NAME)
    .replace(/[\uD800-\uDBFF]$/, '');

const randomId = (): string =>
  Array.from(crypto.getRandomValues(new Uint8Array(9)), (byte) => byte.toString(16).padStart(2, '0')).join(
    '',
  );

/** One a page. */
export class Designs {
  readonly #bench: Bench;
  readonly #store: DesignStore;
  readonly #now: () => Date;
  readonly #channel: Pick<BroadcastChannel, 'postMessage'> | null;
  #all: readonly ShownDesign[] = $state.raw([]);
  /** What is looked for among names, titles and notes. */
  wanted = $state('');
  /** What was done, or why it was not; empty when there is nothing to say. */
  said = $state('');
  /** What lay under an id before the last step, which undo puts back, and what that left there. */
  #before: Step | null = $state.raw(null);

  constructor(bench: Bench, store = new DesignStore(), now = clock) {
    this.#bench = bench;
    this.#store = store;
    this.#now = now;
    this.#channel = typeof window === 'undefined' ? null : this.#listen();
  }

  /** The newest first; only those in which what is looked for stands. */
  readonly list: readonly ShownDesign[] = $derived.by(() => {
    const wanted = this.wanted.trim().toLowerCase();
    return this.#all.filter(({ name, sheet }) =>
      `${name}\n${sheet?.title ?? ''}\n${sheet?.notes ?? ''}`.toLowerCase().includes(wanted),
    );
  });
  readonly count: number = $derived(this.#all.length);
  readonly canUndo: boolean = $derived(this.#before !== null);

  /** Reads all of them anew. */
  refresh = async (): Promise<void> => {
    const all = await this.#store.all();
    if (!all.ok) this.said = WORDS[all.trouble];
    else this.#all = all.value.toSorted((a, b) => (a.date < b.date ? 1 : -1)).map(shown);
  };

  /** The open sheet with all its trials, as a new one. */
  keep = (name: string): Promise<void> => {
    const id = randomId();
    const named = cleaned(name) || this.#bench.sheet.title || 'untitled';
    const record = this.#record(id, named);
    return this.#step(id, () => record, `«${named}» is kept on this computer.`, record);
  };

  /** The open sheet in the place of one that is there, under its name. */
  replace = ({ key, name }: ShownDesign): Promise<void> =>
    this.#step(
      key,
      (was) => this.#record(key, was.name),
      `«${name}» is now what is open; undo brings it back.`,
    );

  rename = ({ key }: ShownDesign, to: string): Promise<void> => {
    const name = cleaned(to);
    if (name === '') {
      this.said = 'Name must have at least one letter; got none.';
      return Promise.resolve();
    }
    return this.#step(key, (was) => ({ ...was, name }), `It is called «${name}».`);
  };

  duplicate = async ({ key, name }: ShownDesign): Promise<void> => {
    const read = await this.#store.change(key, () => undefined);
    if (!read.ok || !read.value) return this.#tell(read);
    const { value } = read;
    const id = randomId();
    const copy = `${name.slice(0, LONGEST_NAME - 6)}, copy`;
    const record = { ...value, id, name: copy, date: this.#now().toISOString() };
    await this.#step(id, () => record, `«${copy}» is there too.`, record);
  };

  remove = ({ key, name }: ShownDesign): Promise<void> =>
    this.#step(key, () => null, `«${name}» is deleted; undo brings it back.`);

  /** Takes the last of these steps back, unless another window has changed the same design since. */
  undo = async (): Promise<void> => {
    const before = this.#before;
    if (!before) return;
    let other = false;
    const put = await this.#store.change(before.id, (now) => {
      other = !sameData(now, before.left);
      return other ? undefined : before.was;
    });
    if (put.ok) {
      this.#before = null;
      this.#channel?.postMessage('changed');
    }
    await this.refresh();
    if (!put.ok) this.said = WORDS[put.trouble];
    else
      this.said = other
        ? 'Another window has changed that design since; it stays as it is.'
        : 'It is as it was.';
  };

  /** On the table, as one step of the sheet's own undo. */
  open = ({ name, trials }: ShownDesign): void => {
    if (trials) this.#bench.openDocument(trials, `«${name}» is open; undo brings back what was there.`);
  };

  #record(id: string, name: string): KeptDesign {
    return { id, name, date: this.#now().toISOString(), design: writeDesign(this.#bench.trials) };
  }

  /** @param change what is to lie there: for a new one without anything before, for others of what lies there */
  async #step(
    id: string,
    change: (was: KeptDesign) => KeptDesign | null,
    done: string,
    fresh: KeptDesign | null = null,
  ): Promise<void> {
    let left: KeptDesign | null = null;
    const made = await this.#store.change(id, (was) => {
      if (!was && !fresh) return undefined;
      left = was ? change(was) : fresh;
      return left;
    });
    const there = made.ok && (made.value !== null || fresh !== null);
    if (there) {
      this.#before = { id, was: made.value, left };
      this.#channel?.postMessage('changed');
    }
    await this.refresh();
    this.said = made.ok ? (there ? done : GONE) : WORDS[made.trouble];
  }

  async #tell(read: Stored<KeptDesign | null>): Promise<void> {
    await this.refresh();
    this.said = read.ok ? GONE : WORDS[read.trouble];
  }

  /** What another window changes is shown here too. */
  #listen(): BroadcastChannel {
    const channel = new BroadcastChannel('lodetone.designs');
    channel.onmessage = () => void this.refresh();
    return channel;
  }
}

/** Checked like a file: what lies in a browser may have been spoilt, or be another version's. */
function shown(kept: KeptDesign): ShownDesign {
  const { id, name, date, design } = kept as Partial<KeptDesign> & { readonly id: string };
  const read =
    typeof design === 'string'
      ? readDesignText(design)
      : ({ ok: false, message: 'Design must be a text; got something else.' } as const);
  return {
    key: id,
    name: typeof name === 'string' && name !== '' ? name : 'untitled',
    when: typeof date === 'string' && !Number.isNaN(Date.parse(date)) ? dayWords(date) : '',
    trials: read.ok ? read.trials : null,
    sheet: read.ok ? currentSheet(read.trials) : null,
    fault: read.ok ? '' : read.message,
  };
}
