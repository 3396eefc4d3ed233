import { expect, shot, test } from './rig/app.ts';

test('the built app opens under the strict policy and shows a sheet', async ({ openSheet }) => {
  const { page } = await openSheet();
  await page.locator('main').waitFor();
  expect(await page.getByRole('main').count()).toBe(1);
  expect(await page.getByRole('heading', { level: 1 }).first().innerText()).not.toBe('');
  expect(await page.title()).toMatch(/Lodetone/);
  await shot(page, 'open');
});

test('axe finds nothing to object to in the sheet as it opens', async ({ scan }) => {
  expect(await scan()).toEqual([]);
});
