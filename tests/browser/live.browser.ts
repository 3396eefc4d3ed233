/**
 * The real worklet in a real browser, by itself on a page of its own that is built and served as the app is: strict policy,
 * compiled worklet. What leaves it is compared with the same engine in this process and with the rendered phrase.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { serve } from '../../.ci/serve.mjs';
import { root } from '../../.ci/setup.mjs';
import { highPass } from '../../src/physics/sound/level.ts';
import { LIVE_DELAY, LiveEngine } from '../../src/physics/sound/live/engine.ts';
import { liveSetup } from '../../src/physics/sound/live/setup.ts';
import { LIVE_BLOCK } from '../../src/physics/sound/live/types.ts';
import { renderVolts } from '../../src/physics/sound/render.ts';
import { sheetWith } from '../physics/sound/live/sheets.ts';
import type { Live } from './live/page.ts';
import { browser } from './rig/browser.ts';
import { PATIENCE, soon } from './rig/hands.ts';
import { watch } from './rig/watch.ts';

const AGREEMENT_DB = -80;
/** s of a drag; LODETONE_DRAG=60 for the long measurement. How late and how costly depends on the machine: printed only. */
const DRAG = Number(process.env.LODETONE_DRAG ?? 10);

type Window_ = { live: Live };

let address: string;
let folder: string;
let close: () => Promise<void>;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'lodetone-live-'));
  await build({
    configFile: false,
    root: join(root, 'tests/browser/live'),
    base: './',
    publicDir: join(root, 'tests/browser/live/public'),
    logLevel: 'error',
    worker: { format: 'es' },
    build: {
      outDir: folder,
      emptyOutDir: true,
      target: 'es2022',
      assetsInlineLimit: 0,
      modulePreload: false,
    },
  });
  const server = await serve(folder, 0);
  address = server.address;
  close = () => server.close();
});

afterAll(async () => {
  await close();
  rmSync(folder, { recursive: true });
});

async function opened(run: (page: Page, problems: string[]) => Promise<void>): Promise<void> {
  const context = await (await browser()).newContext();
  context.setDefaultTimeout(PATIENCE);
  const problems = await watch(context, address);
  const page = await context.newPage();
  await page.goto(address);
  await run(page, problems);
  await context.close();
  expect(problems).toEqual([]);
}

const status = (page: Page) => page.evaluate(() => (window as unknown as Window_).live.state().status);

async function begin(page: Page): Promise<void> {
  await page.getByRole('button').click();
  await soon(() => status(page)).toBe('playing');
}

/** Power of the difference over that of b, dB. */
function differenceDb(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let off = 0;
  let power = 0;
  for (let i = 0; i < b.length; i++) {
    off += (a[i]! - b[i]!) ** 2;
    power += b[i]! ** 2;
  }
  return 10 * Math.log10(off / power);
}

describe.each([44100, 48000, 96000] as const)('at %i Hz', (sampleRate) => {
  const sheet = sheetWith({ fade: 5e-3, listen: { sampleRate, seconds: 2 } });

  test('what leaves the worklet is the engine’s sound and the rendered phrase', async () => {
    await opened(async (page) => {
      await page.evaluate(([sheets, rate]) => (window as unknown as Window_).live.prepare(sheets, rate), [
        [sheet],
        sampleRate,
      ] as const);
      await begin(page);
      await page.evaluate(() => (window as unknown as Window_).live.stop());
      // Messages keep their order: after this the fade-out is over.
      await page.evaluate((samples) => (window as unknown as Window_).live.capture(samples), sampleRate / 4);
      // The capture begins first; both are in the worklet before its next block or the one after.
      const captured = await page.evaluate((samples) => {
        const { live } = window as unknown as Window_;
        const all = live.capture(samples);
        live.play(0);
        return all;
      }, sampleRate);
      const setup = liveSetup(sheet, sampleRate);
      const engine = new LiveEngine(sampleRate);
      engine.play(setup);
      const own = new Float32Array(sampleRate);
      engine.process(own);
      const loud = (v: number) => Math.abs(v) > 1e-6;
      const shift = captured.findIndex(loud) - own.findIndex(loud);
      expect(shift % LIVE_BLOCK).toBe(0);
      const heard = captured.slice(shift);
      for (let i = 0; i < heard.length; i++) expect(Math.abs(heard[i]! - own[i]!)).toBeLessThan(1e-6);
      const rendered = renderVolts(sheet).map((v) => v * setup.gain);
      highPass(rendered, sampleRate);
      const length = heard.length - LIVE_DELAY;
      expect(differenceDb(heard.slice(LIVE_DELAY), rendered.subarray(0, length))).toBeLessThan(AGREEMENT_DB);
    });
  });
});

describe('a strum of six strings', () => {
  const places = [0.16, 0.155, 0.15, 0.145, 0.15, 0.155];
  const sheets = places.map((place) => {
    const sheet = sheetWith({ fade: 5e-3, listen: { seconds: 4, level: 'as it is' } });
    const pickups = sheet.pickups.map((pickup, i) => (i === 0 ? { ...pickup, place } : pickup));
    return { ...sheet, pickups };
  });

  test(
    `goes on and answers in time while a control is dragged for ${DRAG} s`,
    async () => {
      await opened(async (page) => {
        await page.evaluate((all) => (window as unknown as Window_).live.prepare(all, 48000), sheets);
        await begin(page);
        const count = await page.evaluate((ms) => (window as unknown as Window_).live.drag(ms), 1000 * DRAG);
        const stats = (await page.evaluate(() => (window as unknown as Window_).live.stats()))!;
        console.log(`${count} changes; in the worklet: ${JSON.stringify(stats)}`);
        expect(count).toBeGreaterThan(0);
        expect(stats.blocks).toBeGreaterThan(0);
        expect(stats.latency / 48000).toBeLessThan(30e-3 + LIVE_BLOCK / 48000);
      });
    },
    1000 * DRAG + 300_000,
  );
});

describe('the player', () => {
  const sheet = sheetWith({ fade: 5e-3 });

  test('is heard at its tap, stops, and begins anew', async () => {
    await opened(async (page) => {
      const tapped = () => page.evaluate(() => (window as unknown as Window_).live.tapped());
      await page.evaluate((one) => (window as unknown as Window_).live.prepare([one], 48000), sheet);
      expect(await status(page)).toBe('stopped');
      await begin(page);
      await soon(tapped).toBeGreaterThan(1e-3);
      await page.evaluate(() => (window as unknown as Window_).live.stop());
      await soon(tapped).toBe(0);
      await soon(() => status(page)).toBe('stopped');
      await begin(page);
      await soon(tapped).toBeGreaterThan(1e-3);
    });
  });

  test('mutes and says so when something is not a number', async () => {
    await opened(async (page) => {
      await page.evaluate((one) => (window as unknown as Window_).live.prepare([one], 48000), sheet);
      await begin(page);
      await page.evaluate(() => (window as unknown as Window_).live.broken());
      await soon(() => status(page)).toBe('failed');
      const { message } = await page.evaluate(() => (window as unknown as Window_).live.state());
      expect(message).toMatch(/^The sound was muted because something that is not a number came out/);
      await soon(() => page.evaluate(() => (window as unknown as Window_).live.tapped())).toBe(0);
      await begin(page);
    });
  });

  test('says so when it is asked to play before any gesture, and begins with one', async () => {
    await opened(async (page) => {
      await page.evaluate((one) => (window as unknown as Window_).live.prepare([one], 48000), sheet);
      await page.evaluate(() => (window as unknown as Window_).live.play(0));
      const now = await status(page);
      expect(['starting', 'waiting', 'playing']).toContain(now);
      await begin(page);
    });
  });
});
