/**
 * What a browser test imports: `test` with `openSheet` and `scan`, and `shot`. Every page that a test opens is watched
 * (watch.ts), and the test fails at its end when there was a problem that it did not take out of `problems` itself.
 */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import { chromium, type Browser, type BrowserContextOptions, type Page } from 'playwright-core';
import { afterAll, expect, inject, test as plain } from 'vitest';
import { serve } from '../../../.ci/serve.mjs';
import { root } from '../../../.ci/setup.mjs';
import { PATIENCE } from './hands.ts';
import { countJobs } from './rest.ts';
import { slowPage, slowWorkers } from './slow.ts';
import { watch } from './watch.ts';

export { expect } from 'vitest';

export interface Opened {
  readonly page: Page;
  /** The served app, ending with a slash. */
  readonly address: string;
  /** What went wrong so far; a test that provokes a problem takes it out (`problems.splice(0)`). */
  readonly problems: string[];
}

/** How a visitor comes. */
export interface Visit extends BrowserContextOptions {
  /** Run in every page before anything of the app; must use nothing from outside itself. */
  readonly first?: () => void;
}

/**
 * Opens the app in a fresh context, as a new visitor has it.
 * @param fragment what stands behind the address, with or without its `#`
 */
export type OpenSheet = (fragment?: string, visit?: Visit) => Promise<Opened>;

interface Rig {
  openSheet: OpenSheet;
  /**
   * Looks for breaches of accessibility with axe.
   * @param prepare brings the page to the state that is to be scanned
   * @returns one line each; empty when there is none
   */
  scan: (prepare?: (page: Page) => Promise<void>, options?: BrowserContextOptions) => Promise<string[]>;
}

interface Ready {
  readonly browser: Browser;
  readonly address: string;
  /** What the test that runs has opened. */
  readonly open: Opened[];
  readonly end: () => Promise<void>;
}

/** What all tests of a file share. */
let ready: Promise<Ready> | undefined;

async function begin(): Promise<Ready> {
  const open: Opened[] = [];
  const server = await serve(inject('dist'), 0, (breach) => {
    // A page's own breaches are heard in watch.ts; those inside a worker reach nobody but the server.
    const where = breach['document-uri'] ?? '';
    const what = `policy: ${String(breach['effective-directive'])} refused ${String(breach['blocked-uri'])}`;
    if (where.endsWith('.js')) open.at(-1)?.problems.push(`${what} in ${where}`);
  });
  const browser = await chromium.connect(inject('browserEndpoint'));
  const end = async (): Promise<void> => {
    await browser.close(); // ends this file's connection, not the browser
    await server.close();
  };
  return { browser, address: server.address, open, end };
}

afterAll(async () => {
  await (await ready)?.end();
});

export const test = plain.extend<Rig>({
  // Vitest hands the fixtures that this one needs in the first argument, and insists on the braces: it needs none.
  // eslint-disable-next-line no-empty-pattern
  openSheet: async ({}, use) => {
    const { browser, address, open } = await (ready ??= begin());
    await use(async (fragment = '', { first, ...options } = {}) => {
      const context = await browser.newContext({ viewport: { width: 1440, height: 900 }, ...options });
      context.setDefaultTimeout(PATIENCE);
      const problems = await watch(context, address);
      await slowWorkers(context);
      await countJobs(context);
      if (first) await context.addInitScript(first);
      const page = await context.newPage();
      await slowPage(page);
      open.push({ page, address, problems });
      await page.goto(address + (fragment === '' ? '' : `#${fragment.replace(/^#/, '')}`));
      return { page, address, problems };
    });
    for (const { page } of open) await page.context().close();
    expect(open.splice(0).flatMap(({ problems }) => problems)).toEqual([]);
  },

  scan: async ({ openSheet }, use) => {
    await use(async (prepare, options) => {
      // axe puts itself into the page as inline script, which the policy rightly refuses; the other tests keep it.
      const { page } = await openSheet('', { ...options, bypassCSP: true });
      await page.locator('main').waitFor();
      await prepare?.(page);
      const { violations } = await new AxeBuilder({ page }).analyze();
      return violations.map(
        ({ id, help, nodes }) => `${id}: ${help}: ${nodes.map(({ target }) => target.join(' ')).join(', ')}`,
      );
    });
  },
});

/** Keeps a picture of the page in .cache/shots/. */
export async function shot(page: Page, name: string): Promise<void> {
  const folder = join(root, '.cache/shots');
  mkdirSync(folder, { recursive: true });
  await page.screenshot({ path: join(folder, `${name}.png`) });
}
