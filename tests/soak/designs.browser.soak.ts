/** Designs that keep themselves, in windows that are killed while they save, without room, with spoilt records, and other versions. */
import type { BrowserContext, Page } from 'playwright-core';
import { describe } from 'vitest';
import { trialsOf } from '../../src/state/designWrites.ts';
import { expect, test } from '../browser/rig/app.ts';
import { said, soon } from '../browser/rig/hands.ts';
import {
  dropConnections,
  hasRoom,
  limitRoom,
  look,
  marksIn,
  remake,
  spoil,
  watchConnections,
  type Base,
} from './tools/designsBase.ts';
import { Dice } from './tools/dice.ts';
import { soakPlan } from './tools/plan.ts';
import { edit, kill, markOf, markOn, open, opened, openPreset, step, stored } from './tools/windows.ts';

/** Rounds with one browser's storage: so few that no design has more earlier states than stay for their youth (thinning.ts). */
const ROUNDS = 10;
/** What befalls a browser; the first, most of the time. */
const FATES = [
  ...['kill', 'kill', 'kill', 'kill', 'kill', 'kill while closing', 'kill one of two'],
  ...['no room', 'connection', 'spoilt', 'older', 'newer'],
] as const;
type Fate = (typeof FATES)[number];

/** One browser's life. */
class Life {
  readonly did: string[] = [];
  kills = 0;
  count: number;
  readonly #dice: Dice;
  readonly #context: BrowserContext;
  readonly #address: string;
  /** An empty page of the same origin: storage and database are looked into from there. */
  readonly #home: Page;
  #page: Page;
  /** Every state that was ever committed, and those that were seen among the designs. */
  readonly #committed = new Set<string>();
  #kept = new Set<string>();
  /** Spoilt by us. */
  readonly #spoilt = new Set<string>();

  constructor(dice: Dice, page: Page, home: Page, address: string, count: number) {
    this.#dice = dice;
    this.#page = page;
    this.#context = page.context();
    this.#home = home;
    this.#address = address;
    this.count = count;
  }

  async round(fate: Fate): Promise<void> {
    this.did.push(fate);
    await this.#work(this.#page);
    if (fate === 'kill') await this.#kill('crash');
    else if (fate === 'kill while closing') await this.#kill('close');
    else if (fate === 'kill one of two') await this.#killOneOfTwo();
    else if (fate === 'no room') await this.#noRoom();
    else if (fate === 'connection') await dropConnections(this.#page);
    else if (fate === 'spoilt') await this.#spoil();
    else await this.#otherVersion(fate);
    await this.#edit(this.#page);
    await this.#isKept(this.#page);
    await this.#isWhole();
  }

  /** By hand: what the list shows of it, or of its fault. */
  async end(): Promise<void> {
    const page = this.#page;
    await page.locator('section[aria-label="Files"] summary').click();
    const list = page.getByRole('list', { name: 'designs on this computer' });
    const { designs } = await look(this.#home);
    await soon(() => list.locator(':scope > li').count(), this.#after('in the list')).toBe(designs.length);
    const unread = designs.filter(({ design }) => !trialsOf(design)).length;
    expect(await list.locator('.trouble').count(), this.#after('without its fault')).toBe(unread);
    expect(unread).toBe(this.#spoilt.size);
  }

  /** A few changes, sometimes to another document. */
  async #work(page: Page): Promise<void> {
    const at = this.#dice.below(12);
    if (at === 0) await openPreset(page, this.#dice.below(8));
    if (at === 1) await step(page, 'undo', 2);
    for (let i = 0; i <= at % 3; i++) await this.#edit(page);
  }

  async #edit(page: Page): Promise<void> {
    await edit(page, ++this.count);
    this.#committed.add(await markOn(page));
  }

  /** At any moment of a save. */
  async #kill(how: 'crash' | 'close'): Promise<void> {
    await this.#page.waitForTimeout(this.#dice.below(500));
    const last = await markOn(this.#page);
    await kill(this.#page, how, false);
    this.kills++;
    this.#page = await open(this.#context, this.#address);
    await soon(async () => (await this.#marks()).has(last), this.#after(`not brought in: ${last}`)).toBe(
      true,
    );
  }

  async #killOneOfTwo(): Promise<void> {
    const other = await open(this.#context, this.#address);
    await this.#edit(this.#page);
    await this.#edit(other);
    await this.#edit(this.#page);
    await this.#edit(other);
    if (this.#dice.below(2)) await this.#isKept(other);
    const [killed, left] = this.#dice.below(2) ? [other, this.#page] : [this.#page, other];
    await kill(killed, 'crash', false);
    this.kills++;
    this.#page = left;
  }

  async #noRoom(): Promise<void> {
    await this.#isKept(this.#page);
    const giveRoom = await limitRoom(this.#home, 1);
    // A browser goes for a while by how much room there was.
    await soon(() => hasRoom(this.#home)).toBe(false);
    await this.#edit(this.#page);
    await soon(() => said(this.#page), this.#after('silent')).toMatch(
      /not among the designs: the browser’s room for them is full/,
    );
    await giveRoom();
    await soon(() => hasRoom(this.#home)).toBe(true);
  }

  /** One that is not on the table, or the one that is. */
  async #spoil(): Promise<void> {
    await this.#isKept(this.#page);
    const { designs } = await look(this.#home);
    const whole = designs.filter(({ design }) => trialsOf(design));
    const { id, design } = this.#dice.one(whole);
    const mark = markOf(trialsOf(design)!);
    await spoil(this.#home, id);
    this.#spoilt.add(id);
    this.#kept.delete(mark);
  }

  /** As if it were updated, and had been kept by another version. */
  async #otherVersion(fate: 'older' | 'newer'): Promise<void> {
    await this.#isKept(this.#page);
    await kill(this.#page, 'close', false);
    const base = await look(this.#home);
    if (fate === 'older') {
      const designs = base.designs.map(({ id, name = '', design }) => ({
        id,
        name,
        design,
        date: new Date().toISOString(),
      }));
      const older: Base = { version: 1, designs, states: [] };
      await remake(this.#home, older);
      // The states went with the old base, by us.
      this.#kept = new Set([...this.#kept].filter((mark) => marksIn(older).has(mark)));
      this.#page = await open(this.#context, this.#address);
      return;
    }
    await remake(this.#home, { ...base, version: 3 });
    const page = await open(this.#context, this.#address);
    await this.#edit(page);
    await soon(() => said(page), this.#after('silent')).toMatch(
      /not among the designs, which a newer Lodetone keeps here/,
    );
    expect(marksIn(await look(this.#home)), this.#after('in a newer base')).toEqual(marksIn(base));
    await kill(page, 'close', false);
    await remake(this.#home, base);
    this.#page = await open(this.#context, this.#address);
  }

  /** What is on the table is among the designs; what is not is said. */
  async #isKept(page: Page): Promise<void> {
    const mark = await markOn(page);
    await soon(
      async () => (await this.#marks()).has(mark),
      this.#after(`not among the designs: ${mark}`),
    ).toBe(true);
  }

  async #marks(): Promise<Set<string>> {
    const marks = marksIn(await look(this.#home));
    for (const mark of marks) if (this.#committed.has(mark)) this.#kept.add(mark);
    return marks;
  }

  /** What was among the designs stays there; every other state can be had back by undo. */
  async #isWhole(): Promise<void> {
    const marks = await this.#marks();
    expect(
      [...this.#kept].filter((mark) => !marks.has(mark)),
      this.#after('lost among the designs'),
    ).toEqual([]);
    const lost = async (): Promise<string[]> => {
      const undo = await stored(this.#home);
      return [...this.#committed].filter((mark) => !marks.has(mark) && !undo.has(mark));
    };
    await soon(lost, this.#after('lost')).toEqual([]);
  }

  #after(where: string): string {
    return `${where} after: ${this.did.join(', ')}`;
  }
}

describe('[exact] designs', () => {
  const { count, seed } = soakPlan('designs', 3, 600);

  test('none is lost, and none silently', async ({ openSheet }) => {
    const dice = new Dice(seed);
    let [edits, kills] = [0, 0];
    for (let done = 0; done < count; done += ROUNDS) {
      const { page, address, problems } = await openSheet('', { fresh: true, first: watchConnections });
      await opened(page);
      const home = await page.context().newPage();
      await home.goto(`${address}nothing`);
      // The empty page is not there, and says so.
      await soon(() => problems.filter((p) => /404/.test(p)).length).toBe(2);
      problems.splice(0);
      const life = new Life(dice, page, home, address, edits);
      for (let i = done; i < Math.min(count, done + ROUNDS); i++)
        await life.round(i < 3 ? (['kill', 'connection', 'spoilt'] as const)[i]! : dice.one(FATES));
      await life.end();
      edits = life.count;
      kills += life.kills;
      await page.context().close();
      console.log(`${Math.min(count, done + ROUNDS)} rounds, ${kills} kills, ${edits} changes`);
    }
  });
});
