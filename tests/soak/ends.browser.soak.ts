/** Of every sheet that comes with the program every handle goes to both its ends, in any order, and nothing breaks. */
import type { Page } from 'playwright-core';
import { expect, test } from '../browser/rig/app.ts';
import { changed, curves, ready } from '../browser/rig/hands.ts';
import { presetsOpen, presetTitles } from '../browser/rig/presets.ts';
import { atRest } from '../browser/rig/rest.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { soakPlan } from './tools/plan.ts';
import { generator, type Random } from './tools/random.ts';

const { count, seed } = soakPlan('ends', 1, PRESETS.length);

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

test('every handle goes to both its ends, in any order', async ({ openSheet }) => {
  const { page, problems } = await openSheet();
  await ready(page);
  await atRest(page);
  const choice = page.getByRole('combobox', { name: 'open another sheet' });
  const presets = await presetTitles(page);
  const random = generator(seed);
  let pressed = 0;
  // Not the first as the first: it is open already.
  for (const preset of [...shuffled(presets.slice(1), random), presets[0]!].slice(0, count)) {
    const before = await curves(page);
    await choice.selectOption(preset);
    await changed(page, before);
    await atRest(page);
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
  expect(pressed).toBeGreaterThan(30 * Math.min(count, presets.length));
});

// npm test opens one of every kind of build (ends.browser.ts).
test.runIf(count > 1)('every preset opens, is drawn and may be played', async ({ openSheet }) => {
  const opened = await openSheet();
  await ready(opened.page);
  // Backwards, because the first one is open already.
  await presetsOpen(opened, (await presetTitles(opened.page)).toReversed());
});
