import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { root } from '../../.ci/setup.mjs';
import { expect, shot, test } from './rig/app.ts';
import { changed, curves, ready, soon } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

test('the built app opens under the strict policy, drawn and ready to play', async ({ openSheet }) => {
  const { page } = await openSheet('', { fresh: true });
  const opened = await page.evaluate(
    () =>
      new Promise<number>((done) => {
        const look = (): void => {
          const drawn = document.querySelectorAll('main [role="slider"]').length > 0;
          const play = [...document.querySelectorAll('button')].find((b) => b.innerText.trim() === 'play');
          if (drawn && play && !play.disabled) done(performance.now());
          else requestAnimationFrame(look);
        };
        look();
      }),
  );
  console.log(`from navigation to drawn and ready to play: ${opened.toFixed(0)} ms`);
  await ready(page);
  expect(await page.getByRole('main').count()).toBe(1);
  expect(await page.getByRole('heading', { level: 1 }).first().innerText()).not.toBe('');
  expect(await page.title()).toMatch(/Lodetone/);
  await shot(page, 'open');
});

test('every preset opens, is drawn and may be played', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await atRest(page);
  const choice = page.getByRole('combobox', { name: 'open another sheet' });
  const names = await choice.locator('option').allInnerTexts();
  expect(names).toHaveLength(readdirSync(join(root, 'presets')).length);
  expect(names.length).toBeGreaterThanOrEqual(8);
  let before = await curves(page);
  // Backwards, because the first one is open already.
  for (const name of names.toReversed()) {
    await choice.selectOption(name);
    await changed(page, before);
    await atRest(page);
    before = await curves(page);
    expect(before, name).not.toMatch(/NaN|Infinity|undefined/);
    await soon(() => page.getByRole('textbox', { name: 'title' }).inputValue()).toBe(name);
    await ready(page);
    expect(await page.getByRole('alert').allInnerTexts(), name).toEqual([]);
  }
});
