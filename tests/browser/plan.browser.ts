/** The pickup from above: its field at the strings, the gauss probe, pitch and slant; and the filings behind the section. */
import type { Locator, Page } from 'playwright-core';
import { expect, test } from './rig/app.ts';
import { button, drag, figure, ready, slider, soon, type } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

const ALONG = 'gauss probe, along the strings towards the nut';
const ACROSS = 'gauss probe, across the strings towards the treble side';
const HEIGHT = 'height of the probe above the plane of the pole tops';
const PITCH = 'pole pitch of the neck pickup on the plan';
const SLANT = 'slant of the neck pickup on the plan';

const plan = (page: Page): Locator => page.locator('section[aria-labelledby="plan-title"]');

/** The column of millitesla: at the strings, and at the chosen height. */
async function reading(page: Page): Promise<readonly number[]> {
  const cells = await plan(page).locator('tbody td:nth-child(2)').allInnerTexts();
  return cells.map(Number);
}

/** What the map says of itself. */
const words = async (page: Page): Promise<string> =>
  (await plan(page).getByRole('group').first().getAttribute('aria-label')) ?? '';

const read = async (page: Page): Promise<void> => {
  await ready(page);
  await soon(() => plan(page).locator('tbody tr').count()).toBe(2);
  await soon(() => words(page)).toMatch(/millitesla/);
  await atRest(page);
};

test('the probe reads more on a pole than at its string, in millitesla and in gauss', async ({
  openSheet,
}) => {
  const { page } = await openSheet();
  await read(page);
  const [string = 0, pole = 0] = await reading(page);
  expect(pole).toBeGreaterThan(string);
  // Common practice: 0.5–1 mm above an alnico 5 rod.
  expect(pole).toBeGreaterThan(90);
  expect(pole).toBeLessThan(150);
  const gauss = await plan(page).locator('tbody td:nth-child(3)').allInnerTexts();
  expect(Number(gauss[0]) / string).toBeCloseTo(10, 0);
  await type(page, HEIGHT, '3 mm');
  await soon(async () => (await reading(page))[1] ?? Infinity).toBeLessThan(0.8 * pole);
});

test('the probe is moved with keys, typed figures, a tap and a drag, and goes back on Escape', async ({
  openSheet,
}) => {
  const { page } = await openSheet();
  await read(page);
  const start = await figure(page, ACROSS);
  const [over = 0] = await reading(page);
  expect(await figure(page, ALONG)).toBe('0.0 mm');
  const along = slider(page, 'gauss probe, along the strings');
  await along.focus();
  // The nut is on the left.
  await page.keyboard.press('ArrowLeft');
  await soon(() => figure(page, ALONG)).toBe('0.5 mm');
  await page.keyboard.press('ArrowDown');
  await soon(() => figure(page, ACROSS)).not.toBe(start);
  await soon(() => along.getAttribute('aria-valuetext')).toMatch(/0\.5 millimetres .* gauss/);
  await page.keyboard.press('Escape');
  await soon(() => figure(page, ALONG)).toBe('0.0 mm');
  await soon(async () => (await reading(page))[0]).toBe(over);
  await type(page, ALONG, '9');
  await soon(async () => (await reading(page))[0] ?? Infinity).toBeLessThan(0.7 * over);
  await button(page, 'back over the pole').click();
  await soon(async () => (await reading(page))[0]).toBe(over);
  await plan(page)
    .locator('.ground')
    .click({ position: { x: 60, y: 150 } });
  await soon(() => figure(page, ALONG)).not.toBe('0.0 mm');
  await atRest(page);
  const tapped = await figure(page, ACROSS);
  await drag(page, plan(page).locator('.hold'), { x: 10, y: -30 });
  await soon(() => figure(page, ACROSS)).not.toBe(tapped);
});

test('pitch and slant are dragged, and the field follows', async ({ openSheet }) => {
  const { page } = await openSheet();
  await read(page);
  const before = { words: await words(page), pitch: await figure(page, PITCH) };
  await drag(page, slider(page, PITCH), { x: 0, y: -10 });
  await soon(() => figure(page, PITCH)).not.toBe(before.pitch);
  await soon(() => words(page)).not.toBe(before.words);
  await atRest(page);
  await drag(page, slider(page, SLANT), { x: 30, y: 0 });
  await soon(async () => Number.parseFloat(await figure(page, SLANT))).toBeGreaterThan(5);
  await button(page, 'undo').first().click();
  await soon(() => figure(page, SLANT)).toBe('0.0°');
  await button(page, 'undo').first().click();
  await soon(() => figure(page, PITCH)).toBe(before.pitch);
});

/** Share of the filings' canvas that carries ink, and the mean of its red channel where it does. */
const ink = (page: Page): Promise<{ share: number; red: number }> =>
  page
    .locator('section[aria-labelledby="section-title"] canvas')
    .first()
    .evaluate((node) => {
      const canvas = node as HTMLCanvasElement;
      const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height);
      let [count, red] = [0, 0];
      for (let k = 0; k < data.length; k += 4) {
        if (data[k + 3]! < 64) continue;
        count++;
        red += data[k]!;
      }
      return { share: count / (data.length / 4), red: count > 0 ? red / count : NaN };
    });

test('filings are drawn in ink on both papers, and turn over with the paper', async ({ openSheet }) => {
  const { page } = await openSheet('', { colorScheme: 'light' });
  await read(page);
  await soon(async () => (await ink(page)).share).toBeGreaterThan(0.05);
  const day = await ink(page);
  expect(day.share).toBeLessThan(0.6);
  expect(day.red).toBeLessThan(80);
  await button(page, 'night paper').click();
  await soon(async () => (await ink(page)).red).toBeGreaterThan(200);
  // The same strokes, whatever they are drawn with.
  expect(Math.abs((await ink(page)).share - day.share)).toBeLessThan(0.02);
});

test('what a pitch once needed is given back in a window of another width', async ({ openSheet }) => {
  const { page } = await openSheet();
  await read(page);
  const height = (): Promise<number> =>
    plan(page)
      .locator('.drawing')
      .evaluate((e) => e.clientHeight);
  const first = await height();
  await type(page, PITCH, '13 mm');
  await atRest(page);
  const most = await height();
  expect(most).toBeGreaterThan(first + 20);
  await button(page, 'undo').click();
  await atRest(page);
  expect(await height()).toBe(most);
  const { width, height: high } = page.viewportSize()!;
  for (const w of [width - 40, width]) {
    await page.setViewportSize({ width: w, height: high });
    await atRest(page);
  }
  expect(await height()).toBe(first);
});
