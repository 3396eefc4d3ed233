/** What the eyes see of the page, measured in the page itself. */
import type { Locator, Page } from 'playwright-core';

/**
 * One line for every control that a pointer can't get at or that is too small for a finger: that lies outside the
 * page's width, that is covered, or of which less than 24 × 24 px answers (WCAG 2.2, success criterion 2.5.8).
 * The page is scrolled meanwhile and may also be scrolled by a person.
 * @param within where to look, as a selector
 */
export function unreachable(page: Page, within = 'body'): Promise<string[]> {
  return page.evaluate((place) => {
    // Less one: samples a pixel apart may just miss the first and the last.
    const LEAST = 24 - 1;
    const trouble: string[] = [];
    const controls = document
      .querySelector(place)!
      .querySelectorAll<HTMLElement>('a[href], button, input, select, textarea, summary, [tabindex="0"]');
    for (const control of controls) {
      if (!control.checkVisibility() || control.matches(':disabled')) continue;
      // A click on its label is a click on the control.
      const target = control.matches('[type="radio"], [type="checkbox"]')
        ? (control.closest('label') ?? control)
        : control;
      target.scrollIntoView({ block: 'center', behavior: 'instant' });
      const box = target.getBoundingClientRect();
      const name = control.ariaLabel ?? target.textContent.trim();
      if (box.left < 0 || box.right > document.documentElement.clientWidth)
        trouble.push(`${name}: outside the page, ${box.left.toFixed(0)} to ${box.right.toFixed(0)} px`);
      // Every pixel of what is small, so many of what is large.
      const dx = Math.max(1, Math.floor(box.width / 48));
      const dy = Math.max(1, Math.floor(box.height / 48));
      const from = (start: number, end: number, step: number): number[] =>
        Array.from({ length: Math.ceil((end - start) / step) }, (_, i) => start + i * step);
      const columns = from(box.left, box.right, dx);
      const rows = from(box.top, box.bottom, dy);
      const answers = (x: number, y: number): boolean => target.contains(document.elementFromPoint(x, y));
      const inColumn = (x: number): boolean => rows.some((y) => answers(x, y));
      const inRow = (y: number): boolean => columns.some((x) => answers(x, y));
      // From the edges inwards: the outermost that answers is soon found, and it is all that is asked.
      const left = columns.find(inColumn);
      if (left === undefined) {
        trouble.push(`${name}: covered`);
        continue;
      }
      const width = columns.findLast(inColumn)! + dx - left;
      const height = rows.findLast(inRow)! + dy - rows.find(inRow)!;
      if (width < LEAST || height < LEAST)
        trouble.push(`${name}: ${width.toFixed(0)} × ${height.toFixed(0)} px answer`);
    }
    return trouble;
  }, within);
}

/** How far the page can be scrolled sideways, px. */
export const overflow = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

/** Texts smaller than `least` px, by what they say. */
export function smallText(page: Page, least: number): Promise<string[]> {
  return page.evaluate((limit) => {
    const small: string[] = [];
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (texts.nextNode()) {
      const { parentElement, textContent } = texts.currentNode;
      if (!parentElement || !textContent?.trim() || !parentElement.checkVisibility()) continue;
      // A drawing that is measured in millimetres has letters of so many of them.
      const drawing = parentElement.closest('svg');
      const unit = drawing?.viewBox.baseVal.width ?? 0;
      const by = drawing && unit > 0 ? drawing.getBoundingClientRect().width / unit : 1;
      const size = Number.parseFloat(getComputedStyle(parentElement).fontSize) * by;
      if (size < limit) small.push(`${textContent.trim()}: ${size} px`);
    }
    return small;
  }, least);
}

/**
 * One line for every control whose own box, with its label and what of a handle answers, is smaller than so many px either
 * way. What lies over another may take some of it; how much of it answers is `unreachable`'s matter.
 */
export function smallTargets(page: Page, least: number): Promise<string[]> {
  return page.evaluate((limit) => {
    const controls = document.querySelectorAll<HTMLElement>(
      'a[href], button, input, select, textarea, summary, [tabindex="0"]',
    );
    return [...controls].flatMap((control) => {
      // A word within a sentence that has a help is as high as its line (WCAG 2.2, 2.5.5, exception «inline»).
      if (!control.checkVisibility() || control.matches(':disabled, .help button')) return [];
      const target = control.matches('[type="radio"], [type="checkbox"]')
        ? (control.closest('label') ?? control)
        : control;
      const { width, height } = target.getBoundingClientRect();
      // Half a pixel is a matter of rounding.
      return width > limit - 0.5 && height > limit - 0.5
        ? []
        : [
            `${control.ariaLabel ?? target.textContent.trim()}: ${width.toFixed(0)} × ${height.toFixed(0)} px`,
          ];
    });
  }, least);
}

/** Every height that a part of the sheet has from now on, in every frame, px; to be asked for at the end. */
export async function watched(page: Page, part: Locator): Promise<() => Promise<number[]>> {
  const heights = await part.evaluateHandle((e) => {
    const seen = new Set([e.getBoundingClientRect().height]);
    new ResizeObserver(() => seen.add(e.getBoundingClientRect().height)).observe(e);
    return seen;
  });
  return () => page.evaluate((seen) => [...seen], heights);
}
