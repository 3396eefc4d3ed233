/** Every sheet that comes with the program opens, and every handle of it goes to both its ends, and nothing breaks. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { root } from '../../.ci/setup.mjs';
import { generator, type Random } from '../soak/tools/random.ts';
import { expect, test } from './rig/app.ts';
import { changed, curves, figure, ready, slider, soon } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

/** A handle and the key that takes it to an end. */
type Way = readonly [name: string, key: 'Home' | 'End'];

/** Presses and lets go one after another, as long as nothing breaks; returns how many met their handle, and the last. */
function go(page: Page, ways: readonly Way[]): Promise<{ met: number; last: string }> {
  return page.evaluate(async (all) => {
    let met = 0;
    const errors: unknown[] = [];
    let last = '';
    window.addEventListener('error', (e) => errors.push(e.error));
    for (const [name, key] of all) {
      const handle = [...document.querySelectorAll<HTMLElement>('main [role="slider"]')].find(
        (e) => e.ariaLabel === name,
      );
      if (!handle) continue;
      met++;
      last = `${name}, ${key}`;
      handle.focus({ preventScroll: true });
      for (const type of ['keydown', 'keyup']) {
        handle.dispatchEvent(new KeyboardEvent(type, { key, bubbles: true, cancelable: true }));
        // Whatever came back from the workers meanwhile, and the drawing, have their turn.
        await new Promise((resolve) => setTimeout(resolve, 0));
      }
      if (errors.length > 0) break;
    }
    return { met, last };
  }, ways);
}

const handles = (page: Page): Promise<string[]> =>
  page.locator('main [role="slider"]').evaluateAll((all) => all.map((e) => e.ariaLabel ?? ''));

function shuffled<T>(items: readonly T[], random: Random): T[] {
  const rest = [...items];
  return items.map(() => rest.splice(random.below(rest.length), 1)[0]!);
}

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

test('every preset opens, is drawn and may be played, and every handle of it goes to both its ends, in any order', async ({
  openSheet,
}) => {
  const { page, problems } = await openSheet();
  await ready(page);
  await atRest(page);
  const choice = page.getByRole('combobox', { name: 'open another sheet' });
  const presets = await choice.locator('option').allInnerTexts();
  expect(presets).toHaveLength(readdirSync(join(root, 'presets')).length);
  expect(presets.length).toBeGreaterThanOrEqual(16);
  const random = generator(1);
  let pressed = 0;
  // Backwards, because the first one is open already.
  for (const preset of presets.toReversed()) {
    const before = await curves(page);
    await choice.selectOption(preset);
    await changed(page, before);
    await atRest(page);
    expect(await curves(page), preset).not.toMatch(/NaN|Infinity|undefined/);
    await soon(() => page.getByRole('textbox', { name: 'title' }).inputValue()).toBe(preset);
    await ready(page);
    expect(await page.getByRole('alert').allInnerTexts(), preset).toEqual([]);

    const names = await handles(page);
    expect(names.length, preset).toBeGreaterThanOrEqual(20);
    const ways = names.flatMap((name): Way[] => [
      [name, 'Home'],
      [name, 'End'],
    ]);
    const { met, last } = await go(page, shuffled(ways, random));
    pressed += met;
    expect(problems, `${preset}: ${last}`).toEqual([]);
    await atRest(page);
    expect(problems, preset).toEqual([]);
  }
  expect(pressed).toBeGreaterThan(500);
});
