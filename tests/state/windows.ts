/** A browser with several windows of ours: what one keeps the others see, and hear of when the browser comes round to it. */
import { adopt, canHold, newHistory, record, type History } from '../../src/sheet/history.ts';
import { editOpen, wrap, type Trials } from '../../src/sheet/trials.ts';
import { Keeper, type Channel } from '../../src/state/keeper.ts';
import { Shelf } from '../../src/state/storage.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { FakeStorage, type Change } from './fakeStorage.ts';

export const preset = wrap(exampleSheet());
export const titled = (title: string, of: Trials = preset): Trials =>
  editOpen(of, { ...of.trials[0]!, title });
export const titleOf = (trials: Trials | undefined): string | undefined => trials?.trials[0]?.title;

/** A browser with its windows. What one writes is told to the others when the browser comes round to it: `tell`. */
export class Browser {
  readonly storage = new FakeStorage();
  readonly windows: Window[] = [];
  #names = 0;
  #clock = Date.UTC(2026, 2, 4);
  #writing: Window | null = null;
  #told: (() => void)[] = [];

  constructor() {
    this.storage.onchange = (change) => {
      const writing = this.#writing;
      // A page that was reloaded meanwhile may hear of what the one before it wrote, late.
      this.#told.push(() => {
        for (const window of [...this.windows]) if (window !== writing) window.hear(change);
      });
    };
  }

  name = (): string => `n${String(++this.#names).padStart(4, '0')}`;
  now = (): Date => new Date((this.#clock += 1000));

  as<T>(window: Window | null, act: () => T): T {
    const before = this.#writing;
    this.#writing = window;
    const result = act();
    this.#writing = before;
    return result;
  }

  tell(): void {
    for (let told = this.#told.shift(); told; told = this.#told.shift()) told();
  }

  call(from: Window, message: unknown): void {
    for (const window of this.windows)
      if (window !== from) this.#told.push(() => window.called({ data: message } as MessageEvent));
  }

  /** @param session another window's, where it is duplicated */
  open(session = new FakeStorage(), visit = false): Window {
    const window = new Window(this, session, visit);
    return window;
  }

  /** Titles of all that can be had back in this browser: in a window, in a record, among the earlier sheets. */
  had(): Set<string> {
    const fresh = new Keeper({
      lasting: new Shelf(() => this.storage),
      ofWindow: new Shelf(() => new FakeStorage()),
      channel: null,
      now: this.now,
      name: this.name,
    });
    const lines = [
      fresh.open().history,
      ...fresh.earlier.list().map(({ key }) => fresh.earlier.take(key)),
      ...this.windows.map(({ line }) => line),
    ];
    return new Set(
      lines
        .flatMap((line) => (line ? [...line.past, line.present, ...line.future] : []))
        .map((t) => titleOf(t)!),
    );
  }
}

export class Window {
  readonly browser: Browser;
  readonly session: FakeStorage;
  readonly keeper: Keeper;
  readonly message: string;
  line: History<Trials>;
  shared = 0;
  alive = true;
  readonly #channel: Channel = { postMessage: (m) => this.browser.call(this, m), onmessage: null };

  constructor(browser: Browser, session: FakeStorage, visit: boolean) {
    this.browser = browser;
    this.session = session;
    browser.windows.push(this);
    this.keeper = new Keeper({
      lasting: new Shelf(() => browser.storage),
      ofWindow: new Shelf(() => session),
      channel: this.#channel,
      now: browser.now,
      name: browser.name,
      onshared: () => {
        this.shared++;
      },
    });
    const { history, message } = browser.as(this, () => this.keeper.open(visit));
    this.line = history ?? newHistory(preset);
    this.message = message;
  }

  keep(line: History<Trials>): string {
    this.line = line;
    return this.browser.as(this, () => this.keeper.keep(line));
  }

  edit(title: string): string {
    return this.keep(record(this.line, titled(title, this.line.present)));
  }

  /** As OpenDocument.lay does it. */
  lay(next: Trials, behind = newHistory(next)): void {
    const own = this.line;
    const left = canHold(own, behind) ? newHistory(own.present) : own;
    this.browser.as(this, () => this.keeper.earlier.add(left));
    this.keep(adopt(own, { ...behind, present: next }));
  }

  hear({ key, value }: Change): void {
    if (this.alive) this.browser.as(this, () => this.keeper.heard(key, value));
  }

  called(event: MessageEvent): void {
    if (this.alive) this.browser.as(this, () => this.#channel.onmessage?.(event));
  }

  /** Without a word, as a crash does it. */
  kill(): FakeStorage {
    this.alive = false;
    this.browser.windows.splice(this.browser.windows.indexOf(this), 1);
    return this.session;
  }

  reload(): Window {
    return this.browser.open(this.kill());
  }
}
