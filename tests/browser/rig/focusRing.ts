/** Whether a person sees where the focus is. */
import type { Locator, Page } from 'playwright-core';
import { expect } from './app.ts';
import { slider } from './hands.ts';

/**
 * Names of all handles that may be focused one after another: the other pickups would be chosen by the focus, and their
 * handles take the place of these.
 */
export async function handleNames(page: Page): Promise<string[]> {
  const names = await page
    .locator('main [role="slider"]')
    .evaluateAll((all) => all.map((e) => e.ariaLabel ?? ''));
  return names.filter((name) => !/^(middle|bridge)/.test(name));
}

/** Each of these looks otherwise while it has the focus. */
export async function showFocus(page: Page, handles: readonly string[]): Promise<void> {
  // By the keyboard, or the browser shows nothing.
  await page.keyboard.press('Tab');
  for (const name of handles) {
    const handle = slider(page, name);
    const picture = async (): Promise<string> => (await around(page, handle)).toString('base64');
    await handle.focus();
    const focused = await picture();
    await page.getByRole('textbox', { name: 'title' }).focus();
    expect(await picture(), name).not.toBe(focused);
  }
}

async function around(page: Page, drawn: Locator): Promise<Buffer> {
  await drawn.scrollIntoViewIfNeeded();
  const box = await drawn.boundingBox();
  if (!box) throw new Error('The handle must be visible.');
  const clip = { x: box.x - 4, y: box.y - 4, width: box.width + 8, height: box.height + 8 };
  return page.screenshot({ clip });
}
