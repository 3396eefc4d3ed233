/** A finger on the curve: sideways it moves the cursor, up and down it scrolls the page. */
import type { Page } from 'playwright-core';
import { expect, test } from './rig/app.ts';
import { ready, slider, soon } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };

/** Moves a finger by so many pixels in steps of a frame. */
async function stroke(page: Page, by: { readonly x: number; readonly y: number }): Promise<void> {
  const surface = slider(page, 'cursor on the curve');
  await surface.scrollIntoViewIfNeeded();
  const box = await surface.boundingBox();
  if (!box) throw new Error('The curve must be visible.');
  const session = await page.context().newCDPSession(page);
  const at = (share: number) => [{ x: box.x + 80 + by.x * share, y: box.y + box.height / 2 + by.y * share }];
  await session.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: at(0) });
  for (let step = 1; step <= 16; step++) {
    await session.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: at(step / 16) });
    await page.waitForTimeout(16);
  }
  await session.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
}

test('a finger moves the cursor along the curve and still scrolls the page', async ({ openSheet }) => {
  const { page } = await openSheet('', PHONE);
  await ready(page);
  await atRest(page);
  const cursor = slider(page, 'cursor on the curve');
  await page.evaluate(() => {
    window.addEventListener(
      'pointercancel',
      () => (document.title = 'the browser took the finger away'),
      true,
    );
  });
  await stroke(page, { x: 160, y: 3 });
  await soon(() => cursor.getAttribute('aria-valuetext')).toMatch(/Hz: circuit/);
  const last = Number(await cursor.getAttribute('aria-valuemax'));
  // From 80 to 240 px of some 310.
  await soon(async () => Number(await cursor.getAttribute('aria-valuenow'))).toBeGreaterThan(0.6 * last);
  expect(await page.title()).not.toContain('took the finger away');

  const before = await page.evaluate(() => window.scrollY);
  await stroke(page, { x: 3, y: -120 });
  await soon(() => page.evaluate(() => window.scrollY)).toBeGreaterThan(before + 60);

  // A finger asks for a help by a tap, and puts it away by another.
  const word = page.getByRole('button', { name: 'dip', exact: true });
  await word.scrollIntoViewIfNeeded();
  await word.tap();
  await page.getByRole('tooltip').waitFor();
  await word.tap();
  await page.getByRole('tooltip').waitFor({ state: 'detached' });
});
