/**
 * Keeps a document with all its steps for the next visit, each window its own. A record is written over by nobody but the
 * window that knows what stands in it: whoever finds something else there goes on under a name of its own, so that two
 * windows never write over one another, whatever they have in common.
 */
import { checkTrials } from '../sheet/checkTrials.ts';
import { newHistory, type History } from '../sheet/history.ts';
import { MOST_LETTERS, readRecord, writeRecord, type KeptRecord } from '../sheet/record.ts';
import type { Trials } from '../sheet/trials.ts';
import { Belonging } from './belonging.ts';
import { EarlierShelf } from './earlierShelf.ts';
import { lasting, ofWindow, type Kept, type Shelf } from './storage.ts';

/** How a document is kept. 'shortened': with fewer steps to undo, for want of room. */
export type Keeping = Kept | 'shortened';

/** What a window says to the others: «I have this one», and what the one says that has it too. */
interface Call {
  readonly kind: 'who has it' | 'I have it';
  readonly name: string;
  /** Of the page that says it. */
  readonly page: string;
}

/** A way to call the other windows; the browser's own, where there is one. */
export interface Channel {
  postMessage(message: unknown): void;
  onmessage: ((event: MessageEvent) => void) | null;
}

export interface KeeperOptions {
  readonly lasting?: Shelf;
  readonly ofWindow?: Shelf;
  readonly channel?: Channel | null;
  readonly now?: () => Date;
  readonly name?: () => string;
  /** Called when the document turns out to be open in another window. */
  readonly onshared?: () => void;
}

/** Before each window had its own. */
const ONE_KEY = 'lodetone.sheet';
const WINDOW_KEY = 'lodetone.window';
const PREFIX = 'lodetone.work.';
const ASIDE = 'lodetone.aside.';
const MOST_ASIDE = 10;
/** Documents of windows, this one's included; the oldest goes. */
const MOST_WINDOWS = 24;
/** Letters below which a record isn't shortened any more. */
const LEAST = 4096;

const UNREAD =
  'A sheet kept from an earlier visit could not be read; it is put aside, not deleted, and another is open instead.';
const PART = 'Some of the steps that undo had could not be read; the sheet itself is whole.';

/** One a page. */
export class Keeper {
  readonly #shelf: Shelf;
  readonly #window: Shelf;
  readonly #channel: Channel | null;
  readonly #now: () => Date;
  readonly #newName: () => string;
  readonly #page: string;
  readonly earlier: EarlierShelf;
  /** Which design each of the document's states is of. */
  readonly designs: Belonging;
  /** Called when the document turns out to be open in another window. */
  onshared: () => void;
  #name = '';
  #from = '';
  /** What we know to stand under the name; null for nothing. */
  #known: string | null = null;
  #history: History<Trials> | null = null;
  #date = '';

  constructor(options: KeeperOptions = {}) {
    this.#shelf = options.lasting ?? lasting;
    this.#window = options.ofWindow ?? ofWindow;
    this.#channel = options.channel === undefined ? defaultChannel() : options.channel;
    this.#now = options.now ?? (() => new Date());
    this.#newName = options.name ?? randomName;
    this.#page = this.#newName();
    this.onshared = options.onshared ?? (() => {});
    this.designs = new Belonging(this.#newName);
    const own = (): string => this.#key;
    this.earlier = new EarlierShelf(this.#shelf, PREFIX, own, this.#now, this.#newName, this.designs);
    if (this.#channel) this.#channel.onmessage = this.#called;
  }

  get #key(): string {
    return PREFIX + this.#name;
  }

  /** What this window has; null for what nobody has changed yet. */
  get history(): History<Trials> | null {
    return this.#history;
  }

  /** Under which name, and of when, the record of this window is. */
  get written(): { readonly window: string; readonly date: string } {
    return { window: this.#name, date: this.#date };
  }

  /** The records of all windows, this one's too. */
  records(): { readonly window: string; readonly text: string }[] {
    return this.#shelf
      .keys(PREFIX)
      .map((key) => ({ window: key.slice(PREFIX.length), text: this.#shelf.look(key) ?? '' }));
  }

  /**
   * What this window had, or a new one the newest of all, with all its steps; null where there is nothing yet.
   *
   * @param visit whether something else is about to be opened: then what other windows had is left as it is
   */
  open(visit = false): { readonly history: History<Trials> | null; readonly message: string } {
    const messages = new Set<string>();
    const name = this.#window.look(WINDOW_KEY);
    let found = name === null ? null : this.#read(PREFIX + name, messages);
    // One that is broken and could not be put aside is left alone.
    const broken = name !== null && !found && this.#shelf.look(PREFIX + name) !== null;
    this.#settle(name === null || broken ? this.#newName() : name);
    this.#moveIn(messages);
    if (name === null) {
      const newest = this.#newest(messages);
      found = newest?.record ?? null;
      if (newest && !visit) this.#settle(newest.key.slice(PREFIX.length));
    }
    if (found?.lost) messages.add(PART);
    this.#known = this.#shelf.look(this.#key);
    this.#history = found?.history ?? null;
    this.#call('who has it');
    return { history: this.#history, message: [...messages].join(' ') };
  }

  /**
   * Writes at once: a page that is killed afterwards has lost nothing.
   * @param opened of which design it is, where it is another document than before
   */
  keep(history: History<Trials>, opened = ''): Keeping {
    this.#history = history;
    this.designs.settle(history, opened);
    const there = this.#shelf.look(this.#key);
    if (there !== null && there !== this.#known) this.#part();
    const fresh = there === null;
    const kept = this.#write(history);
    if (fresh && kept === 'kept') this.#limit();
    return kept;
  }

  /** To be told of every change that another window makes to the storage. */
  heard(key: string | null, value: string | null): void {
    if (key === null || !key.startsWith(PREFIX)) return;
    if (key === this.#key) {
      // What is told may be long past, even this window's own of before it was reloaded: what counts is what stands there.
      const there = this.#shelf.look(key);
      if (there === this.#known || !this.#history) return;
      // Taken away for want of room, or written over by a window that had it too.
      if (there !== null) this.#part();
      this.#write(this.#history);
    } else if (value !== null && readRecord(value)?.from === this.#name) this.onshared();
  }

  #write(history: History<Trials>): Keeping {
    const head = { date: this.#now().toISOString(), from: this.#from };
    for (let most = MOST_LETTERS; ; most /= 2) {
      const text = writeRecord(history, head, most, this.designs.of);
      const kept = this.#shelf.put(this.#key, text);
      if (kept === 'kept') {
        this.#known = text;
        this.#date = head.date;
      }
      if (kept === 'kept') return most < MOST_LETTERS ? 'shortened' : 'kept';
      if (kept === 'refused' || most < LEAST) return kept;
    }
  }

  #settle(name: string): void {
    this.#name = name;
    this.#window.put(WINDOW_KEY, name);
  }

  /** Goes on under a name of its own. */
  #part(): void {
    this.#from = this.#name;
    this.#settle(this.#newName());
    this.#known = null;
    this.onshared();
  }

  #call(kind: Call['kind']): void {
    this.#channel?.postMessage({ kind, name: this.#name, page: this.#page } satisfies Call);
  }

  readonly #called = ({ data }: MessageEvent): void => {
    const { kind, name, page } = data as Partial<Call>;
    if (name !== this.#name || page === this.#page) return;
    // The one that came later parts.
    if (kind === 'who has it') this.#call('I have it');
    else if (kind === 'I have it') this.#part();
  };

  /** null where there is none that can be read; a broken one is put aside. */
  #read(key: string, messages: Set<string>): KeptRecord | null {
    const text = this.#shelf.look(key);
    if (text === null) return null;
    const record = readRecord(text);
    if (record) {
      this.designs.learn(record.designs);
      // Before states belonged to designs: all windows call what such a record shows alike.
      const { present } = record.history;
      if (this.designs.of(present) === '') this.designs.put(present, key.slice(PREFIX.length));
    }
    if (record && !record.lost) return record;
    if (!record) messages.add(UNREAD);
    this.#putAside(key, text, !record);
    return record;
  }

  #newest(messages: Set<string>): { readonly key: string; readonly record: KeptRecord } | null {
    let newest: { readonly key: string; readonly record: KeptRecord } | null = null;
    for (const key of this.#shelf.keys(PREFIX)) {
      const record = this.#read(key, messages);
      if (record && (!newest || record.date > newest.record.date)) newest = { key, record };
    }
    return newest;
  }

  /** @param whole whether it is of no use any more where it stands */
  #putAside(key: string, text: string, whole: boolean): void {
    const asides = this.#shelf.keys(ASIDE).sort();
    if (asides.some((aside) => this.#shelf.look(aside) === text)) return;
    for (const old of asides.slice(0, Math.max(0, asides.length - MOST_ASIDE + 1))) this.#shelf.drop(old);
    const kept = this.#shelf.put(`${ASIDE}${this.#now().toISOString()}.${this.#newName()}`, text);
    if (whole && kept === 'kept') this.#shelf.drop(key);
  }

  /** The one document of an earlier version becomes this window's, or an earlier sheet where there are others. */
  #moveIn(messages: Set<string>): void {
    const text = this.#shelf.look(ONE_KEY);
    if (text === null) return;
    const trials = readOne(text);
    if (!trials) {
      messages.add(UNREAD);
      this.#putAside(ONE_KEY, text, true);
      return;
    }
    const moved =
      this.#shelf.keys(PREFIX).length > 0
        ? this.earlier.add(newHistory(trials))
        : this.#write(newHistory(trials));
    if (moved === 'kept') this.#shelf.drop(ONE_KEY);
  }

  #limit(): void {
    const others = this.#shelf.keys(PREFIX).filter((key) => key !== this.#key);
    if (others.length < MOST_WINDOWS) return;
    const dated = others.map((key) => ({ key, date: readRecord(this.#shelf.look(key) ?? '')?.date ?? '' }));
    dated.sort((a, b) => (a.date < b.date ? -1 : 1));
    for (const { key } of dated.slice(0, dated.length - MOST_WINDOWS + 1)) this.#shelf.drop(key);
  }
}

function readOne(text: string): Trials | null {
  try {
    const checked = checkTrials(JSON.parse(text));
    return checked.ok ? checked.trials : null;
  } catch {
    return null;
  }
}

/** Not crypto.randomUUID: a page that isn't served securely has none. */
function randomName(): string {
  return Array.from(crypto.getRandomValues(new Uint8Array(9)), (byte) =>
    byte.toString(16).padStart(2, '0'),
  ).join('');
}

function defaultChannel(): Channel | null {
  return typeof window === 'undefined' || typeof BroadcastChannel === 'undefined'
    ? null
    : new BroadcastChannel('lodetone');
}
