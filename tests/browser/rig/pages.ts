/**
 * Where a test's pages come from. A page that nobody had before costs three seconds of processor time: its workers start, and
 * everything is compiled. So one that a test leaves is set back to what a new visitor finds and handed to the next
 * (`lodetone:visit`, main.ts), as long as it can be; rig.browser.ts holds it to a fresh one.
 */
import type { Browser, BrowserContext, BrowserContextOptions, Page } from 'playwright-core';
import { putOn, takeBack } from './ears.ts';
import { PATIENCE } from './hands.ts';
import { atRest, countWork } from './rest.ts';
import { slowPage, slowWorkers } from './slow.ts';
import { watch } from './watch.ts';

/** How a visitor comes. */
export interface Visit extends BrowserContextOptions {
  /** Run in every page before anything of the app; must use nothing from outside itself. */
  readonly first?: () => void;
  /** In a page that nobody had before, and that nobody has afterwards. */
  readonly fresh?: boolean;
  /** Keeps the app for when there is no network, as a browser does; others are held back from it. */
  readonly keeps?: boolean;
  /** Listens to what the page plays: ears.ts. */
  readonly ears?: boolean;
  /** For what is about the document alone: the sheet is drawn, nothing is computed of it, and it can't be played. */
  readonly still?: boolean;
}

/** A page in a context of its own. */
export interface Opened {
  readonly page: Page;
  /** The served app, ending with a slash. */
  readonly address: string;
  /** What went wrong so far; a test that provokes a problem takes it out (`problems.splice(0)`). */
  readonly problems: string[];
  /** Gives the page to whoever opens one next, when the test is done with it before its end. */
  readonly leave: () => Promise<void>;
}

/** What can be set while a page is open; whatever else a visit wants, it wants of a fresh context. */
const SETTABLE = [
  'viewport',
  'colorScheme',
  'forcedColors',
  'reducedMotion',
  'permissions',
  'ears',
  'still',
] as const;
type Settable = Pick<Visit, (typeof SETTABLE)[number]>;

const isSettable = (visit: Visit): visit is Settable =>
  Object.keys(visit).every((key) => (SETTABLE as readonly string[]).includes(key));

const VIEWPORT = { width: 1440, height: 900 };

interface Lasting extends Opened {
  readonly context: BrowserContext;
  /** Whether it has ears, and nothing is computed in it: that can't be set later. */
  readonly kind: string;
}

const kindOf = ({ ears = false, still = false }: Visit): string => JSON.stringify({ ears, still });

export class Pages {
  readonly #browser: Browser;
  readonly #address: string;
  readonly #idle: Lasting[] = [];
  readonly #lent: Lasting[] = [];
  readonly #own: Opened[] = [];

  constructor(browser: Browser, address: string) {
    this.#browser = browser;
    this.#address = address;
  }

  /** What the test that runs has opened, the newest last. */
  get open(): readonly Opened[] {
    return [...this.#own, ...this.#lent];
  }

  /** @param fragment what stands behind the address, with or without its `#` */
  async visit(fragment: string, visit: Visit): Promise<Opened> {
    const to = this.#address + (fragment === '' ? '' : `#${fragment.replace(/^#/, '')}`);
    if (!isSettable(visit)) {
      const own = await this.#make(visit);
      this.#own.push(own);
      await own.page.goto(to);
      await whole(own.page);
      return own;
    }
    const kind = kindOf(visit);
    const at = this.#idle.findLastIndex((page) => page.kind === kind);
    const had = this.#idle.splice(at, at < 0 ? 0 : 1)[0];
    const lasting = had ?? (await this.#make({ ...visit, first: keepBuiltIns }));
    this.#lent.push(lasting);
    await set(lasting, visit);
    if (had && visit.ears) await takeBack(lasting.page);
    if (had) await setBack(lasting.page, to);
    else await lasting.page.goto(to);
    await whole(lasting.page);
    return lasting;
  }

  /** Takes back what a test had. */
  async end(): Promise<void> {
    for (const { page } of this.#own.splice(0)) await page.context().close();
    for (const lasting of this.#lent.splice(0)) await this.#take(lasting);
  }

  async #take(lasting: Lasting): Promise<void> {
    const { context, page } = lasting;
    for (const other of context.pages()) if (other !== page) await other.close();
    if (await isWhole(lasting, this.#address)) this.#idle.push(lasting);
    else await context.close();
  }

  /** Before the test's end; a page with problems stays, so that they are seen there. */
  async #leave(page: Page): Promise<void> {
    const at = this.#lent.findIndex((lasting) => lasting.page === page && lasting.problems.length === 0);
    const [lasting] = at < 0 ? [] : this.#lent.splice(at, 1);
    if (lasting) await this.#take(lasting);
  }

  async #make(visit: Visit): Promise<Lasting> {
    const { first, fresh: _, keeps = false, ears = false, still = false, ...options } = visit;
    const context = await this.#browser.newContext({ viewport: VIEWPORT, ...options });
    context.setDefaultTimeout(PATIENCE);
    const problems = await watch(context, this.#address);
    await slowWorkers(context);
    await countWork(context);
    if (!keeps) await context.addInitScript(keepNothing);
    if (ears) await context.addInitScript(putOn);
    if (still) await context.addInitScript(computeNothing);
    if (first) await context.addInitScript(first);
    const page = await context.newPage();
    await slowPage(page);
    const leave = (): Promise<void> => this.#leave(page);
    return { context, page, problems, address: this.#address, kind: kindOf(visit), leave };
  }
}

/** In the page: what is kept for later is fetched for nothing, unless that is the subject. */
function keepNothing(): void {
  // An empty page has none.
  if ('serviceWorker' in navigator) navigator.serviceWorker.register = () => new Promise(() => undefined);
}

/** In the page: workers that take every job and never answer, and nobody who loses patience with them. */
export function computeNothing(): void {
  const begin = window.setTimeout.bind(window);
  const patience = 30_000;
  window.setTimeout = ((handler: TimerHandler, delay = 0, ...args: unknown[]) =>
    delay < patience ? begin(handler, delay, ...args) : 0) as typeof window.setTimeout;
  const silent = class extends EventTarget {
    postMessage(): void {}
    terminate(): void {}
  };
  Object.assign(window, { Worker: silent, still: true });
}

type Window_ = { isAsItWas: () => boolean };

/** In the page: knows later whether anything that a page has from the browser was exchanged. */
function keepBuiltIns(): void {
  const names = (): string[] => Object.getOwnPropertyNames(window).filter((name) => !/^\d+$/.test(name));
  const known = new Map<string, unknown>();
  const isAsItWas = (): boolean =>
    names().every((name) => {
      const { value } = Object.getOwnPropertyDescriptor(window, name) ?? {};
      return typeof value !== 'function' || known.get(name) === value;
    });
  Object.assign(window, { isAsItWas });
  for (const name of names()) known.set(name, Object.getOwnPropertyDescriptor(window, name)?.value);
}

/** ms that a page may take to come to rest before it is given up; any time does, since a fresh one takes its place. */
const LONGEST_REST = 10_000;

/** Whether the next test may have it. */
async function isWhole({ context, page, problems }: Lasting, address: string): Promise<boolean> {
  if (problems.length > 0 || page.isClosed() || context.pages().length !== 1) return false;
  if (!page.url().startsWith(address)) return false;
  try {
    if (!(await page.evaluate(() => (window as unknown as Window_).isAsItWas()))) return false;
    // Nothing that is still on its way may come over the next test's sheet.
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<boolean>((resolve) => {
      timer = setTimeout(() => resolve(false), LONGEST_REST);
    });
    const rested = await Promise.race([atRest(page).then(() => true), late]);
    clearTimeout(timer);
    return rested && problems.length === 0;
  } catch {
    return false; // it has crashed, or was left on its way somewhere
  }
}

async function set({ context, page }: Lasting, visit: Settable): Promise<void> {
  await page.setViewportSize(visit.viewport ?? VIEWPORT);
  await page.emulateMedia({
    media: null,
    colorScheme: visit.colorScheme ?? 'light',
    forcedColors: visit.forcedColors ?? 'none',
    reducedMotion: visit.reducedMotion ?? 'no-preference',
  });
  await context.clearPermissions();
  if (visit.permissions) await context.grantPermissions(visit.permissions);
}

/** To what somebody finds who comes for the first time. */
async function setBack(page: Page, to: string): Promise<void> {
  await page.mouse.move(0, 0);
  await page.evaluate(async (address) => {
    (document.activeElement as HTMLElement | null)?.blur();
    getSelection()?.removeAllRanges();
    localStorage.clear();
    sessionStorage.clear();
    history.replaceState(null, '', address);
    scrollTo({ left: 0, top: 0, behavior: 'instant' });
    // What sounds gives its output back, and what keeps designs ends.
    window.dispatchEvent(new Event('lodetone:visit'));
    await new Promise((resolve) => {
      const gone = indexedDB.deleteDatabase('lodetone');
      gone.onsuccess = gone.onerror = resolve;
    });
  }, to);
}

/** What stands further down comes in a file of its own, a moment later. */
async function whole(page: Page): Promise<void> {
  await page.locator('section[aria-labelledby="parts-title"]').waitFor({ state: 'attached' });
}
