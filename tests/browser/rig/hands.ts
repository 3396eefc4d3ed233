/** What a person's hands do at the sheet, and what the eyes read off it. Names are those that a screen reader says. */
import type { Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { decodeLink } from '../../../src/sheet/link.ts';
import { currentSheet } from '../../../src/sheet/trials.ts';
import type { Sheet } from '../../../src/sheet/sheet.ts';
import { atRest } from './rest.ts';

/**
 * How long whatever is waited for may take, ms. No test is about time: a healthy page is done within a second, and a
 * machine that is slow or also does something else only comes later.
 */
export const PATIENCE = 90_000;

/** Looks again and again until it is so. */
export const soon = <T>(look: () => T, message = ''): ReturnType<typeof expect.poll<T>> =>
  expect.poll(look, { timeout: PATIENCE, message });

/** Waits until the sheet is drawn, with its own typeface, and may be played, where that is computed (`still`). */
export async function ready(page: Page): Promise<void> {
  if (await page.evaluate(() => 'still' in window)) {
    await page.locator('section[aria-labelledby="parts-title"]').waitFor();
    return page.evaluate(() => document.fonts.ready.then(() => undefined));
  }
  await page.getByRole('button', { name: 'play', disabled: false }).first().waitFor();
  await page.locator(CURVES).first().waitFor({ state: 'attached' });
  await page.evaluate(() => document.fonts.ready.then(() => undefined));
}

export const slider = (page: Page, name: string): Locator => page.getByRole('slider', { name, exact: true });

export const field = (page: Page, name: string): Locator => page.getByRole('textbox', { name, exact: true });

export const button = (page: Page, name: string): Locator => page.getByRole('button', { name, exact: true });

/** What stands in a field, as shown: «11.2 mm». */
export const figure = (page: Page, name: string): Promise<string> => field(page, name).inputValue();

/** Types over a figure and presses Enter. The field may show what was typed until it has been read. */
export async function type(page: Page, name: string, text: string): Promise<void> {
  await field(page, name).fill(text);
  await field(page, name).press('Enter');
}

export const FOCUS = 'focus of the neck pickup';

/** What a drag of the focus changes: 'hand', 'the gap' or 'the tip, then the gap'. */
export async function focusBy(page: Page, what: string): Promise<void> {
  await page.getByRole('combobox', { name: 'what a drag of the focus changes' }).selectOption(what);
}

/** Changes the sheet: another focus, in millimetres. */
export async function setFocus(page: Page, millimetres: number): Promise<void> {
  await type(page, FOCUS, String(millimetres));
  await soon(() => figure(page, FOCUS)).toBe(`${millimetres} mm`);
}

export const CABLE = 'cable length';

/** Changes the sheet: another cable, in metres. What it holds is known at once, whatever has to be computed. */
export async function setCable(page: Page, metres: number): Promise<void> {
  await type(page, CABLE, String(metres));
  await soon(() => figure(page, CABLE)).toBe(`${metres.toFixed(1)} m`);
}

/** The paper of somebody with such a desktop, or who has turned it. */
export async function layOn(page: Page, paper: 'day' | 'night'): Promise<void> {
  await page.emulateMedia({ colorScheme: paper === 'day' ? 'light' : 'dark' });
  const turn = button(page, `${paper} paper`);
  if ((await turn.count()) > 0) await turn.click();
  await button(page, `${paper === 'day' ? 'night' : 'day'} paper`).waitFor();
}

/** The sentence in the title block. */
export const said = (page: Page): Promise<string> =>
  page.getByRole('region', { name: 'Title block' }).getByRole('status').innerText();

/** Unfolds all there is to unfold, and what is folded within it. To click each by hand has the page drawn for each. */
export const unfoldAll = (page: Page): Promise<void> =>
  page.evaluate(() => {
    for (let closed; (closed = document.querySelector<HTMLElement>('details:not([open]) > summary'));)
      closed.click();
  });

const CURVES = 'section[aria-labelledby="curve-title"] .drawing path';

/** Every curve as it is drawn, one path a line. */
export async function curves(page: Page): Promise<string> {
  const drawn = await page
    .locator(CURVES)
    .evaluateAll((paths) => paths.map((path) => path.getAttribute('d')));
  return drawn.join('\n');
}

/**
 * Waits until the curves are not those any more, and returns them. They may be on their way to others still, unless the
 * sheet was at rest before and one thing was changed; a gesture of many moves wants `atRest`.
 */
export async function changed(page: Page, before: string): Promise<string> {
  await soon(() => curves(page)).not.toBe(before);
  return curves(page);
}

export interface Place {
  readonly x: number;
  readonly y: number;
}

/** The middle of what is drawn for it, px. */
export async function middle(drawn: Locator): Promise<Place> {
  const box = await drawn.boundingBox();
  if (!box) throw new Error('What is dragged must be visible.');
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

/** Waits until it stays where it is from one frame to the next. */
async function still(drawn: Locator): Promise<void> {
  await drawn.evaluate(async (node) => {
    const place = (): string => JSON.stringify(node.getBoundingClientRect());
    for (let before = ''; before !== place();) {
      before = place();
      await new Promise((resolve) => requestAnimationFrame(resolve));
    }
  });
}

/** Every move has the field solved and drawn; three are a way with a middle. */
const STEPS = 3;

/** Takes hold with the mouse and moves by so many pixels in steps, without letting go. */
export async function pull(page: Page, handle: Locator, by: Place): Promise<void> {
  await handle.scrollIntoViewIfNeeded();
  await still(handle);
  const from = await middle(handle);
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(from.x + by.x, from.y + by.y, { steps: STEPS });
}

/** A whole drag: takes hold, moves and lets go. */
export async function drag(page: Page, handle: Locator, by: Place): Promise<void> {
  await pull(page, handle, by);
  await page.mouse.up();
}

/**
 * Presses «copy link» and returns what was then put on the clipboard; the context must allow the clipboard. All pages of
 * the browser share one, so that what lies on it may be another test's: this page's own writing is listened to.
 */
export async function copyLink(page: Page): Promise<string> {
  await page.evaluate(() => {
    const heard = window as unknown as { copied?: string };
    if (heard.copied === undefined) {
      const write = navigator.clipboard.writeText.bind(navigator.clipboard);
      navigator.clipboard.writeText = async (text) => {
        await write(text);
        heard.copied = text;
      };
    }
    heard.copied = '';
  });
  await button(page, 'copy link').click();
  const read = (): Promise<string> => page.evaluate(() => (window as unknown as { copied: string }).copied);
  await soon(read).toMatch(/#/);
  return read();
}

/** For `openSheet`: a visitor who lets the page use the clipboard. */
export const CLIPBOARD = { permissions: ['clipboard-read', 'clipboard-write'] };

/** The open sheet, by way of its link. */
export async function sheetOf(page: Page): Promise<Sheet> {
  const link = await copyLink(page);
  const read = await decodeLink(new URL(link).hash);
  if (!read.ok) throw new Error(read.message);
  return currentSheet(read.trials);
}

/** Everything that stands in a field or is chosen, by name: «focus of the neck pickup: 11.2 mm». */
export async function figures(page: Page): Promise<string[]> {
  return page.locator('main input:not([readonly]), main select, main textarea').evaluateAll((all) =>
    all.map((e) => {
      const input = e as HTMLInputElement;
      const name = input.ariaLabel ?? input.labels?.[0]?.innerText.trim() ?? '';
      return `${name}: ${input.type === 'radio' ? String(input.checked) : input.value}`;
    }),
  );
}

/** What stands in all fields once everything is computed: some of it is. */
export async function settled(page: Page): Promise<string[]> {
  await atRest(page);
  return figures(page);
}
