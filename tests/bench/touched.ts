/**
 * From a key to the worklet: how long after it is pressed the sound that follows from it reaches the audio thread, which takes it
 * over within the next block of 128 samples. By the built app in Chromium, while a phrase sounds, of pickups with one row
 * and with two: run with `npm run bench -- touched`. Prints medians; asserts nothing.
 */
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Browser } from 'playwright-core';
import { serve } from '../../.ci/serve.mjs';
import { root } from '../../.ci/setup.mjs';
import { launchOptions } from '../browser/rig/launch.ts';

/** The first of them warm up. */
const KEYS = 24;
const WARM = 4;
/** ms from one key to the next: the exact field has followed by then. */
const REST = 1000;

/** Runs in the audio thread before the worklet's own script: tells the page when an update came. The clock has whole ms. */
const LISTENER = `
const register = registerProcessor;
registerProcessor = (name, Processor) => register(name, class extends Processor {
  constructor(...given) { super(...given); globalThis.told = this.port; }
});
const { set } = Object.getOwnPropertyDescriptor(MessagePort.prototype, 'onmessage');
Object.defineProperty(MessagePort.prototype, 'onmessage', { set(answer) {
  set.call(this, (event) => {
    const at = Date.now();
    answer.call(this, event);
    if (event.data?.kind === 'update') globalThis.told?.postMessage({ kind: 'stats', id: -1, stats: { at } });
  });
} });
`;

/** Runs in the page: when keys were pressed and updates came, ms since 1970. No function in it may have a name. */
function watch(): void {
  const times = { keys: [] as number[], updates: [] as number[] };
  Object.assign(window, { times });
  addEventListener('keydown', (e) => times.keys.push(performance.timeOrigin + e.timeStamp), true);
  window.AudioWorkletNode = class extends AudioWorkletNode {
    constructor(context: BaseAudioContext, name: string, options?: AudioWorkletNodeOptions) {
      super(context, name, options);
      this.port.addEventListener(
        'message',
        ({ data }: MessageEvent<{ id?: number; stats?: { at: number } }>) => {
          if (data.id === -1 && data.stats) times.updates.push(data.stats.at);
        },
      );
    }
  };
}

interface Heard {
  readonly preset: string;
  /** What the keys move, as it is named. */
  readonly handle: string;
}

/** ms from each key to the first update after it; those no update followed are left out and counted. */
async function visit(browser: Browser, address: string, { preset, handle }: Heard): Promise<string> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });
  await context.addInitScript(watch);
  const page = await context.newPage();
  await page.goto(address);
  await page.getByRole('button', { name: 'play', disabled: false }).first().waitFor();
  if (preset) {
    await page.getByRole('combobox', { name: 'open another sheet' }).selectOption(preset);
    await page.waitForTimeout(3000);
  }
  await page.getByRole('button', { name: 'play', disabled: false }).first().click();
  await page.waitForTimeout(2000);
  const slider = page.locator(`[role="slider"][aria-label^="${handle}"]`).first();
  await slider.focus();
  for (let i = 0; i < KEYS; i++) {
    await page.keyboard.press(i % 2 ? 'ArrowUp' : 'ArrowDown');
    await page.waitForTimeout(REST);
  }
  const { keys, updates } = await page.evaluate(
    () => (window as unknown as { times: { keys: number[]; updates: number[] } }).times,
  );
  await context.close();
  const waits = keys.slice(WARM).flatMap((key, i, all) => {
    const next = all[i + 1] ?? Infinity;
    const first = updates.find((at) => at >= Math.floor(key) && at < next);
    return first === undefined ? [] : [first - key];
  });
  const sorted = waits.toSorted((a, b) => a - b);
  const [middle, last] = [sorted[sorted.length >> 1], sorted.at(-1)];
  return `${middle?.toFixed(0) ?? '–'} ms, at most ${last?.toFixed(0) ?? '–'} ms (${sorted.length} of ${KEYS - WARM} keys heard)`;
}

/** A copy of the built app whose worklet tells when it was told. */
function listening(dist: string): string {
  const copy = mkdtempSync(join(tmpdir(), 'lodetone-'));
  cpSync(dist, copy, { recursive: true });
  const assets = join(copy, 'assets');
  for (const name of readdirSync(assets).filter((file) => /^live\.worklet.*\.js$/.test(file))) {
    const file = join(assets, name);
    writeFileSync(file, LISTENER + readFileSync(file, 'utf8'));
  }
  return copy;
}

const dist = listening(process.env['LODETONE_DIST'] ?? join(root, 'dist'));
const server = await serve(dist, 0, () => undefined);
const browser = await chromium.launch({ ...launchOptions(), ignoreDefaultArgs: ['--mute-audio'] });
for (const [name, heard] of Object.entries({
  'six rods, gap': { preset: '', handle: 'gap from' },
  'six rods, volume': { preset: '', handle: 'volume' },
  'two rows and a bar, gap': { preset: 'Holm, two two-coil pickups', handle: 'gap from' },
}))
  console.log(`${name}: ${await visit(browser, server.address, heard)}`);
await browser.close();
await server.close();
rmSync(dist, { recursive: true });
