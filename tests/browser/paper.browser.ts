/** Two papers, forced colours and print. */
import type { Locator, Page } from 'playwright-core';
import { breaches, expect, shot, test } from './rig/app.ts';
import { button, layOn, ready, soon, unfoldAll } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

const NARROW = { width: 390, height: 844 };

const paper = (page: Page): Promise<string> =>
  page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);

test('the paper turns from day to night and stays so', async ({ openSheet }) => {
  const { page } = await openSheet('', { colorScheme: 'light', still: true });
  await ready(page);
  const day = await paper(page);
  expect(luminance(day)).toBeGreaterThan(0.5);
  await button(page, 'night paper').click();
  await soon(async () => luminance(await paper(page))).toBeLessThan(0.1);
  const night = await paper(page);
  await shot(page, '1440-night');
  await page.reload();
  await ready(page);
  await soon(() => paper(page)).toBe(night);
  await button(page, 'day paper').click();
  await soon(() => paper(page)).toBe(day);

  // Whoever has a dark desktop gets the night paper first.
  const { page: other } = await openSheet('', { colorScheme: 'dark', still: true });
  await ready(other);
  await soon(() => paper(other)).toBe(night);
});

test('axe finds nothing to object to as it opens, on night paper and at 390 px', async ({ openSheet }) => {
  const { page } = await openSheet('', { colorScheme: 'dark' });
  await ready(page);
  expect(await breaches(page), 'night').toEqual([]);
  await page.setViewportSize(NARROW);
  await layOn(page, 'day');
  await atRest(page);
  expect(await breaches(page), 'day, 390 px').toEqual([]);
});

test('axe finds nothing to object to with all of it opened out, on day paper, and on night paper at 390 px', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', { colorScheme: 'light' });
  await openOut(page);
  await typeWrong(page);
  expect(await breaches(page), 'day').toEqual([]);
  await page.keyboard.press('Escape');
  await page.setViewportSize(NARROW);
  await layOn(page, 'night');
  await atRest(page);
  await typeWrong(page);
  expect(await breaches(page), 'night, 390 px').toEqual([]);
});

/** With everything open that may be: notes, two-coil rows, treble bleed. */
async function openOut(page: Page): Promise<void> {
  await ready(page);
  await page.getByRole('combobox', { name: 'neck pickup, coils' }).selectOption('two coils');
  await page.getByRole('combobox', { name: 'treble bleed' }).selectOption('fitted');
  // What is computed moves what stands below it.
  await atRest(page);
  await unfoldAll(page);
  await atRest(page);
}

/** A sentence about a wrong figure. */
async function typeWrong(page: Page): Promise<void> {
  const wrong = page.getByRole('textbox', { name: 'cable length' });
  await wrong.fill('long');
  await wrong.press('Enter');
  await page.getByRole('alert').waitFor();
  await atRest(page);
}

for (const colorScheme of ['light', 'dark'] as const)
  test(`forced colours over a ${colorScheme} desktop lose nothing on either paper`, async ({ openSheet }) => {
    const { page } = await openSheet('', { forcedColors: 'active', colorScheme });
    await ready(page);
    await atRest(page);
    for (const turned of [false, true]) {
      if (turned) await page.getByRole('button', { name: / paper$/ }).click();
      // WCAG 2.2 asks for 3 : 1 for what is drawn and 4.5 : 1 for what is written (1.4.11, 1.4.3). Hair lines, such as
      // the log paper's, and the wash under the bell only accompany.
      const drawn = 'circle.ring, polygon.block, .drawing path:not(.area), .drawing line:not(.hair-line)';
      expect(await faint(page.locator(drawn), 3)).toEqual([]);
      expect(await faint(page.locator('.drawing svg text'), 4.5)).toEqual([]);
      await shot(page, `forced-colours-${colorScheme}${turned ? '-turned' : ''}`);
    }
  });

/** What of it has too little contrast with the page both in its line and in its filling, with its colours. */
async function faint(all: Locator, least: number): Promise<string[]> {
  const colours = await all.evaluateAll((elements) =>
    elements.map((e) => ({
      what: e.textContent.trim() || e.getAttribute('class') || e.tagName,
      line: getComputedStyle(e).stroke,
      filling: getComputedStyle(e).fill,
    })),
  );
  expect(colours.length).toBeGreaterThan(3);
  const ground = await paper(all.page());
  const seen = (colour: string): boolean =>
    colour !== 'none' && !/^rgba.*, 0\)$/.test(colour) && contrast(colour, ground) >= least;
  return colours
    .filter(({ line, filling }) => !seen(line) && !seen(filling))
    .map(({ what, line, filling }) => `${what} in ${line} and ${filling} on ${ground}`);
}

test('print leaves the handles and the buttons out and keeps the drawing', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await atRest(page);
  await button(page, 'night paper').click();
  const rings = page.locator('[role="slider"] circle.ring');
  const blocks = page.getByRole('slider', { name: /along the string$/ });
  expect(await rings.first().isVisible()).toBe(true);
  await page.emulateMedia({ media: 'print' });
  await soon(() => paper(page)).toBe('rgb(255, 255, 255)');
  for (const ring of await rings.all()) expect(await ring.isVisible()).toBe(false);
  // A word that has a help is a word on paper too.
  for (const each of await page.getByRole('button').and(page.locator(':not(.help button)')).all())
    expect(await each.isVisible(), await each.innerText()).toBe(false);
  expect(await blocks.count()).toBe(3);
  for (const block of await blocks.all()) expect(await block.isVisible()).toBe(true);
  for (const name of ['Placement', /^Section/, 'Curve', 'Parts'])
    expect(await page.getByRole('heading', { name }).isVisible()).toBe(true);
  await shot(page, 'print');
});

test('the sheet prints on one page from the browser’s own menu, whatever the screen, and the screen is as before', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', { colorScheme: 'dark', fresh: true });
  await ready(page);
  const section = page.locator('section[aria-labelledby="section-title"] .drawing > svg');
  const drawn = (): Promise<string | null> => section.getAttribute('width');
  // What a browser's menu does: nothing of ours is called but what listens for `beforeprint`.
  await page.evaluate(() => {
    window.addEventListener('beforeprint', () => {
      const { dataset } = document.documentElement;
      dataset.seen =
        document
          .querySelector('section[aria-labelledby="section-title"] .drawing > svg')
          ?.getAttribute('width') ?? '';
    });
  });
  for (const width of [1440, 900, 390]) {
    await page.setViewportSize({ width, height: 900 });
    await page.evaluate(() => delete document.documentElement.dataset.seen);
    await atRest(page);
    const before = await drawn();
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString('latin1');
    expect(pdf.match(/\/Type\s*\/Page\b/g), String(width)).toHaveLength(1);
    // A4 across, in points.
    const box = /\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)/.exec(pdf);
    expect(Number(box?.[1]), String(width)).toBeCloseTo((297 / 25.4) * 72, -0.5);
    expect(Number(box?.[2]), String(width)).toBeCloseTo((210 / 25.4) * 72, -0.5);
    // The drawings had been drawn for paper when the browser took them, and are again as they were.
    expect(await page.evaluate(() => document.documentElement.dataset.seen), String(width)).toBe('660');
    await soon(drawn, String(width)).toBe(before);
    expect(await page.evaluate(() => 'printing' in document.documentElement.dataset)).toBe(false);
    expect(luminance(await paper(page))).toBeLessThan(0.1);
  }
});

test('the print button prints', async ({ openSheet }) => {
  const { page } = await openSheet('', { still: true });
  await ready(page);
  await page.evaluate(() => {
    const own = Object.getOwnPropertyDescriptor(window, 'print')!;
    window.print = () => {
      Object.defineProperty(window, 'print', own);
      document.title = 'printed';
    };
  });
  const title = await page.title();
  await button(page, 'print').click();
  await soon(() => page.title()).toBe('printed');
  await page.evaluate((before) => (document.title = before), title);
});

/** Relative luminance, WCAG 2.2. */
function luminance(colour: string): number {
  const channels =
    colour
      .match(/[\d.]+/g)
      ?.slice(0, 3)
      .map(Number) ?? [];
  if (channels.length !== 3) throw new Error(`A colour must have three channels; got ${colour}.`);
  const [r = 0, g = 0, b = 0] = channels.map((c) => {
    const s = c / 255;
    return s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/** Contrast ratio, WCAG 2.2. */
function contrast(a: string, b: string): number {
  const [dark, light] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return ((light ?? 0) + 0.05) / ((dark ?? 0) + 0.05);
}
