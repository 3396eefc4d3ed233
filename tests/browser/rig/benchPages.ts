/** The page for the workbench as it is printed, of whatever sheet. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { benchPage } from '../../../src/benchSheet/benchPage.ts';
import { documentText } from '../../../src/benchSheet/html.ts';
import { ROOM, type Paper } from '../../../src/benchSheet/page.ts';
import { checkSheet } from '../../../src/sheet/check.ts';
import { encodeShortLink } from '../../../src/sheet/shortLink.ts';
import { wrap } from '../../../src/sheet/trials.ts';
import { roughFigures } from '../../fixtures/roughFigures.ts';
import { expect } from './app.ts';

export const STYLES = readFileSync(new URL('../../../src/benchSheet/page.css', import.meta.url), 'utf8');
export const ADDRESS = 'https://workshop.example.org/tools/lodetone/';
/** px of a millimetre, and of nine points. */
export const MM = 96 / 25.4;
const NINE_POINTS = 12;

/** Pages, as a browser prints them. */
export const pagesOf = (pdf: Buffer): number =>
  pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)?.length ?? 0;

/** Letters on the page smaller than nine points, in print. */
export const smallPrint = (page: Page): Promise<string[]> =>
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

/** Every pickup of every one of these sheets is one page of nine points and more, on either paper. */
export async function printOnOnePage(
  page: Page,
  presets: readonly { readonly name: string; readonly data: unknown }[],
): Promise<void> {
  await page.emulateMedia({ media: 'print' });
  let tallest = { height: 0, html: { A4: '', Letter: '' } };
  for (const { name, data } of presets) {
    const checked = checkSheet(data);
    if (!checked.ok) throw new Error(checked.message);
    const { sheet } = checked;
    const link = `${ADDRESS}#${await encodeShortLink(wrap(sheet))}`;
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
}
