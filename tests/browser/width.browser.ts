/** From a desk's screen to a telephone's: everything is there and can be got at. */
import { expect, shot, test } from './rig/app.ts';
import { overflow, smallText, unreachable } from './rig/eyes.ts';
import { field, ready, slider, soon } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

// 720 px is what a screen of 1440 px has at 200 % zoom (WCAG 2.2, 1.4.4), 320 px what one of 1280 px has at 400 %
// (1.4.10).
const SIZES = [
  [1440, 900],
  [900, 900],
  [720, 450],
  [390, 844],
  [320, 640],
] as const;

test('from 1440 to 320 px nothing is cut off, covered or too small', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  // The bridge pickup has the shortest dimension line.
  await page.getByRole('combobox', { name: 'pickup shown in the section' }).selectOption('3 bridge');
  await slider(page, 'bridge pickup, distance from the saddle').waitFor();
  for (const [width, height] of SIZES) {
    const at = `${width} px`;
    await page.setViewportSize({ width, height });
    await atRest(page);
    expect(await overflow(page), at).toBe(0);
    expect(await unreachable(page), at).toEqual([]);
    // The frame's zone marks, which only say where on the sheet one looks, have 11 px.
    expect(await smallText(page, 11), at).toEqual([]);
    expect(
      (await smallText(page, 12)).filter((text) => !/^[A-Z\d]{1,2}: 11 px$/.test(text)),
      at,
    ).toEqual([]);
    await page.evaluate(() => {
      scrollTo(0, 0);
    });
    await shot(page, String(width));
  }
});

test('at 390 px a sentence about a wrong figure stands within the page, wherever its field is', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', { viewport: { width: 390, height: 844 } });
  await ready(page);
  await page.getByRole('combobox', { name: 'open another sheet' }).selectOption('Holm, two two-coil pickups');
  await slider(page, 'focus of the neck row 1, edge towards the nut').waitFor();
  await atRest(page);
  expect(await overflow(page)).toBe(0);
  const alert = page.getByRole('alert');
  for (const name of [
    'fret',
    'focus of the neck row 2',
    'fret of string 1',
    'strum time',
    'input capacitance',
  ])
    for (const text of ['long', 'a long text that is no figure at all, nor will it be']) {
      const wrong = field(page, name);
      await wrong.fill(text);
      await wrong.press('Enter');
      await alert.waitFor();
      expect(await overflow(page), name).toBe(0);
      const box = await alert.boundingBox();
      expect(box && box.x >= 0 && box.x + box.width <= 390, `${name}: ${text}`).toBe(true);
      await wrong.press('Escape');
      await soon(() => alert.count()).toBe(0);
    }
});
