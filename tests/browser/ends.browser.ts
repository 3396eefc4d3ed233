/** Every sheet that comes with the program opens; and a handle at its end leaves the others in order. */
import { expect, test } from './rig/app.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { changed, curves, figure, ready, slider, soon } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

test('a pole at its highest, then another pickup is moved and looked at', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await atRest(page);
  await slider(page, 'height of pole 1, rods').focus();
  await page.keyboard.press('End');
  await soon(() => figure(page, 'height of pole 1, rods')).toBe('5.00 mm');
  for (const name of ['bridge', 'middle']) {
    await slider(page, `${name} pickup along the string`).focus();
    await page.keyboard.press('ArrowLeft');
    // The drawing follows.
    await slider(page, `${name} pickup, slant`).waitFor();
    await soon(() => page.getByRole('region', { name: 'Across the strings' }).innerText()).toMatch(
      new RegExp(`· ${name} ·`),
    );
  }
});

test('every preset opens, is drawn and may be played', async ({ openSheet }) => {
  const { page, problems } = await openSheet();
  await ready(page);
  const choice = page.getByRole('combobox', { name: 'open another sheet' });
  await soon(() => choice.locator('option').count()).toBe(PRESETS.length);
  const presets = await choice.locator('option').allInnerTexts();
  expect(presets.length).toBeGreaterThanOrEqual(16);
  // Backwards, because the first one is open already.
  for (const preset of presets.toReversed()) {
    const before = await curves(page);
    await choice.selectOption(preset);
    await changed(page, before);
    await soon(() => page.getByRole('textbox', { name: 'title' }).inputValue()).toBe(preset);
    await ready(page);
    await atRest(page);
    expect(await curves(page), preset).not.toMatch(/NaN|Infinity|undefined/);
    expect(await page.getByRole('alert').allInnerTexts(), preset).toEqual([]);
    expect(await page.getByRole('slider').count(), preset).toBeGreaterThanOrEqual(20);
    expect(problems, preset).toEqual([]);
  }
});
