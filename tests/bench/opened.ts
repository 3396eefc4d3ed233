/**
 * From the address to a page that is drawn and ready to play, by the built app in Chromium, in a window that is open already:
 * run with `npm run bench -- opened`. Prints medians; asserts nothing.
 */
import { join } from 'node:path';
import { chromium, type Browser } from 'playwright-core';
import { serve } from '../../.ci/serve.mjs';
import { root } from '../../.ci/setup.mjs';
import { launchOptions } from '../browser/rig/launch.ts';

const VISITS = 9;
/** ms that a new window is given to come to rest. */
const SETTLE = 2000;

/** ms since the page was asked for: its controls, its filings, its curve. */
interface Times {
  ready: number;
  filings: number;
  curve: number;
}

/** Looks every 4 ms, in the page. No function in it may have a name: the one that compiles this file would mark it. */
function watch(): void {
  const times: Partial<Times> = {};
  Object.assign(window, { times });
  setInterval(() => {
    const now = performance.now();
    if (document.querySelector('button.play')) times.ready ??= now;
    if (document.querySelector('path.main')) times.curve ??= now;
    const canvas = document.querySelector('canvas');
    if (!canvas?.width || times.filings !== undefined) return;
    // Its ink: a canvas that nothing is drawn on yet is clear.
    const ink = canvas.getContext('2d')?.getImageData(0, canvas.height / 2, canvas.width, 4).data;
    if (ink?.some((value) => value > 0)) times.filings = now;
  }, 4);
}

async function visit(browser: Browser, address: string): Promise<Times> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  await context.addInitScript(watch);
  const page = await context.newPage();
  await page.waitForTimeout(SETTLE);
  await page.goto(address);
  await page.waitForFunction(() => {
    const { times } = window as unknown as { times: Partial<Times> };
    return times.ready !== undefined && times.filings !== undefined && times.curve !== undefined;
  });
  const times = await page.evaluate(() => (window as unknown as { times: Times }).times);
  await context.close();
  return times;
}

const server = await serve(process.env['LODETONE_DIST'] ?? join(root, 'dist'), 0, () => undefined);
const browser = await chromium.launch(launchOptions());
const visits: Times[] = [];
for (let k = 0; k < VISITS; k++) visits.push(await visit(browser, server.address));
const middle = (of: keyof Times): string => {
  const sorted = visits.map((times) => times[of]).sort((a, b) => a - b);
  return sorted[Math.floor(VISITS / 2)]!.toFixed(0);
};
console.log(
  `ready to play ${middle('ready')} ms, filings ${middle('filings')} ms, curve ${middle('curve')} ms`,
);
await browser.close();
await server.close();
