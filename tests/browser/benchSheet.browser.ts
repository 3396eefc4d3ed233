/** The page for the workbench: one page on either paper, by keyboard, and nothing to object to. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { benchPage } from '../../src/benchSheet/benchPage.ts';
import { documentText } from '../../src/benchSheet/html.ts';
import { ROOM, type Paper } from '../../src/benchSheet/page.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { encodeLink } from '../../src/sheet/link.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { roughFigures } from '../fixtures/roughFigures.ts';
import { browser } from './rig/browser.ts';
import { expect, shot, test } from './rig/app.ts';
import { overflow, smallTargets, smallText } from './rig/eyes.ts';
import { button, ready, soon, type } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

const STYLES = readFileSync(new URL('../../src/benchSheet/page.css', import.meta.url), 'utf8');
const ADDRESS = 'https://workshop.example.org/tools/lodetone/';
/** px of a millimetre, and of nine points. */
const MM = 96 / 25.4;
const NINE_POINTS = 12;

/** Pages, as a browser prints them. */
const pagesOf = (pdf: Buffer): number => pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;

/** Letters on the page smaller than nine points, in print. */
const smallPrint = (page: Page): Promise<string[]> =>
  page.locator('.bench-page').evaluate((article, least) => {
    const small: string[] = [];
    for (const e of article.querySelectorAll('*')) {
      const own = [...e.childNodes].filter(
        (n) => n.nodeType === Node.TEXT_NODE && n.textContent!.trim() !== '',
      );
      if (own.length === 0) continue;
      const svg = e.closest('svg');
      // A drawing's letters are measured in its own millimetres.
      const by = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1;
      const size = Number.parseFloat(getComputedStyle(e).fontSize) * by;
      if (size < least - 0.02) small.push(`${e.textContent}: ${size.toFixed(2)} px`);
    }
    return small;
  }, NINE_POINTS);

test('every pickup of every preset is one page of nine points and more, on either paper', async () => {
  const page = await (await browser()).newPage();
  try {
    await page.emulateMedia({ media: 'print' });
    let tallest = { height: 0, html: { A4: '', Letter: '' } };
    for (const { name, data } of PRESETS) {
      const checked = checkSheet(data);
      if (!checked.ok) throw new Error(checked.message);
      const { sheet } = checked;
      const link = `${ADDRESS}#${await encodeLink(wrap(sheet))}`;
      for (const [pickup] of sheet.pickups.entries()) {
        const set = (paper: Paper): string =>
          documentText(
            benchPage({
              sheet,
              figures: roughFigures(sheet, pickup),
              poles: { tops: [], up: [] },
              trial: 'trial B of 3',
              date: '27 September 2026',
              link,
              paper,
            }),
            STYLES,
          );
        await page.setContent(set('Letter'));
        const { width, height } = (await page.locator('.bench-page').boundingBox())!;
        expect(width / MM, name).toBeCloseTo(190, 0);
        expect(height / MM, `${name}, pickup ${pickup + 1}`).toBeLessThan(ROOM.height);
        expect(await smallPrint(page), name).toEqual([]);
        // Nothing of it hangs out of the page's sides.
        const wide = await page.locator('.bench-page').evaluate((e) => e.scrollWidth - e.clientWidth);
        expect(wide, name).toBeLessThanOrEqual(0);
        if (height > tallest.height) tallest = { height, html: { A4: set('A4'), Letter: set('Letter') } };
      }
    }
    for (const paper of ['A4', 'Letter'] as const) {
      await page.setContent(tallest.html[paper]);
      const pdf = await page.pdf({ preferCSSPageSize: true });
      expect(pagesOf(pdf), paper).toBe(1);
      const box = /\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)/.exec(pdf.toString('latin1'));
      const [w, h] = paper === 'A4' ? [595.3, 841.9] : [612, 792];
      expect(Number(box?.[1])).toBeCloseTo(w, -0.5);
      expect(Number(box?.[2])).toBeCloseTo(h, -0.5);
      // Letters are letters in it, not pictures: it has a font for them.
      expect(pdf.toString('latin1')).toMatch(/\/Type\s*\/Font\b/);
    }
  } finally {
    await page.close();
  }
});

/** What the sheet on the screen says of the chosen pickup. */
async function onScreen(page: Page): Promise<{ coil: string[]; peak: string; field: string[] }> {
  const cell = (name: string): Promise<string> =>
    page
      .getByRole('textbox', { name: `neck coil, ${name}` })
      .evaluate((e) => (e as HTMLInputElement).value || (e as HTMLInputElement).placeholder);
  return {
    coil: [await cell('DC resistance'), await cell('inductance'), await cell('self-capacitance')],
    peak: (await page.locator('.callout text').first().textContent())!
      .replace('resonance ', '')
      .replaceAll(' · ', ', '),
    field: await page
      .locator('section[aria-labelledby="strings-title"] tbody tr td:nth-child(2)')
      .allInnerTexts(),
  };
}

test('by keyboard there and back; its figures are the screen’s; it prints alone', async ({ openSheet }) => {
  const { page } = await openSheet('', { viewport: { width: 1440, height: 900 }, fresh: true });
  await ready(page);
  await atRest(page);
  const seen = await onScreen(page);
  const opener = button(page, 'bench sheet');
  await opener.focus();
  await page.keyboard.press('Enter');
  const view = page.getByRole('main', { name: 'Bench sheet' });
  await soon(() => view.getAttribute('aria-busy')).toBe('false');
  expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('back to the sheet');
  const coils = await view
    .getByRole('table', { name: 'Coils' })
    .locator('tbody tr')
    .first()
    .locator('td')
    .allInnerTexts();
  expect(coils.slice(-3)).toEqual(seen.coil);
  expect(await view.locator('section.table p').filter({ hasText: 'In the guitar' }).innerText()).toContain(
    seen.peak,
  );
  const field = await view
    .getByRole('table', { name: 'Gaps and field' })
    .locator('tbody tr td:last-child')
    .allInnerTexts();
  expect(field).toEqual(seen.field);
  await shot(page, 'bench-1440');
  expect(await overflow(page)).toBe(0);
  expect(await smallText(page, 14)).toEqual([]);

  // What a meter reads: what follows is said on the screen and on the page, and is taken over as one step.
  const says = view.getByRole('region', { name: 'What was read' }).getByRole('status').first();
  await type(page, 'resistance that was read', '5.62k');
  await soon(() => says.innerText()).toMatch(
    /^R is 4\.1 % low, .*about \d+0 turns too few .* or wire 2\.1 % thick\.$/,
  );
  await type(page, 'peak that was read', '7.5 kHz');
  await soon(() => says.innerText()).toMatch(/The peak says C = \d+(\.\d)? pF/);
  await type(page, 'peak that was read', 'high');
  expect(await view.getByRole('alert').innerText()).toMatch(
    /^Peak must be a figure with a unit, such as 8\.2 kHz; got "high"\.$/,
  );
  await page.keyboard.press('Escape');
  expect(await view.locator('section.text p').innerText()).toMatch(/R is 4\.1 % low/);
  await button(page, 'take over as the coil’s figures').click();
  await soon(() =>
    view.getByRole('table', { name: 'Coils' }).locator('tbody tr').first().innerText(),
  ).toMatch(/5\.62 kΩ\*/);
  await page.keyboard.press('Control+z');
  await soon(() =>
    view.getByRole('table', { name: 'Coils' }).locator('tbody tr').first().innerText(),
  ).not.toMatch(/5\.62 kΩ\*/);
  // Readings are kept from one look to the next.
  await page.keyboard.press('Escape');
  await opener.click();
  expect(await view.getByRole('textbox', { name: 'resistance that was read' }).inputValue()).toBe('5.62 kΩ');

  // Of another pickup: asked for and shown.
  await view.getByRole('combobox', { name: 'pickup on the bench sheet' }).selectOption('3 bridge');
  await soon(() => view.locator('header p').innerText()).toBe('Bench sheet · bridge pickup');

  const pdf = await page.pdf({ preferCSSPageSize: true });
  expect(pagesOf(pdf)).toBe(1);
  expect(/\/MediaBox\s*\[\s*0 0 ([\d.]+)/.exec(pdf.toString('latin1'))?.[1]).toMatch(/^59[45]/);

  await page.keyboard.press('Escape');
  await soon(() => view.count()).toBe(0);
  expect(await opener.evaluate((e) => e === document.activeElement)).toBe(true);
  expect(await page.locator('#sheet').getAttribute('inert')).toBeNull();
});

for (const [width, colorScheme] of [
  [1440, 'light'],
  [390, 'dark'],
] as const)
  test(`axe finds nothing to object to at ${width} px on ${colorScheme} paper`, async ({ scan }) => {
    const found = await scan(
      async (page) => {
        await ready(page);
        await button(page, 'bench sheet').click();
        const view = page.getByRole('main', { name: 'Bench sheet' });
        await soon(() => view.getAttribute('aria-busy')).toBe('false');
        await shot(page, `bench-${width}`);
        expect(await overflow(page)).toBe(0);
        if (width < 700) expect(await smallTargets(page, 44)).toEqual([]);
        expect(await smallText(page, 14)).toEqual([]);
      },
      { viewport: { width, height: 844 }, colorScheme },
    );
    expect(found).toEqual([]);
  });
