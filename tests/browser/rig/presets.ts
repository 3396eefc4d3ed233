/** Sheets that come with the program, opened one after another. */
import type { Page } from 'playwright-core';
import { PRESETS } from '../../fixtures/presets.ts';
import { expect, type Opened } from './app.ts';
import { changed, curves, ready, soon } from './hands.ts';
import { atRest } from './rest.ts';

/** What is chosen from, in its order, once all of them are there. */
export async function presetTitles(page: Page): Promise<string[]> {
  const options = page.getByRole('combobox', { name: 'open another sheet' }).locator('option');
  await soon(() => options.count()).toBe(PRESETS.length);
  return options.allInnerTexts();
}

/** Each opens, is drawn and may be played; none of them may be the one that is open. */
export async function presetsOpen(
  { page, problems }: Opened,
  presets: readonly string[],
  look: (preset: string) => Promise<void> = () => Promise.resolve(),
): Promise<void> {
  const choice = page.getByRole('combobox', { name: 'open another sheet' });
  for (const preset of presets) {
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
    await look(preset);
  }
}
