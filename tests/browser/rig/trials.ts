/** Two trials of the sheet that opens, and what is read off them. */
import type { Locator, Page } from 'playwright-core';
import { decodeLink } from '../../../src/sheet/link.ts';
import type { Trials } from '../../../src/sheet/trials.ts';
import { CABLE, copyLink, figure, ready, soon, type } from './hands.ts';

export const trials = (page: Page): Locator => page.getByRole('region', { name: 'Trials' });
const add = (page: Page): Promise<void> =>
  trials(page)
    .getByRole('button', { name: /^add a trial/ })
    .click();

/** «A B*»: the letters, the one on the table with a star. */
export const letters = (page: Page): Promise<string> =>
  trials(page)
    .getByRole('radio')
    .evaluateAll((all) =>
      all
        .map((e) => `${(e.ariaLabel ?? '').slice(6, 7)}${(e as HTMLInputElement).checked ? '*' : ''}`)
        .join(' '),
    );

/** A as it opens, B a copy in which one figure is another. */
export async function differIn(page: Page, name: string, typed: string, shown: string): Promise<void> {
  await ready(page);
  await add(page);
  await soon(() => letters(page)).toBe('A B*');
  await type(page, name, typed);
  await soon(() => figure(page, name)).toBe(shown);
  if (await page.evaluate(() => 'still' in window)) return;
  // The other one's prediction and both loudnesses are there.
  await soon(() => trials(page).innerText()).toMatch(
    /against A: B is (as loud|.* dB (louder|softer))\. At equal loudness/,
  );
}

/** A with a cable of 3 m as it opens, B with one of 12 m. */
export const twoTrials = (page: Page): Promise<void> => differIn(page, CABLE, '12', '12.0 m');

/** The open document, by way of its link. */
export async function documentOf(page: Page): Promise<Trials> {
  const read = await decodeLink(new URL(await copyLink(page)).hash);
  if (!read.ok) throw new Error(read.message);
  return read.trials;
}
