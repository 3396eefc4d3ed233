/** Sets of strings other than six, in every place of the sheet. */
import type { Page } from 'playwright-core';
import { expect } from 'vitest';
import { breaches, shot, type OpenSheet } from './app.ts';
import { button, CLIPBOARD, field, figure, ready, said, sheetOf, soon, type, unfoldAll } from './hands.ts';
import { atRest } from './rest.ts';

/** How many strings, what the set is called, and its outer strings. */
export type StringSet = readonly [strings: number, set: string, highest: string, lowest: string];

const choose = (page: Page, name: string, option: string): Promise<unknown> =>
  page.getByRole('combobox', { name, exact: true }).selectOption(option);

const place = (page: Page, title: string) => page.locator(`section[aria-labelledby="${title}"]`);

/** How many of what is drawn or written in a place. */
const count = (page: Page, title: string, what: string): Promise<number> =>
  place(page, title).locator(what).count();

/** Unfolds what a figure is folded into, the outermost first; everything at once is for axe. */
async function openTo(page: Page, name: string): Promise<void> {
  const figure = page.locator(`input[aria-label="${name}"]`);
  const folds = figure.locator('xpath=ancestor::details[not(@open)]/summary');
  while ((await folds.count()) > 0) await folds.first().click();
}

/** Chosen, drawn, played, sent and taken back; and axe finds nothing to object to, with all of it opened out. */
export async function usesStrings(
  openSheet: OpenSheet,
  [strings, set, highest, lowest]: StringSet,
): Promise<void> {
  const { page } = await openSheet('', CLIPBOARD);
  await ready(page);
  await choose(page, 'string set', set);
  await atRest(page);

  // Per string, with names from the highest to the lowest; a string is picked there.
  const rows = place(page, 'strings-title').locator('tbody tr');
  await soon(() => rows.count()).toBe(strings);
  await soon(() => rows.first().innerText()).toContain(`1 ${highest}`);
  await soon(() => rows.last().innerText()).toContain(`${strings} ${lowest}`);
  await rows.last().click();
  await soon(() => page.getByRole('combobox', { name: 'string', exact: true }).inputValue()).toBe(
    `${strings} ${lowest}`,
  );
  await atRest(page);

  // Across, plan and placement: a string, a pole and a level for each.
  expect(await count(page, 'across-title', 'circle.string')).toBe(strings);
  expect(await count(page, 'across-title', 'svg svg path.pole')).toBe(strings);
  expect(await count(page, 'across-title', 'text.figure')).toBe(strings);
  expect(await page.getByRole('slider', { name: /^height of pole/ }).count()).toBe(strings);
  expect(await count(page, 'plan-title', 'line.string')).toBe(strings);
  expect(await count(page, 'placement-title', 'circle.pole')).toBe(3 * strings);

  // Chord and line.
  await choose(page, 'what is played', 'chord');
  expect(await page.getByRole('textbox', { name: /^fret of string/ }).count()).toBe(strings);
  await choose(page, 'chord', 'Am');
  await choose(page, 'what is played', 'line');
  const caret = page.getByRole('textbox', { name: /^fret at string/ });
  await caret.focus();
  for (let i = 0; i < 8; i++) await page.keyboard.press('ArrowDown');
  await soon(() => caret.getAttribute('aria-label')).toBe(`fret at string ${strings}, bar 1, beat 1`);
  await page.keyboard.type('5');
  await choose(page, 'what is played', 'progression');
  await button(page, 'play').first().click();
  await button(page, 'stop').first().waitFor();
  await button(page, 'stop').first().click();

  // One string by hand, and one more or less.
  await openTo(page, `string ${strings}, open note`);
  await type(page, `string ${strings}, open note`, strings < 6 ? 'D1' : 'A1');
  await soon(() => figure(page, `string ${strings}, open note`)).toBe(strings < 6 ? 'D1' : 'A1');
  await type(page, `string ${strings}, gauge`, '0.07 in');
  await soon(() => figure(page, `string ${strings}, gauge`)).toBe('1.778 mm');
  await soon(() => page.getByRole('combobox', { name: 'string set' }).inputValue()).toBe('own strings');
  if (strings > 4) {
    await button(page, 'take the lowest string off').click();
    await soon(() => rows.count()).toBe(strings - 1);
    await soon(() => said(page)).toContain('strings now');
    await button(page, 'undo').click();
  } else expect(await button(page, 'take the lowest string off').count()).toBe(0);
  if (strings === 8) expect(await button(page, 'add a lower string').count()).toBe(0);
  await soon(() => rows.count()).toBe(strings);

  // Mods and how close; then the link, as another browser reads it.
  await place(page, 'close-title').scrollIntoViewIfNeeded();
  await soon(() => place(page, 'close-title').innerText()).toMatch(/mm at the bass side/);
  const sheet = await sheetOf(page);
  expect(sheet.instrument.strings).toHaveLength(strings);
  for (const { build } of sheet.pickups)
    for (const { pole } of build!.rows) expect(pole.heights).toHaveLength(strings);
  await atRest(page);
  await shot(page, `strings-${strings}`);
  const { page: other } = await openSheet(new URL(page.url()).hash);
  await ready(other);
  await soon(() => place(other, 'strings-title').locator('tbody tr').count()).toBe(strings);
  expect(await field(other, `height of pole ${strings}, rods`).count()).toBe(1);

  await choose(other, 'what is played', strings === 7 ? 'line' : 'chord');
  await unfoldAll(other);
  await atRest(other);
  expect(await breaches(other)).toEqual([]);
}
