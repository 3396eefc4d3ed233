/** A browser with windows that keep designs by themselves: their storage, database and locks are shared, and they may be killed. */
import { IDBFactory } from 'fake-indexeddb';
import 'fake-indexeddb/auto';
import { JobClient } from '../../src/jobs/client.ts';
import { newHistory } from '../../src/sheet/history.ts';
import { currentSheet, wrap, type Trials } from '../../src/sheet/trials.ts';
import { DesignKeeping } from '../../src/state/designKeeping.svelte.ts';
import { Designs, type ShownDesign, type ShownState } from '../../src/state/designs.svelte.ts';
import { DesignStore } from '../../src/state/designStore.ts';
import { Keeper } from '../../src/state/keeper.ts';
import { Shelf } from '../../src/state/storage.ts';
import { Workbench } from '../../src/state/workbench.svelte.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { FakeLocks } from './fakeLocks.ts';
import { FakeStorage } from './fakeStorage.ts';

/** Nothing is ever computed. */
const silent = (): JobClient =>
  new JobClient({
    create: () => ({
      postMessage: () => undefined,
      terminate: () => undefined,
      addEventListener: () => undefined,
      removeEventListener: () => undefined,
    }),
  });

const example = exampleSheet();
export const presets = ['first preset', 'second preset'].map((title) => ({
  name: title,
  sheet: { ...example, title },
}));

export class DesignBrowser {
  readonly storage = new FakeStorage();
  locks: FakeLocks | null = new FakeLocks();
  #clock = Date.UTC(2026, 10, 27, 12);

  constructor() {
    globalThis.indexedDB = new IDBFactory();
  }

  /** A second later each time. */
  now = (): Date => new Date((this.#clock += 1000));
  later(ms: number): void {
    this.#clock += ms;
  }

  async open(session = new FakeStorage()): Promise<DesignWindow> {
    const window = new DesignWindow(this, session);
    await window.keeping.start();
    await window.rest();
    return window;
  }

  /** What a new list shows: name → title of what it is now, and of what it was, the newest first. */
  async designs(): Promise<Record<string, string[]>> {
    const list = new Designs(
      { trials: wrap(example), openDesign: () => undefined },
      { opens: () => undefined, flush: () => Promise.resolve() },
      new DesignStore(),
      this.now,
    );
    await list.refresh();
    const all: Record<string, string[]> = {};
    for (const shown of list.list) {
      await list.unfold(shown);
      all[shown.name] = [
        shown.sheet?.title ?? shown.fault,
        ...list.earlier.map(({ sheet, fault }) => sheet?.title ?? fault),
      ];
    }
    return all;
  }
}

export class DesignWindow {
  readonly browser: DesignBrowser;
  readonly session: FakeStorage;
  readonly bench: Workbench;
  readonly store = new DesignStore();
  readonly keeping: DesignKeeping;
  readonly list: Designs;

  constructor(browser: DesignBrowser, session: FakeStorage) {
    this.browser = browser;
    this.session = session;
    const keeper = new Keeper({
      lasting: new Shelf(() => browser.storage),
      ofWindow: new Shelf(() => session),
      channel: null,
      now: browser.now,
    });
    const { history } = keeper.open();
    this.bench = new Workbench(
      history ?? newHistory(wrap(presets[0]!.sheet)),
      presets,
      silent(),
      silent(),
      keeper,
    );
    this.keeping = new DesignKeeping(this.bench, {
      store: this.store,
      now: browser.now,
      locks: browser.locks?.of(this) ?? null,
      channel: null,
      moment: 1e6,
    });
    this.list = new Designs(this.bench, this.keeping, this.store, browser.now);
  }

  get title(): string {
    return this.bench.sheet.title;
  }

  /** As it stands in the title block. */
  get kept(): string {
    return this.bench.words.keeping;
  }

  /** Does something at the sheet, and tells of it as the page does. */
  do(act: (bench: Workbench) => unknown): this {
    act(this.bench);
    this.keeping.note();
    return this;
  }

  edit(title: string): this {
    return this.do((bench) => bench.set(['title'], title));
  }

  /** Everything that was begun is done. */
  async rest(): Promise<void> {
    await this.keeping.flush();
    await this.keeping.flush();
    await this.keeping.flush();
  }

  async shown(name: string): Promise<ShownDesign> {
    await this.list.refresh();
    return this.list.list.find((one) => one.name === name)!;
  }

  async openDesign(name: string): Promise<void> {
    await this.list.open(await this.shown(name));
    this.keeping.note();
    await this.rest();
  }

  async goBack(name: string, title: string): Promise<void> {
    const shown = await this.shown(name);
    if (this.list.unfolded !== shown.key) await this.list.unfold(shown);
    await this.list.goBack(
      shown,
      this.list.earlier.find(({ sheet }) => sheet?.title === title) as ShownState,
    );
    this.keeping.note();
    await this.rest();
  }

  /** Without a word, as a crash does it: what waits is never written. */
  kill(): FakeStorage {
    this.keeping.end();
    this.browser.locks?.end(this);
    return this.session;
  }

  /** Every state that undo and redo bring. */
  get line(): string[] {
    const { past, present, future } = this.bench.keeper.history ?? newHistory<Trials>(this.bench.trials);
    return [...past, present, ...future].map((state) => currentSheet(state).title);
  }
}
