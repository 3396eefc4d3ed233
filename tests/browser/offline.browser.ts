/** Without a network: everything works after the first visit, and a newer build takes nothing away. */
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, inject } from 'vitest';
import { serve } from '../../.ci/serve.mjs';
import { expect, test } from './rig/app.ts';
import { browser } from './rig/browser.ts';
import { capture, peak, putOn } from './rig/ears.ts';
import {
  button,
  CABLE,
  CLIPBOARD,
  copyLink,
  figure,
  ready,
  setCable,
  setFocus,
  soon,
  type,
} from './rig/hands.ts';
import { computeNothing } from './rig/pages.ts';
import { watch } from './rig/watch.ts';

const folder = mkdtempSync(join(tmpdir(), 'lodetone-'));
afterAll(() => rmSync(folder, { recursive: true }));

const line = (page: Page): Promise<string> =>
  page.getByRole('region', { name: 'Notes' }).getByRole('status').innerText();
const caches_ = (page: Page): Promise<string[]> => page.evaluate(() => caches.keys());

/** Of what opens in a window that is closed again, before it has computed anything. */
async function titleOf(context: BrowserContext, address: string): Promise<string> {
  const page = await context.newPage();
  await page.goto(address, { waitUntil: 'commit' });
  const title = await page.locator('title').innerText();
  await page.close();
  return title;
}

/** What service workers there are, watched from a window that none of them has to do with. */
async function workersOf(context: BrowserContext) {
  const page = await context.newPage();
  const session = await context.newCDPSession(page);
  const states = new Map<string, string>();
  session.on('ServiceWorker.workerVersionUpdated', ({ versions }) => {
    for (const { versionId, status } of versions) states.set(versionId, status);
  });
  await session.send('ServiceWorker.enable');
  const left = (): string[] => [...states.values()].filter((status) => status !== 'redundant').sort();
  await soon(left).toEqual(['activated', 'installed']);
  return { left, close: () => page.close() };
}

/** As if another build had been put on the server. */
function putNewer(): void {
  const change = (name: string, from: RegExp, to: string): void => {
    const path = join(folder, name);
    const text = readFileSync(path, 'utf8');
    if (!from.test(text)) throw new Error(`${name} must have ${from.source}.`);
    writeFileSync(path, text.replace(from, to));
  };
  change('index.html', /<title>Lodetone<\/title>/, '<title>Lodetone, newer</title>');
  change('serviceWorker.js', /"version":"\w+"/, '"version":"newer"');
}

test('after one visit it opens, is dragged, heard, kept and sent without a network, and a newer build takes nothing away', async () => {
  cpSync(inject('dist'), folder, { recursive: true });
  const server = await serve(folder, 0);
  const context = await (
    await browser()
  ).newContext({ viewport: { width: 1440, height: 900 }, ...CLIPBOARD });
  const problems = await watch(context, server.address);
  await context.addInitScript(putOn);
  const page = await context.newPage();
  await page.goto(server.address);
  await ready(page);
  await soon(() => line(page)).toMatch(/All of it is on this computer now/);
  expect(await caches_(page)).toHaveLength(1);

  await context.setOffline(true);
  await page.reload();
  await ready(page);
  // By hand, with the reader of figures, which is loaded late.
  await setFocus(page, 14.5);
  await type(page, CABLE, '4 m + 50 cm');
  await soon(() => figure(page, CABLE)).toBe('4.5 m');
  await button(page, 'play').first().click();
  await soon(async () => peak((await capture(page, 0.3)).samples)).toBeGreaterThan(0.005);
  await button(page, 'stop').first().click();
  const link = await copyLink(page);
  // What it comes to was just computed without a network.
  const other = await context.newPage();
  await other.addInitScript(computeNothing);
  await other.goto(link);
  await ready(other);
  await soon(() => figure(other, CABLE)).toBe('4.5 m');
  await other.close();
  await page.reload();
  await soon(() => figure(page, CABLE)).toBe('4.5 m');

  await context.setOffline(false);
  putNewer();
  const before = await caches_(page);
  await page.reload();
  await ready(page);
  // The one that is open stays what it was.
  expect(await page.title()).toBe('Lodetone');
  await soon(() => line(page)).toMatch(/newer Lodetone is here/);
  await setCable(page, 6);
  expect(await caches_(page)).toEqual(expect.arrayContaining(before));

  // Once every window has been closed the newer one opens, with what was being worked on, and without a network as well.
  const kept = await copyLink(page);
  const workers = await workersOf(context);
  await page.close();
  // No window is opened to see it: each would keep the older one at work for as long as what it fetches.
  await soon(workers.left).toEqual(['activated']);
  await workers.close();
  expect(await titleOf(context, server.address)).toBe('Lodetone, newer');
  await context.setOffline(true);
  const newest = await context.newPage();
  await newest.addInitScript(computeNothing);
  await newest.goto(kept);
  await ready(newest);
  expect(await newest.title()).toBe('Lodetone, newer');
  await soon(() => figure(newest, CABLE)).toBe('6.0 m');
  await soon(async () => (await caches_(newest)).map((name) => name.split(' ').at(-1))).toEqual(['newer']);
  expect(problems).toEqual([]);
  await context.close();
  await server.close();
});
