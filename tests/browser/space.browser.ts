/** The flux lines in space: turned by hand, keys and words; still where the browser draws nothing in space. */
import type { Locator, Page } from 'playwright-core';
import { expect, shot, test } from './rig/app.ts';
import { button, drag, ready, slider, soon } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

const fold = (page: Page): Locator => page.getByText('In space: the flux lines from all sides');
const place = (page: Page): Locator => page.locator('section[aria-labelledby="space-title"]');
const drawing = (page: Page): Locator => place(page).getByRole('img');

/** What the drawing says of itself, once there is one. */
const words = async (page: Page): Promise<string> =>
  (await drawing(page).count()) > 0 ? ((await drawing(page).getAttribute('aria-label')) ?? '') : '';

async function opened(page: Page): Promise<void> {
  await fold(page).click();
  await soon(() => words(page)).toMatch(/flux lines/);
  await atRest(page);
}

const looks = async (page: Page): Promise<string> =>
  (await drawing(page).screenshot({ animations: 'disabled' })).toString('base64');

/** Has the page's canvases refuse or give WebGL. */
const refuse = (page: Page, on: boolean): Promise<void> =>
  page.evaluate((refused) => {
    const canvas = HTMLCanvasElement.prototype as unknown as { getContext: unknown; given?: unknown };
    canvas.given ??= canvas.getContext;
    const given = canvas.given as (this: unknown, ...args: unknown[]) => unknown;
    canvas.getContext = refused
      ? function (this: unknown, ...args: unknown[]): unknown {
          return args[0] === 'webgl2' ? null : Reflect.apply(given, this, args);
        }
      : given;
  }, on);

test('the lines are turned by keys, by hand and by name, on both papers, and then stand still', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', { reducedMotion: 'reduce', colorScheme: 'light' });
  await ready(page);
  await refuse(page, true);
  await opened(page);
  expect(await place(page).innerText()).toMatch(/the picture is still/);
  expect((await drawing(page).locator('path.flux').getAttribute('d'))!.length).toBeGreaterThan(2000);
  await button(page, 'from above').click();
  await soon(() => words(page)).toMatch(/seen from straight above/);
  await fold(page).click();

  await refuse(page, false);
  await opened(page);
  const begun = await words(page);
  expect(Number(/(\d+) flux lines/.exec(begun)?.[1])).toBeGreaterThan(60);
  const [first, again] = [await looks(page), await looks(page)];
  expect(again).toBe(first);

  await slider(page, 'turned').focus();
  for (let k = 0; k < 8; k++) await page.keyboard.press('ArrowRight');
  await soon(() => words(page)).not.toBe(begun);
  expect(await slider(page, 'turned').getAttribute('aria-valuetext')).toMatch(/from the nut/);
  await slider(page, 'from above').focus();
  await page.keyboard.press('End');
  await soon(() => words(page)).toMatch(/from straight above/);
  expect(await looks(page)).not.toBe(first);

  await button(page, 'as the section').click();
  await soon(() => words(page)).toMatch(/from the treble side, level/);
  await drag(page, drawing(page), { x: 90, y: 60 });
  await soon(() => words(page)).toMatch(/from the treble side and the nut, \d+° above/);
  await atRest(page);
  await shot(page, 'space-day');
  const day = await looks(page);
  await page
    .getByRole('button', { name: /night|blueprint/i })
    .first()
    .click();
  await atRest(page);
  expect(await looks(page)).not.toBe(day);
  await shot(page, 'space-night');
});

test('two pickups stand beside one another, with what one has more of', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  const beside = page.locator('section[aria-labelledby="beside-title"]');
  await page.getByText('Fields beside one another', { exact: true }).click();
  await soon(() => beside.getAttribute('aria-busy')).toBe('false');
  await soon(() => beside.locator('tbody td').first().innerText()).toMatch(/^\d+\.\d mT$/);
  const both = page.getByRole('combobox', { name: /of the two fields/ });
  const left = await both.first().inputValue();
  await both.last().selectOption(left);
  await soon(() => beside.getByRole('img', { name: /stronger than/ }).getAttribute('aria-label')).toMatch(
    /hardly anywhere, height for height over the tops of the poles; string \d lies \d\.\d\d mm over both$/,
  );
  const [one, two, change] = await beside.locator('tbody tr').first().locator('td').allInnerTexts();
  expect(two).toBe(one);
  expect(change).toBe('');

  const way = page.getByRole('combobox', { name: 'how the two fields are seen', exact: true });
  await way.selectOption('plans');
  const plans = beside.getByRole('img', { name: /^plan of the/ });
  expect(await plans.count()).toBe(2);
  expect(await plans.first().getAttribute('aria-label')).toMatch(/at 10, 20, .* mT$/);
  await shot(page, 'beside-plans');
  await way.selectOption('along the string');
  expect(
    await beside.getByRole('img', { name: /^fields along string \d: .* at most \d+\.\d mT/ }).count(),
  ).toBe(1);
  await shot(page, 'beside-along');
});

test('nothing in it keeps anybody out', async ({ scan }) => {
  expect(
    await scan(async (page) => {
      await opened(page);
      await page.getByText('Fields beside one another', { exact: true }).click();
      await page.getByText('What each part does to the field', { exact: true }).click();
      await atRest(page);
    }),
  ).toEqual([]);
});
