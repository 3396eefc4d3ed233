/** Handles at dimensions of the drawing, each held by the mouse. */
import type { Page } from 'playwright-core';
import { middle, pull, slider, soon } from './hands.ts';

/** What a handle stands at, in its own unit. */
export const standsAt = async (page: Page, name: string): Promise<number> =>
  Number(await slider(page, name).getAttribute('aria-valuenow'));

/** Every handle whose name begins so follows the pointer, and Escape puts it back. */
export async function followPointer(page: Page, begins: readonly string[]): Promise<void> {
  for (const start of begins) {
    const handle = page.locator(`.drawing [role="slider"][aria-label^="${start}"]`);
    const name = (await handle.getAttribute('aria-label')) ?? '';
    const along = (await handle.getAttribute('aria-orientation')) === 'horizontal' ? 'x' : 'y';
    const before = await standsAt(page, name);
    await handle.scrollIntoViewIfNeeded();
    const from = await middle(handle);
    await pull(page, handle, along === 'x' ? { x: 8, y: 0 } : { x: 0, y: 8 });
    await soon(() => standsAt(page, name), name).not.toBe(before);
    // [exact] What is held stays under the pointer, to half a step of its figure: at most 0.05 mm, here 0.6 px.
    await soon(async () => Math.abs((await middle(handle))[along] - from[along] - 8)).toBeLessThan(0.7);
    await page.keyboard.press('Escape');
    await page.mouse.up();
    await soon(() => standsAt(page, name), name).toBe(before);
  }
}
