/** Windows of one browser with the app in them, and everything that can be had back from them. */
import type { BrowserContext, Page } from 'playwright-core';
import { encodeLink } from '../../../src/sheet/link.ts';
import { readRecord } from '../../../src/sheet/record.ts';
import { currentSheet, wrap, type Trials } from '../../../src/sheet/trials.ts';
import { formatFigure } from '../../../src/sheet/units.ts';
import { button, CABLE, field, figure, PATIENCE, pull, slider, soon, type } from '../../browser/rig/hands.ts';

const PRESET_CHOICE = 'open another sheet';

/** By what a state of a document is known here, as data and on the screen: two figures that every edit makes new. */
export function markOf(trials: Trials): string {
  const { title, harness } = currentSheet(trials);
  return `${title} | ${formatFigure(harness.cable.length, 'cableLength')}`;
}

export async function markOn(page: Page): Promise<string> {
  return `${await figure(page, 'title')} | ${await figure(page, CABLE)}`;
}

export async function opened(page: Page): Promise<Page> {
  await field(page, 'title').waitFor({ timeout: PATIENCE });
  return page;
}

export async function open(context: BrowserContext, address: string): Promise<Page> {
  const page = await context.newPage();
  await page.goto(address);
  return opened(page);
}

/** As the browser does it: with a copy of what the window's session keeps. */
export async function duplicate(page: Page): Promise<Page> {
  const popup = page.waitForEvent('popup');
  await page.evaluate(() => void window.open(location.href));
  return opened(await popup);
}

export async function edit(page: Page, count: number): Promise<void> {
  if (count % 2) {
    await field(page, 'title').fill(`state ${count}`);
    await field(page, 'title').press('Enter');
  } else {
    const metres = (1 + (count % 290) / 10).toFixed(1);
    await type(page, CABLE, metres);
    await soon(() => figure(page, CABLE)).toBe(`${metres} m`);
  }
}

export async function openPreset(page: Page, index: number): Promise<void> {
  await page.getByRole('combobox', { name: PRESET_CHOICE, exact: true }).selectOption({ index });
}

/** One of the sheets that come with the program, by its title. */
export async function openSheetNamed(page: Page, title: string): Promise<void> {
  await page.getByRole('combobox', { name: PRESET_CHOICE, exact: true }).selectOption(title);
}

export async function openLink(page: Page, trials: Trials, count: number): Promise<void> {
  const sheet = { ...currentSheet(trials), title: `link ${count}` };
  const fragment = await encodeLink(wrap(sheet));
  await page.evaluate((to) => void (location.hash = to), fragment);
  await soon(() => figure(page, 'title')).toBe(sheet.title);
}

/** One of the earlier sheets, if there is any. */
export async function openEarlier(page: Page, at: number): Promise<void> {
  const unfold = button(page, 'earlier sheets');
  if (!(await unfold.isVisible())) return;
  if ((await unfold.getAttribute('aria-expanded')) === 'false') await unfold.click();
  const all = page.getByRole('list', { name: 'earlier sheets' }).getByRole('button');
  const count = await all.count();
  if (count > 0) await all.nth(at % count).click();
}

/** Undo or redo, so many times if it can be. */
export async function step(page: Page, what: 'undo' | 'redo', times: number): Promise<void> {
  for (let i = 0; i < times && (await button(page, what).isEnabled()); i++) await button(page, what).click();
}

/** Ends a window without a word, as often as not in the middle of a drag. */
export async function kill(page: Page, how: 'crash' | 'close', dragging: boolean): Promise<void> {
  if (dragging)
    await pull(page, slider(page, 'neck pickup along the string'), { x: -20, y: 0 }).catch(() => null);
  if (how === 'crash') {
    const session = await page.context().newCDPSession(page);
    const gone = page.waitForEvent('crash');
    void session.send('Page.crash').catch(() => undefined);
    await gone;
  }
  await page.close({ runBeforeUnload: false });
}

/** Every state in the browser's storage, by the records alone. */
export async function stored(page: Page): Promise<Set<string>> {
  const texts = await page.evaluate(() =>
    Object.entries(localStorage)
      .filter(([key]) => /^lodetone\.(work|earlier)\./.test(key))
      .map(([, value]) => value as string),
  );
  return new Set(
    texts.flatMap((text) => {
      const { past = [], present, future = [] } = readRecord(text)?.history ?? {};
      return [...past, ...(present ? [present] : []), ...future].map(markOf);
    }),
  );
}

/** Every state that a person finds in a window: by undo to the end, and in every earlier sheet and behind it. */
export async function found(page: Page): Promise<Set<string>> {
  const marks = new Set<string>();
  const back = async (): Promise<void> => {
    const seen = await page.evaluate(async (cable) => {
      const value = (name: string): string =>
        document.querySelector<HTMLInputElement>(`input[aria-label="${name}"]`)!.value;
      const block = document.querySelector('section[aria-label="Title block"]')!;
      const undo = [...block.querySelectorAll('button')].find((b) => b.textContent.trim() === 'undo')!;
      const all: string[] = [];
      for (;;) {
        all.push(`${value('title')} | ${value(cable)}`);
        if (undo.disabled) return all;
        undo.click();
        await new Promise((resolve) => setTimeout(resolve));
      }
    }, CABLE);
    for (const mark of seen) marks.add(mark);
  };
  await step(page, 'redo', 200);
  await back();
  const unfold = button(page, 'earlier sheets');
  if (!(await unfold.isVisible())) return marks;
  await openEarlier(page, 0);
  const count = await page.getByRole('list', { name: 'earlier sheets' }).getByRole('button').count();
  const titles = page.getByRole('list', { name: 'earlier sheets' }).getByRole('button');
  const names = await titles.allInnerTexts();
  await back();
  for (let i = 0; i < count; i++) {
    // The list grows at its top by what is left each time. The old ones keep their names, which several may share: which of
    // those it is is counted from below.
    const below = names.slice(i).filter((name) => name === names[i]).length;
    const now = await titles.allInnerTexts();
    const again = now.flatMap((name, n) => (name === names[i] ? [n] : [])).at(-below);
    if (again === undefined) continue;
    await titles.nth(again).click();
    await back();
  }
  return marks;
}
