/** The designs on this computer: a list to look through, and what can be done with each; every step can be taken back. */
import { sameData } from '../sheet/edit.ts';
import type { Trials } from '../sheet/trials.ts';
import { STORE_WORDS } from './designWords.ts';
import { shownDesign, shownStates, type ShownDesign, type ShownState } from './designList.ts';
import type { DesignKeeping } from './designKeeping.svelte.ts';
import { designsChannel } from './designsChannel.ts';
import { clock, DesignStore, type KeptDesign, type Writing } from './designStore.ts';
import {
  cleanName,
  dropAll,
  dropEarlier,
  freeName,
  putNew,
  putOver,
  randomId,
  statesOf,
  takenNames,
  textOf,
  titleOf,
} from './designWrites.ts';
import type { Workbench } from './workbench.svelte.ts';

export { LONGEST_NAME } from './designWrites.ts';
export type { ShownDesign, ShownState } from './designList.ts';

type Bench = Pick<Workbench, 'trials' | 'openDesign'>;

/** What undo does; false where it has been changed since. */
type Undo = (writing: Writing) => Promise<boolean>;
/** What a step says, and its undo. */
interface Done {
  readonly said: string;
  readonly undo: Undo | null;
}

const GONE = 'That design is there no more.';
const CHANGED = 'That design has been changed since; it stays as it is.';

/** One a page. */
export class Designs {
  readonly #bench: Bench;
  readonly #keeping: Pick<DesignKeeping, 'opens' | 'flush'>;
  readonly #store: DesignStore;
  readonly #now: () => Date;
  readonly #channel: BroadcastChannel | null;
  #all: readonly ShownDesign[] = $state.raw([]);
  /** What is looked for among names, titles and notes. */
  wanted = $state('');
  /** What was done, or why it was not; empty when there is nothing to say. */
  said = $state('');
  #undo: Undo | null = $state.raw(null);
  /** Of which design the earlier states are shown; empty for none. */
  unfolded = $state('');
  earlier: readonly ShownState[] = $state.raw([]);

  /** @param keeping what keeps the document on the table: it is told what is opened */
  constructor(
    bench: Bench,
    keeping: Pick<DesignKeeping, 'opens' | 'flush'>,
    store = new DesignStore(),
    now = clock,
  ) {
    this.#bench = bench;
    this.#keeping = keeping;
    this.#store = store;
    this.#now = now;
    this.#channel = designsChannel();
    // What another window changes is shown here too, and what is kept by itself.
    if (this.#channel) this.#channel.onmessage = () => void this.refresh();
  }

  /** The newest first; only those in which what is looked for stands. */
  readonly list: readonly ShownDesign[] = $derived.by(() => {
    const wanted = this.wanted.trim().toLowerCase();
    return this.#all.filter(({ name, sheet }) =>
      `${name}\n${sheet?.title ?? ''}\n${sheet?.notes ?? ''}`.toLowerCase().includes(wanted),
    );
  });
  readonly count: number = $derived(this.#all.length);
  readonly canUndo: boolean = $derived(this.#undo !== null);

  /** Reads all of them anew. */
  refresh = async (): Promise<void> => {
    const all = await this.#store.all();
    if (!all.ok) this.said = STORE_WORDS[all.trouble];
    else {
      // What is as it was need not be read and drawn again.
      const before = new Map(this.#all.map((shown) => [shown.key, shown]));
      this.#all = all.value
        .map((kept) => {
          const known = before.get(kept.id);
          return known && sameData(known.kept, kept) ? known : shownDesign(kept);
        })
        .sort((a, b) => (a.date < b.date ? 1 : -1));
    }
    if (this.unfolded !== '') await this.#readEarlier();
  };

  /** The open sheet with all its trials, as one more, which is not gone on in. */
  keep = (name: string): Promise<void> => {
    const { trials } = this.#bench;
    const named = cleanName(name);
    return this.#add(
      { ...this.#fresh(named || titleOf(trials)), design: textOf(trials) },
      (as) => `«${as}» is kept on this computer.`,
    );
  };

  /** The open sheet in the place of one that is there, under its name. */
  replace = ({ key, name }: ShownDesign): Promise<void> =>
    this.#change(key, async (was, writing) => {
      const now = this.#now();
      await putOver(
        writing,
        { ...was, named: true },
        { trials: this.#bench.trials, date: now.toISOString() },
        now.getTime(),
      );
      return {
        said: `«${name}» is now what is open; undo brings it back.`,
        undo: this.#putBack(key, await writing.objectStore('designs').get(key), async (back) => {
          await back.objectStore('designs').put(was);
          await dropEarlier(back, key, was.design);
        }),
      };
    });

  rename = ({ key }: ShownDesign, to: string): Promise<void> => {
    const wanted = cleanName(to);
    if (wanted === '') {
      this.said = 'Name must have at least one letter; got none.';
      return Promise.resolve();
    }
    return this.#change(key, async (was, writing) => {
      const taken = (await takenNames(writing)).filter((name) => name !== was.name);
      const name = freeName(wanted, taken);
      await writing.objectStore('designs').put({ ...was, name, named: true });
      const { name: old, named = true } = was;
      return {
        said: `It is called «${name}».`,
        // It may have been gone on in meanwhile.
        undo: async (back) => {
          const lies = await back.objectStore('designs').get(key);
          if (lies?.name !== name) return false;
          await back.objectStore('designs').put({ ...lies, name: old, named });
          return true;
        },
      };
    });
  };

  duplicate = async ({ key, name }: ShownDesign): Promise<void> => {
    const read = await this.#store.read((reading) => reading.objectStore('designs').get(key));
    if (!read.ok || !read.value) return this.#tell(read.ok ? GONE : STORE_WORDS[read.trouble]);
    const copy = { ...this.#fresh(`${cleanName(name).slice(0, 74)}, copy`), design: read.value.design };
    await this.#add(copy, (as) => `«${as}» is there too.`);
  };

  remove = ({ key, name }: ShownDesign): Promise<void> =>
    this.#change(key, async (was, writing) => {
      const states = await statesOf(writing, key);
      await dropAll(writing, key);
      return {
        said: `«${name}» is deleted; undo brings it back.`,
        undo: this.#putBack(key, undefined, async (back) => {
          await back.objectStore('designs').put(was);
          for (const state of states) await back.objectStore('states').put(state);
        }),
      };
    });

  /** Takes the last of these steps back, unless the same design has been changed since. */
  undo = async (): Promise<void> => {
    const undo = this.#undo;
    if (!undo) return;
    const put = await this.#store.write(undo);
    if (put.ok) {
      this.#undo = null;
      this.#channel?.postMessage('changed');
    }
    await this.#tell(put.ok ? (put.value ? 'It is as it was.' : CHANGED) : STORE_WORDS[put.trouble]);
  };

  /** On the table, as one step of the sheet's own undo; what is changed there goes on in this design. */
  open = async (shown: ShownDesign): Promise<void> => {
    if (shown.trials)
      await this.#open(shown, shown.trials, `«${shown.name}» is open; undo brings back what was there.`);
  };

  /** Shows what a design was, or puts that away. */
  unfold = async ({ key }: ShownDesign): Promise<void> => {
    this.unfolded = this.unfolded === key ? '' : key;
    this.earlier = [];
    if (this.unfolded !== '') await this.#readEarlier();
  };

  /** The design as it was then, as one step: what it is now becomes the newest of what it was. */
  goBack = async (shown: ShownDesign, { trials, when }: ShownState): Promise<void> => {
    if (trials)
      await this.#open(
        shown,
        trials,
        `«${shown.name}» is as it was on ${when}; undo brings back what was there.`,
      );
  };

  end = (): void => this.#channel?.close();

  async #open(shown: ShownDesign, trials: Trials, message: string): Promise<void> {
    // What is on the table is among the designs before it is left.
    await this.#keeping.flush();
    this.#keeping.opens(shown.kept);
    this.#bench.openDesign(trials, shown.key, message);
  }

  async #readEarlier(): Promise<void> {
    const key = this.unfolded;
    const read = await this.#store.read((reading) => statesOf(reading, key));
    if (key !== this.unfolded) return;
    if (!read.ok) this.said = STORE_WORDS[read.trouble];
    else this.earlier = shownStates(read.value, this.#all.find((shown) => shown.key === key)?.trials ?? null);
  }

  #fresh(name: string): Omit<KeptDesign, 'design'> {
    return { id: randomId(), name, named: true, date: this.#now().toISOString() };
  }

  #add(fresh: KeptDesign, said: (name: string) => string): Promise<void> {
    return this.#step(async (writing) => {
      const name = await putNew(writing, fresh);
      const undo = this.#putBack(fresh.id, { ...fresh, name }, (back) => dropAll(back, fresh.id));
      return { said: said(name), undo };
    });
  }

  #putBack(id: string, left: KeptDesign | undefined, act: (writing: Writing) => Promise<void>): Undo {
    return async (writing) => {
      if (!sameData(await writing.objectStore('designs').get(id), left)) return false;
      await act(writing);
      return true;
    };
  }

  #change(id: string, act: (was: KeptDesign, writing: Writing) => Promise<Done>): Promise<void> {
    return this.#step(async (writing) => {
      const was = await writing.objectStore('designs').get(id);
      return was ? act(was, writing) : { said: GONE, undo: null };
    });
  }

  async #step(act: (writing: Writing) => Promise<Done>): Promise<void> {
    const made = await this.#store.write(act);
    if (made.ok && made.value.undo) {
      this.#undo = made.value.undo;
      this.#channel?.postMessage('changed');
    }
    await this.#tell(made.ok ? made.value.said : STORE_WORDS[made.trouble]);
  }

  async #tell(said: string): Promise<void> {
    await this.refresh();
    this.said = said;
  }
}
