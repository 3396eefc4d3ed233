/** Does gestures on a page. */
import type { Page } from 'playwright-core';
import type { Window_ } from './agent.ts';
import type { Gesture, Inventory } from './gestures.ts';

export const inventory = (page: Page): Promise<Inventory> =>
  page.evaluate(() => (window as unknown as Window_).agent.inventory());

/** Returns whether there was what it is done to. */
export async function perform(page: Page, gesture: Gesture): Promise<boolean> {
  if (gesture.do === 'drag') return drag(page, gesture);
  if (gesture.do === 'size') {
    await page.setViewportSize({ width: gesture.width, height: gesture.height });
    return true;
  }
  return page.evaluate((asked) => (window as unknown as Window_).agent.act(asked), gesture);
}

/** With the browser's own pointer: only that can be captured. */
async function drag(page: Page, { on, by, shift, end }: Gesture & { do: 'drag' }): Promise<boolean> {
  const from = await page.evaluate((target) => (window as unknown as Window_).agent.place(target), on);
  if (!from) return false;
  const { mouse, keyboard } = page;
  await mouse.move(from.x, from.y);
  await mouse.down();
  if (shift) await keyboard.down('Shift');
  let { x, y } = from;
  for (const [dx, dy] of by) {
    x += dx;
    y += dy;
    await mouse.move(x, y);
  }
  if (end === 'Escape') await keyboard.press('Escape');
  if (end === 'out') await mouse.move(-40, -40);
  if (end === 'away') await page.evaluate(() => window.dispatchEvent(new Event('blur')));
  if (shift) await keyboard.up('Shift');
  await mouse.up();
  return true;
}
