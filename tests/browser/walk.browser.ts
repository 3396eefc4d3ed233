/** The first walk: by keyboard from step to step, each done for real, left at any of them; it hides nothing that it points at. */
import type { Page } from 'playwright-core';
import { expect, shot, test } from './rig/app.ts';
import { overflow, smallTargets } from './rig/eyes.ts';
import { button, CLIPBOARD, ready, sheetOf, soon } from './rig/hands.ts';

const PANEL = 'section[aria-label="First walk"]';
const says = (page: Page): Promise<string> => page.locator(`${PANEL} [role="status"]`).innerText();
const inPanel = (page: Page, name: string) => page.locator(PANEL).getByRole('button', { name, exact: true });

/** px by which the panel lies over what it points at; and whether that is in the window. */
const hidden = (page: Page): Promise<{ over: boolean; inSight: boolean }> =>
  page.evaluate((panel) => {
    const ring = document.querySelector(`${panel} + div`)!.getBoundingClientRect();
    const own = document.querySelector(panel)!.getBoundingClientRect();
    return {
      over: ring.top < own.bottom && ring.bottom > own.top && ring.left < own.right && ring.right > own.left,
      inSight: ring.height > 0 && ring.top >= 0 && ring.bottom <= window.innerHeight + 6,
    };
  }, PANEL);

async function pointsAt(page: Page, step: RegExp): Promise<void> {
  await soon(() => says(page)).toMatch(step);
  await soon(() => hidden(page)).toEqual({ over: false, inSight: true });
}

/** F6 comes to the panel from wherever one is; from there to what the step is about. */
async function goThere(page: Page): Promise<void> {
  await page.keyboard.press('F6');
  expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('go there');
  await page.keyboard.press('Enter');
}

for (const size of [
  { width: 1440, height: 900 },
  { width: 390, height: 844 },
])
  test(`by keyboard at ${size.width} px: drag, hear, keep, compare, send`, async ({ openSheet }) => {
    const { page } = await openSheet('', { ...CLIPBOARD, viewport: size, reducedMotion: 'reduce' });
    await ready(page);
    const opener = button(page, 'first walk');
    await opener.waitFor();
    const before = await sheetOf(page);
    await opener.focus();
    await page.keyboard.press('Enter');
    await pointsAt(page, /^Drag\s+1 of 5/);
    expect(await sheetOf(page)).toEqual(before);
    // Sound never starts by itself.
    expect(await button(page, 'play').first().isVisible()).toBe(true);

    await goThere(page);
    await page.keyboard.press('ArrowUp');
    await pointsAt(page, /^Hear\s+2 of 5/);
    expect((await sheetOf(page)).pickups[0]!.build!.gapBass).not.toBe(before.pickups[0]!.build!.gapBass);
    await shot(page, `${size.width}-walk`);

    await goThere(page);
    await page.keyboard.press('Enter');
    await pointsAt(page, /^Keep\s+3 of 5/);
    await goThere(page);
    await page.keyboard.press('Enter');
    await pointsAt(page, /^Compare\s+4 of 5/);
    await goThere(page);
    await page.keyboard.press('ArrowLeft');
    await pointsAt(page, /^Send\s+5 of 5/);
    await goThere(page);
    await page.keyboard.press('Enter');
    await soon(() => says(page)).toMatch(/^That was all/);
    // What has the focus keeps it.
    await page.keyboard.press('Escape');
    expect(await page.locator(PANEL).count()).toBe(0);
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('copy link');
  });

test('every step may be passed over, and it is left by its button or Escape; nothing of the sheet is changed by it', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', { ...CLIPBOARD, still: true });
  await ready(page);
  const before = await sheetOf(page);
  const opener = button(page, 'first walk');
  for (let skips = 0; skips <= 5; skips++) {
    await opener.click();
    for (let i = 0; i < skips; i++) await inPanel(page, 'skip').click();
    await soon(() => says(page)).toMatch(/^(Drag|Hear|Keep|Compare|Send|That was all)/);
    if (skips === 5) await inPanel(page, 'close').click();
    else if (skips % 2) await inPanel(page, 'leave').click();
    else await page.keyboard.press('Escape');
    expect(await page.locator(PANEL).count()).toBe(0);
    expect(await opener.evaluate((e) => e === document.activeElement)).toBe(true);
  }
  expect(await sheetOf(page)).toEqual(before);
  expect(await button(page, 'undo').first().isDisabled()).toBe(true);
});

test('axe finds nothing to object to at 390 px on dark paper', async ({ scan }) => {
  const found = await scan(
    async (page) => {
      await ready(page);
      await button(page, 'first walk').click();
      await pointsAt(page, /^Drag/);
      expect(await overflow(page)).toBe(0);
      expect(await smallTargets(page, 44)).toEqual([]);
    },
    {
      viewport: { width: 390, height: 844 },
      colorScheme: 'dark',
      reducedMotion: 'reduce',
      still: true,
    },
    PANEL,
  );
  expect(found).toEqual([]);
});
