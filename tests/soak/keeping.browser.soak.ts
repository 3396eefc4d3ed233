/** Windows that are killed, reloaded, duplicated, and given other sheets: every state that was committed can be had back. */
import type { Page } from 'playwright-core';
import { describe } from 'vitest';
import { checkTrials } from '../../src/sheet/checkTrials.ts';
import type { Trials } from '../../src/sheet/trials.ts';
import { expect, test } from '../browser/rig/app.ts';
import { soon } from '../browser/rig/hands.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { Dice } from './tools/dice.ts';
import { soakPlan } from './tools/plan.ts';
import {
  duplicate,
  edit,
  found,
  kill,
  markOf,
  markOn,
  open,
  opened,
  openEarlier,
  openLink,
  openPreset,
  step,
  stored,
} from './tools/windows.ts';

/** Rounds with one browser's storage: within them nothing comes to the end of what is kept. */
const ROUNDS = 20;
const MOST_WINDOWS = 3;

const presets: readonly Trials[] = PRESETS.map(({ data }) => {
  const checked = checkTrials(data);
  if (!checked.ok) throw new Error(checked.message);
  return checked.trials;
});
/** What nobody changed need not be kept. */
const unchanged = new Set(presets.map(markOf));

/** One browser's life. */
class Life {
  readonly committed = new Set<string>();
  readonly did: string[] = [];
  readonly #dice: Dice;
  readonly #address: string;
  readonly #home: Page;
  #windows: Page[] = [];
  readonly #crashed = new Set<Page>();
  #count: number;

  /** @param home an empty page of the same origin: the storage is looked into from there */
  constructor(dice: Dice, first: Page, home: Page, address: string, count: number) {
    this.#dice = dice;
    this.#add(first);
    this.#home = home;
    this.#address = address;
    this.#count = count;
  }

  async round(): Promise<void> {
    const dice = this.#dice;
    const page = dice.one(this.#windows);
    const at = dice.below(14);
    const act = dice.one([
      'all edit',
      'undo',
      'redo',
      'undo and edit',
      'preset',
      'link',
      'earlier',
      'reload',
      'crash',
      'close',
      'open',
      'duplicate',
    ] as const);
    this.did.push(`${act} ${this.#windows.indexOf(page)} ${at}`);
    for (let i = 0; i <= at % 3; i++) await this.#edit(page);
    switch (act) {
      case 'all edit':
        await Promise.all(this.#windows.map((window) => this.#edit(window)));
        break;
      case 'undo':
      case 'redo':
        await step(page, act, 1 + (at % 4));
        break;
      case 'undo and edit':
        await step(page, 'undo', 1 + (at % 4));
        await this.#edit(page);
        break;
      case 'preset':
        await openPreset(page, at);
        break;
      case 'link':
        await openLink(page, dice.one(presets), ++this.#count);
        break;
      case 'earlier':
        await openEarlier(page, at);
        break;
      case 'reload':
        await page.reload();
        await opened(page);
        break;
      case 'crash':
      case 'close':
        await kill(page, act, at % 2 === 0);
        await this.#tidy(page);
        break;
      case 'open':
      case 'duplicate':
        if (this.#windows.length >= MOST_WINDOWS) break;
        if (act === 'open') await this.#open();
        else this.#add(await duplicate(page));
        break;
    }
    for (const window of this.#windows) this.#saw(await markOn(window));
    // What one process has written the browser tells another a moment later.
    await soon(async () => this.#lost(await stored(this.#home)), this.#after('in the records')).toEqual([]);
  }

  /** Ends all windows and looks for everything by hand, in one that comes new. */
  async end(): Promise<void> {
    for (const window of this.#windows) await kill(window, 'close', false);
    this.#windows = [];
    await this.#open();
    expect(this.#lost(await found(this.#windows[0]!)), this.#after('by hand')).toEqual([]);
  }

  get count(): number {
    return this.#count;
  }

  #add(page: Page): void {
    page.on('crash', () => this.#crashed.add(page));
    this.#windows.push(page);
  }

  async #open(): Promise<void> {
    this.#add(await open(this.#home.context(), this.#address));
  }

  /** A duplicated window lives in the process of the other, and ends with it. */
  async #tidy(killed: Page): Promise<void> {
    await new Promise((resolve) => setTimeout(resolve, 300));
    const gone = this.#windows.filter((window) => this.#crashed.has(window) && window !== killed);
    this.#windows = this.#windows.filter((window) => window !== killed && !gone.includes(window));
    for (const window of gone) await window.close();
    if (this.#windows.length === 0) await this.#open();
  }

  async #edit(page: Page): Promise<void> {
    await edit(page, ++this.#count);
    this.#saw(await markOn(page));
  }

  #saw(mark: string): void {
    if (!unchanged.has(mark)) this.committed.add(mark);
  }

  #lost(had: ReadonlySet<string>): string[] {
    return [...this.committed].filter((mark) => !had.has(mark));
  }

  #after(where: string): string {
    return `lost ${where} after: ${this.did.join(', ')}`;
  }
}

describe('[exact] kills, reloads, presets, links, several windows', () => {
  const { count, seed } = soakPlan('keeping', 2, 200);

  test('every committed state can be had back', async ({ openSheet }) => {
    const dice = new Dice(seed);
    let states = 0;
    for (let done = 0; done < count; done += ROUNDS) {
      const { page, address, problems } = await openSheet('', { fresh: true });
      await opened(page);
      const home = await page.context().newPage();
      await home.goto(`${address}nothing`);
      const life = new Life(dice, page, home, address, states);
      // The empty page is not there, and says so.
      await soon(() => problems.filter((p) => /404/.test(p)).length).toBe(2);
      problems.splice(0);
      for (let i = done; i < Math.min(count, done + ROUNDS); i++) await life.round();
      await life.end();
      states = life.count;
      await page.context().close();
      console.log(`${Math.min(count, done + ROUNDS)} rounds, ${states} edits and links`);
    }
  });
});
