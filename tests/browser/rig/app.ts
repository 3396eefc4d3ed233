/**
 * What a browser test imports: `test` with `openSheet` and `scan`, `breaches` and `shot`. Every page that a test opens is watched
 * (watch.ts), and the test fails at its end when there was a problem that it did not take out of `problems` itself.
 */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { expect, inject, test as plain } from 'vitest';
import { serve } from '../../../.ci/serve.mjs';
import { root } from '../../../.ci/setup.mjs';
import { browser } from './browser.ts';
import { Pages, type Opened, type Visit } from './pages.ts';

export { expect } from 'vitest';
export type { Opened, Visit } from './pages.ts';

/**
 * Opens the app as a new visitor has it.
 * @param fragment what stands behind the address, with or without its `#`
 */
export type OpenSheet = (fragment?: string, visit?: Visit) => Promise<Opened>;

interface Rig {
  openSheet: OpenSheet;
  /**
   * Looks for breaches of accessibility with axe.
   * @param prepare brings the page to the state that is to be scanned
   * @param within only there: `breaches`
   * @returns one line each; empty when there is none
   */
  scan: (
    prepare?: (page: Page) => Promise<void>,
    options?: Visit,
    ...within: readonly string[]
  ) => Promise<string[]>;
}

/** What all files share that run in this process; it ends with the process. */
let pages: Promise<Pages> | undefined;

async function begin(): Promise<Pages> {
  const server = await serve(inject('dist'), 0, (breach) => {
    // A page's own breaches are heard in watch.ts; those inside a worker reach nobody but the server.
    const where = breach['document-uri'] ?? '';
    const what = `policy: ${String(breach['effective-directive'])} refused ${String(breach['blocked-uri'])}`;
    if (where.endsWith('.js')) made.open.at(-1)?.problems.push(`${what} in ${where}`);
  });
  const made = new Pages(await browser(), server.address);
  return made;
}

export const test = plain.extend<Rig>({
  // Vitest hands the fixtures that this one needs in the first argument, and insists on the braces: it needs none.
  // eslint-disable-next-line no-empty-pattern
  openSheet: async ({}, use) => {
    const all = await (pages ??= begin());
    await use((fragment = '', visit = {}) => all.visit(fragment, visit));
    const problems = all.open.flatMap((opened) => opened.problems);
    await all.end();
    expect(problems).toEqual([]);
  },

  scan: async ({ openSheet }, use) => {
    await use(async (prepare, options, ...within) => {
      const { page, leave } = await openSheet('', options);
      await page.locator('main').waitFor();
      await prepare?.(page);
      const found = await breaches(page, ...within);
      await leave();
      return found;
    });
  },
});

/**
 * Breaches of accessibility in the page as it stands, one line each; by axe. The driver hands axe over, so that the page's
 * policy has nothing against it.
 * @param within only there, as selectors: where the rest of the page is scanned in the same state elsewhere (paper.browser.ts has
 *   all of it, on both papers, wide and narrow), for a look at everything takes a second of processor time
 */
export async function breaches(page: Page, ...within: readonly string[]): Promise<string[]> {
  // Without frames there is nothing to gather from elsewhere, for which axe would open another page.
  expect(page.frames()).toHaveLength(1);
  // A page that has been looked at has axe already; to read its half a megabyte anew takes a quarter of the time.
  const there = await page.evaluate(() => 'axe' in window);
  const axe = new AxeBuilder({ page, ...(there ? { axeSource: 'axe.version' } : {}) });
  for (const place of within) {
    // Axe passes over what isn't there.
    expect(await page.locator(place).count(), place).toBeGreaterThan(0);
    axe.include(place);
  }
  const { violations } = await axe
    .setLegacyMode(true)
    // What is in order need not be named: to name it takes longer than to look.
    .options({ resultTypes: ['violations'] })
    .analyze();
  return violations.map(
    ({ id, help, nodes }) => `${id}: ${help}: ${nodes.map(({ target }) => target.join(' ')).join(', ')}`,
  );
}

/** Keeps a picture of the page in .cache/shots/ for whoever wants to look: LODETONE_SHOTS=1. No test looks at it. */
export async function shot(page: Page, name: string): Promise<void> {
  if (!process.env['LODETONE_SHOTS']) return;
  const folder = join(root, '.cache/shots');
  mkdirSync(folder, { recursive: true });
  await page.screenshot({ path: join(folder, `${name}.png`) });
}
