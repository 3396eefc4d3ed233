/** Across the strings, the table of strings, and how close the pickup may sit. */
import type { Locator, Page } from 'playwright-core';
import { expect, test } from './rig/app.ts';
import { button, figure, pull, ready, slider, soon, type } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

const POLE = 'height of pole 5, rods';
const across = (page: Page): Locator => page.locator('section[aria-labelledby="across-title"]');
const close = (page: Page): Locator => page.locator('section[aria-labelledby="close-title"]');
const table = (page: Page): Locator => page.locator('section[aria-labelledby="strings-title"] tbody tr');

/** Level of a string, dB, as the picture's label says it. */
const level = async (page: Page, string: number): Promise<number> => {
  const label = (await across(page).getByRole('group').first().getAttribute('aria-label')) ?? '';
  return Number(new RegExp(`string ${string} (\\S+) dB`).exec(label)?.[1]?.replace('−', '-'));
};

test('a pole that is dragged up is heard more, and goes back on Escape', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await atRest(page);
  const before = await level(page, 5);
  expect(before).toBeLessThan(10);
  await pull(page, slider(page, POLE), { x: 0, y: -5 });
  await soon(() => level(page, 5)).toBeGreaterThan(before + 0.3);
  await soon(() => figure(page, POLE)).not.toBe('0.00 mm');
  await page.keyboard.press('Escape');
  await page.mouse.up();
  await soon(() => figure(page, POLE)).toBe('0.00 mm');
  await soon(() => level(page, 5)).toBe(before);
});

test('a pole that would touch its string is named in words, and the last good levels stay', async ({
  openSheet,
}) => {
  const { page } = await openSheet();
  await ready(page);
  await type(page, POLE, '5');
  await across(page).getByText('Pole 5 must stay').waitFor();
  expect(await level(page, 5)).toBeLessThan(10);
  await page.keyboard.press('Escape');
  await button(page, 'undo').first().click();
  await soon(() => across(page).getByText('Pole 5 must stay').count()).toBe(0);
});

test('a string is chosen by its name, its dot or its row', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  const chosen = (): Promise<string> => across(page).locator('input:checked').locator('..').innerText();
  const strings = across(page).getByRole('radiogroup', { name: 'string looked at' });
  await strings.getByText('5 A2').click();
  await soon(chosen).toBe('5 A2');
  // Arrow keys move among the strings as they lie on the drawing: the bass on the left.
  await strings.getByRole('radio', { name: '5 A2' }).press('ArrowRight');
  await soon(chosen).toBe('4 D3');
  await across(page).locator('circle.reach-for').first().click({ force: true });
  await soon(chosen).toBe('1 E4');
  await table(page).nth(1).getByRole('cell').first().click();
  await soon(chosen).toBe('2 B3');
  expect(await table(page).locator('input:checked').count()).toBe(1);
});

test('the pickup is set as close as it may sit, as one step', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  const gap = 'gap at the bass side';
  const before = await figure(page, gap);
  await type(page, 'shift of the worst note', '2 cents');
  await atRest(page);
  const set = close(page).getByRole('button', { name: /^(raise|lower) it by/ });
  await set.click();
  await soon(() => figure(page, gap)).not.toBe(before);
  await close(page).getByRole('button', { name: 'it sits there' }).waitFor();
  await atRest(page);
  const cents = await table(page).locator('td:nth-child(6)').allInnerTexts();
  const worst = Math.max(...cents.map((text) => Math.abs(Number(text.replace('−', '-')))));
  // A stopped note may be the one that limits it.
  expect(worst).toBeLessThanOrEqual(2.005);
  // No note is too near any more, and one sits where it may, within a setting of 0.05 mm.
  const least = async (): Promise<readonly string[]> =>
    await close(page).locator('tbody td:nth-child(n + 3)').allInnerTexts();
  expect(await least()).toHaveLength(18);
  expect((await least()).filter((text) => text.includes('↓'))).toEqual([]);
  const now = await close(page).locator('tbody td:nth-child(2)').allInnerTexts();
  const spare = (await least()).map((text, i) => Number(now[Math.floor(i / 3)]) - Number.parseFloat(text));
  expect(Math.min(...spare)).toBeGreaterThanOrEqual(-0.005);
  expect(Math.min(...spare)).toBeLessThan(0.055);
  // At the 12th fret a string lies lower over the neck pickup than at the 5th, and higher action lowers it more.
  const twelfth = (await least())[17]!;
  await type(page, 'action: underside of the strings over the 12th fret', '2.4 mm');
  await soon(async () => Number.parseFloat((await least())[17] ?? '0')).toBeGreaterThan(
    Number.parseFloat(twelfth),
  );
  await button(page, 'undo').first().click();
  await soon(() => figure(page, gap)).toBe(before);
});
