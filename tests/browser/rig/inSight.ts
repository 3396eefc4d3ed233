/** The strip that stays in sight while the sheet scrolls, and what it may not cover. */
import type { Locator, Page } from 'playwright-core';
import { expect } from './app.ts';
import { FOCUS } from './hands.ts';
import { atRest } from './rest.ts';

export const strip = (page: Page): Locator => page.getByRole('contentinfo', { name: 'In sight' });

/** What has the focus, and by how many px the strip covers it. */
const covered = (page: Page): Promise<{ name: string; by: number }> =>
  page.evaluate(() => {
    const e = document.activeElement!;
    const foot = document.querySelector('footer')!;
    const over = foot.contains(e) || !foot.checkVisibility() ? Infinity : foot.getBoundingClientRect().top;
    return {
      name: e.ariaLabel ?? e.textContent.trim(),
      by: Math.max(0, e.getBoundingClientRect().bottom - over),
    };
  });

/** At this size Tab goes from the parts into it, and what has the focus is never under it. */
export async function neverUnder(
  page: Page,
  viewport: { readonly width: number; readonly height: number },
): Promise<void> {
  await page.setViewportSize(viewport);
  await atRest(page);
  await page.getByRole('textbox', { name: FOCUS, exact: true }).focus();
  const hidden: string[] = [];
  for (let i = 0, at = ''; at !== 'undo the last change' && i < 200; i++) {
    await page.keyboard.press('Tab');
    const { name, by } = await covered(page);
    if (by > 0) hidden.push(`${name} by ${by.toFixed(0)} px`);
    // Nothing can be undone yet: the string is the last that can be reached.
    if ((at = name) === 'string that is looked at') break;
  }
  expect(hidden, String(viewport.width)).toEqual([]);
  expect((await covered(page)).name).toBe('string that is looked at');
  // While it has the focus it stays, wherever the page goes.
  await page.evaluate(() => scrollTo({ top: 0, behavior: 'instant' }));
  await atRest(page);
  expect(await strip(page).isVisible()).toBe(true);
  expect((await covered(page)).name).toBe('string that is looked at');
}
