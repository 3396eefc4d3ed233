/**
 * Keeps the document on the table among the designs by itself, from the first change on and with every further one. The window's own
 * record (keeper.ts) is written at once and comes first; this follows a moment later. Two windows never write over one another: a
 * design is gone on with by the window that holds it (designLock.ts) and knows what lies there; others go on in a copy.
 */
import { sameContent, wrap, type Trials } from '../sheet/trials.ts';
import { idOf, isAsOpened } from './belonging.ts';
import { DesignLock, type Locks } from './designLock.ts';
import { designsChannel } from './designsChannel.ts';
import { clock, DesignStore, type KeptDesign, type KeptWindow, type StoreTrouble } from './designStore.ts';
import { putState, textOf, trialsOf } from './designWrites.ts';
import { NOT_AMONG } from './designWords.ts';
import { bringIn } from './leftover.ts';
import type { Workbench } from './workbench.svelte.ts';

type Bench = Pick<Workbench, 'keeper' | 'keeping' | 'presets' | 'openDesign' | 'asDesign'>;

/** ms between a change and its being among the designs; and after which one stays with what undo or redo has brought. */
const MOMENT = 300;
const STAY = 4000;
/** ms after which what the browser did not take is offered again. */
const AGAIN = 20_000;
/** States that wait while the browser takes none. */
const MOST_WAITING = 60;

const LEFT_BEHIND =
  'Another window had changed a design that was open here; what was changed here is a copy beside it.';

interface Waiting {
  readonly state: Trials;
  readonly date: string;
  /** Reached by undo or redo: it was kept before, and is passed through as often as not. */
  readonly again: boolean;
}

type Channel = Pick<BroadcastChannel, 'postMessage' | 'close' | 'onmessage'>;

interface Options {
  readonly store?: DesignStore;
  readonly now?: () => Date;
  readonly locks?: Locks | null;
  readonly channel?: Channel | null;
  readonly moment?: number;
}

const browserLocks = (): Locks | null =>
  typeof navigator === 'undefined' ? null : ((navigator as { locks?: Locks }).locks ?? null);

/** One a page. */
export class DesignKeeping {
  readonly #bench: Bench;
  readonly #store: DesignStore;
  readonly #now: () => Date;
  readonly #channel: Channel | null;
  readonly #moment: number;
  readonly #lock: DesignLock;
  /** What lies in the database, of what we have read or written there: by id, as text. */
  readonly #known = new Map<string, unknown>();
  readonly #seen = new WeakSet<Trials>();
  #waiting: Waiting[] = [];
  #soon: ReturnType<typeof setTimeout> | undefined;
  #later: ReturnType<typeof setTimeout> | undefined;
  #last: Trials | null = null;
  /** The record of this window that holds all that waits. */
  #noted: KeptWindow = { window: '', date: '' };
  /** The design on the table, kept or not. */
  #held = '';
  /** That which another window holds; empty for none. */
  #barred = '';
  #trouble: StoreTrouble | null = null;
  #ended = false;
  /** One thing after another. */
  #queue: Promise<void> = Promise.resolve();

  /** The design on the table; empty while it is none. */
  id = $state('');
  /** Whether another window has it: changes made here go into a copy until this one takes it over. */
  elsewhere = $state(false);
  /** What has come of that; empty when there is nothing to say. */
  said = $state('');

  constructor(bench: Bench, options: Options = {}) {
    this.#bench = bench;
    this.#store = options.store ?? new DesignStore();
    this.#now = options.now ?? clock;
    this.#moment = options.moment ?? MOMENT;
    this.#channel = options.channel === undefined ? designsChannel() : options.channel;
    this.#lock = new DesignLock(options.locks === undefined ? browserLocks() : options.locks, {
      onlost: this.#lost,
      onfree: this.#free,
    });
    if (this.#channel) this.#channel.onmessage = () => void this.#next(this.#heard);
    const { history } = bench.keeper;
    for (const state of history ? [...history.past, history.present, ...history.future] : [])
      this.#seen.add(state);
  }

  /** To be called once, when the page has come to rest. */
  start = (): Promise<void> => {
    const { keeper } = this.#bench;
    const records = keeper.records();
    // What this window has comes in with its record, where there is one.
    const { keeping } = this.#bench;
    const written = keeping === 'kept' || keeping === 'shortened';
    if (written && records.some(({ window }) => window === keeper.written.window))
      this.#last = keeper.history?.present ?? null;
    else if (keeper.history) this.#seen.delete(keeper.history.present);
    const brought = this.#next(async () => {
      const done = await bringIn(this.#store, records, this.#untouched, this.#now().getTime());
      if (!done.ok) this.#bench.asDesign = NOT_AMONG[(this.#trouble = done.trouble)];
    });
    this.note();
    return brought;
  };

  /** To be called whenever something stays on the table. */
  note = (): void => {
    const { designs, history, written } = this.#bench.keeper;
    const state = history?.present;
    if (!state || this.#ended) return;
    const id = idOf(designs.of(state));
    if (state !== this.#last) {
      const again = this.#seen.has(state);
      if (again && id !== this.#held) this.#passThrough();
      this.#waiting.push({ state, date: this.#now().toISOString(), again });
      this.#seen.add(state);
      this.#last = state;
      if (!again) this.#soon ??= setTimeout(this.#writeChanges, this.#moment);
    }
    this.#noted = written;
    if (id !== this.#held) {
      const before = this.#held;
      this.#held = id;
      void this.#next(() => this.#attend(id, before, isAsOpened(designs.of(state))));
    }
    clearTimeout(this.#later);
    this.#later = setTimeout(() => void this.flush(), Math.max(STAY, this.#moment));
  };

  /** Undo or redo has left a design: it stays as it was, not as it was passed through. */
  #passThrough(): void {
    const changed = this.#waiting.findLastIndex(({ again }) => !again);
    this.#waiting = this.#waiting.filter(
      ({ state }, i) => i <= changed || idOf(this.#bench.keeper.designs.of(state)) !== this.#held,
    );
  }

  readonly #writeChanges = (): void => {
    this.#soon = undefined;
    const changed = this.#waiting.findLastIndex(({ again }) => !again);
    const until = new Set(this.#waiting.slice(0, changed + 1));
    void this.#next(() => this.#write((one) => until.has(one)));
  };

  /** What has been noted, at once. */
  flush = (): Promise<void> => this.#next(() => this.#write());

  /** A design that lies there so is about to be opened. */
  opens = ({ id, design }: Pick<KeptDesign, 'id' | 'design'>): void => {
    this.#known.set(id, design);
    if (id !== this.#barred) this.#bench.keeper.designs.keepOff(id, false);
  };

  /** Has the design on the table although another window had it, as that window left it. */
  takeOver = (): Promise<void> =>
    this.#next(async () => {
      const id = this.#held;
      await this.#lock.take(id);
      this.#free(id);
      const read = await this.#store.read((reading) => reading.objectStore('designs').get(id));
      if (!read.ok || !read.value) return;
      this.#known.set(id, read.value.design);
      const trials = trialsOf(read.value.design);
      const { present } = this.#bench.keeper.history ?? {};
      if (trials && present && !sameContent(trials, present))
        this.#bench.openDesign(
          trials,
          id,
          'This is how the other window left it; undo brings back what was here.',
        );
    });

  /** Goes on in a copy from here. */
  branch = (): Promise<void> => {
    const { history } = this.#bench.keeper;
    if (history && this.elsewhere) this.#copy([history.present]);
    return this.flush();
  };

  /** A window that ends, or a page that is set back. */
  end = (): void => {
    this.#ended = true;
    clearTimeout(this.#soon);
    clearTimeout(this.#later);
    this.#lock.release();
    this.#channel?.close();
  };

  #next(act: () => Promise<void>): Promise<void> {
    const done = this.#queue.then(() => (this.#ended ? undefined : act()));
    // What breaks off is reported where it was asked for, and holds up nothing that follows.
    this.#queue = done.catch(() => {});
    return done;
  }

  /** Another design is on the table, or the first: it is held, unless another window has it. */
  async #attend(id: string, before: string, asOpened: boolean): Promise<void> {
    const { designs } = this.#bench.keeper;
    const parted = designs.keptOff(before) === id;
    // What is of others first: they are let go of.
    await this.#write(({ state }) => idOf(designs.of(state)) !== id);
    this.#barred = '';
    if (!(await this.#lock.hold(id))) {
      this.#barred = id;
      designs.keepOff(id);
    }
    await this.#write(({ again }) => !again);
    const read = await this.#store.read((reading) => reading.objectStore('designs').get(id));
    const lies = read.ok ? read.value : undefined;
    if (id !== this.#held) return;
    this.elsewhere = this.#barred === id && (!asOpened || lies !== undefined);
    this.said =
      parted && lies
        ? `That design is another window’s, or spoilt; from here on this is a copy, «${lies.name}».`
        : '';
    if (!read.ok) this.#trouble = read.trouble;
    this.#tell(id, lies);
  }

  readonly #free = (id: string): void => {
    this.#bench.keeper.designs.keepOff(id, false);
    if (id !== this.#held) return;
    this.#barred = '';
    this.elsewhere = false;
    this.said = '';
  };

  readonly #lost = (id: string): void => {
    this.#bench.keeper.designs.keepOff(id);
    if (id !== this.#held) return;
    this.#barred = id;
    this.elsewhere = true;
    this.said =
      'Another window has taken this design over; what you change here goes into a copy, unless you take it back.';
  };

  /** Another window, or the list here, has changed something: there may be room again, or another name. */
  readonly #heard = async (): Promise<void> => {
    if (this.#waiting.length > 0) return this.#write();
    const id = this.#held;
    const read = await this.#store.read((reading) => reading.objectStore('designs').get(id));
    if (read.ok) this.#tell(id, read.value);
  };

  readonly #untouched = (state: Trials): boolean =>
    this.#bench.presets.some(({ sheet }) => sameContent(wrap(sheet), state));

  /** @param wanted of what waits */
  async #write(wanted: (one: Waiting) => boolean = () => true): Promise<void> {
    const { designs } = this.#bench.keeper;
    const batch = this.#waiting.filter(wanted);
    if (batch.length === 0) return;
    this.#waiting = this.#waiting.filter((one) => !batch.includes(one));
    const all = this.#waiting.length === 0;
    const noted = this.#noted;
    const now = this.#now().getTime();
    const made = await this.#store.write(async (writing) => {
      const known = new Map(this.#known);
      const others: Trials[] = [];
      for (const { state, date, again } of batch) {
        const id = idOf(designs.of(state));
        const create = !again && !isAsOpened(designs.of(state)) && !this.#untouched(state);
        const off = designs.keptOff(id) !== '';
        const knows = (was: KeptDesign): boolean => !off && (known.get(id) === was.design || this.#had(was));
        const put = await putState(writing, { id, trials: state, date, create: create && !off, knows }, now);
        if (put === 'kept') known.set(id, textOf(state));
        const parts = off ? put !== 'kept' : put === 'other';
        if (parts && create) others.push(state);
      }
      if (all && others.length === 0 && noted.date !== '') await writing.objectStore('windows').put(noted);
      return { known, others, lies: await writing.objectStore('designs').get(this.#held) };
    });
    if (!made.ok) {
      this.#waiting = [...batch, ...this.#waiting].slice(-MOST_WAITING);
      this.#trouble = made.trouble;
      this.#tell(this.#held, undefined);
      clearTimeout(this.#later);
      if (!this.#ended) this.#later = setTimeout(() => void this.flush(), AGAIN);
      return;
    }
    this.#trouble = null;
    const { known, others, lies } = made.value;
    for (const [id, text] of known) this.#known.set(id, text);
    this.#tell(this.#held, lies);
    this.#tellOthers();
    if (others.length > 0) this.#copy(others);
  }

  /** Whether it is a state that this window has had on the table. */
  #had(was: KeptDesign): boolean {
    const { history, designs } = this.#bench.keeper;
    const lay = trialsOf(was.design);
    if (!history || !lay) return false;
    return [...history.past, history.present, ...history.future].some(
      (state) => idOf(designs.of(state)) === was.id && sameContent(state, lay),
    );
  }

  /** These states are of a copy from now on, as is what follows from them. */
  #copy(states: readonly Trials[]): void {
    const { keeper } = this.#bench;
    for (const state of states) {
      const id = idOf(keeper.designs.of(state));
      keeper.designs.put(state, keeper.designs.keepOff(id));
      if (id !== this.#held) this.said = LEFT_BEHIND;
    }
    const date = this.#now().toISOString();
    this.#waiting = [...states.map((state) => ({ state, date, again: false })), ...this.#waiting];
    if (keeper.history) keeper.keep(keeper.history);
    this.note();
  }

  #tell(id: string, lies: KeptDesign | undefined): void {
    if (id !== this.#held) return;
    const trouble = this.#trouble;
    this.id = lies ? id : '';
    this.#bench.asDesign = trouble ? NOT_AMONG[trouble] : lies ? `, as «${lies.name}»` : '';
  }

  #tellOthers(): void {
    this.#channel?.postMessage('changed');
  }
}
