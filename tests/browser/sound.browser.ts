/** What is played, as the buffers that the page hands to the browser's audio. */
import { buffer } from 'node:stream/consumers';
import type { Page } from 'playwright-core';
import { expect, test } from './rig/app.ts';
import { brightness, counts, differenceDb, heard, newest, peak, putOn } from './rig/ears.ts';
import { button, drag, ready, slider, soon, type } from './rig/hands.ts';

/** −1 dBFS, as 32 bits hold it. */
const CEILING = Math.fround(10 ** (-1 / 20));

const play = (page: Page): Promise<void> => page.getByRole('button', { name: 'play' }).first().click();

const choose = (page: Page, position: string): Promise<void> =>
  page.getByRole('radio', { name: position, exact: true }).check();

test('nothing sounds before a gesture; then the phrase does, whole and below −1 dBFS', async ({
  openSheet,
}) => {
  const { page } = await openSheet();
  await page.addInitScript(putOn);
  await page.reload();
  await ready(page);
  expect(await counts(page)).toEqual({ contexts: 0, starts: 0 });
  await play(page);
  const { samples, sampleRate, offset } = await heard(page, 0);
  expect(await counts(page)).toEqual({ contexts: 1, starts: 1 });
  expect(offset).toBe(0);
  expect(samples.length / sampleRate).toBeCloseTo(4, 3);
  expect(samples.every((sample) => Number.isFinite(sample))).toBe(true);
  expect(peak(samples)).toBeGreaterThan(0.01);
  expect(peak(samples)).toBeLessThanOrEqual(CEILING);
  await button(page, 'stop').first().click();
  await soon(() => button(page, 'play').first().isEnabled()).toBe(true);
});

test('a wider focus is heard as a duller sound, and undo brings the old one back', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await page.evaluate(putOn);
  await play(page);
  const before = await heard(page, 0);
  await drag(page, slider(page, 'focus of the neck pickup, edge towards the saddle'), { x: 90, y: 0 });
  await soon(async () => differenceDb(before.samples, (await newest(page)).samples)).toBeGreaterThan(-40);
  const wide = await newest(page);
  expect(peak(wide.samples)).toBeLessThanOrEqual(CEILING);
  // [exact] The Fourier transform of a wider bell is narrower: high partials lose most.
  expect(brightness(wide.samples)).toBeLessThan(brightness(before.samples) - 1);
  await button(page, 'undo').click();
  await soon(async () => differenceDb(before.samples, (await newest(page)).samples)).toBe(-Infinity);
});

test('neck, bridge and both follow each other without the note starting anew', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await page.evaluate(putOn);
  await play(page);
  const all = [await heard(page, 0)];
  for (const position of ['bridge', 'neck + bridge', 'neck']) {
    await choose(page, position);
    all.push(await heard(page, all.length));
    expect(await button(page, 'stop').first().isVisible()).toBe(true);
  }
  expect((await counts(page)).starts).toBe(all.length);
  const [neck, bridge, both, again] = all;
  if (!neck || !bridge || !both || !again) throw new Error('Four sounds must have been started.');
  for (const { when, offset, samples, sampleRate } of all.slice(1)) {
    // [exact] Each goes on at the place where the first has arrived by then.
    const place = (when - neck.when) % (samples.length / sampleRate);
    expect(offset).toBeGreaterThan(0);
    expect(Math.abs(offset - place)).toBeLessThan(1 / sampleRate);
    expect(peak(samples)).toBeLessThanOrEqual(CEILING);
  }
  expect(differenceDb(neck.samples, bridge.samples)).toBeGreaterThan(-20);
  expect(differenceDb(neck.samples, both.samples)).toBeGreaterThan(-20);
  expect(differenceDb(bridge.samples, both.samples)).toBeGreaterThan(-20);
  expect(again.samples).toEqual(neck.samples);
  // [practice] Near the bridge there is more of the high partials than near the neck; together in between.
  expect(brightness(bridge.samples)).toBeGreaterThan(brightness(both.samples));
  expect(brightness(both.samples)).toBeGreaterThan(brightness(neck.samples));
});

test('the WAV file holds what is played', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await page.evaluate(putOn);
  await type(page, 'length of the phrase', '1 s');
  // The scope's caption is written from the same sound.
  const caption = page.locator('figcaption');
  const before = await caption.innerText();
  await choose(page, 'bridge');
  await soon(() => caption.innerText()).not.toBe(before);
  await play(page);
  const { samples, sampleRate } = await newest(page).then(() => heard(page, 0));
  const float = await wav(page, 'WAV, float');
  expect(float).toMatchObject({ format: 3, channels: 1, sampleRate, bits: 32 });
  const read = Float32Array.from({ length: float.data.length / 4 }, (_, i) => float.data.readFloatLE(4 * i));
  expect(read).toEqual(samples);
  const whole = await wav(page, 'WAV, 24 bit');
  expect(whole).toMatchObject({ format: 1, channels: 1, sampleRate, bits: 24 });
  expect(whole.data.length / 3).toBe(samples.length);
  // Dither or none: within one and a half steps of 2⁻²³.
  const apart = samples.reduce(
    (most, sample, i) => Math.max(most, Math.abs(whole.data.readIntLE(3 * i, 3) / 2 ** 23 - sample)),
    0,
  );
  expect(apart).toBeLessThanOrEqual(1.5 / 2 ** 23);
});

/** Downloads a file and reads its chunks, as «Multimedia Programming Interface and Data Specifications 1.0» has them. */
async function wav(
  page: Page,
  name: string,
): Promise<{ format: number; channels: number; sampleRate: number; bits: number; data: Buffer }> {
  const [download] = await Promise.all([page.waitForEvent('download'), button(page, name).click()]);
  expect(download.suggestedFilename()).toBe('Skerry, three single coils.wav');
  const bytes = await buffer(await download.createReadStream());
  expect(bytes.toString('latin1', 0, 4) + bytes.toString('latin1', 8, 12)).toBe('RIFFWAVE');
  expect(bytes.readUInt32LE(4)).toBe(bytes.length - 8);
  const chunks = new Map<string, Buffer>();
  for (let at = 12; at + 8 <= bytes.length;) {
    const length = bytes.readUInt32LE(at + 4);
    chunks.set(bytes.toString('latin1', at, at + 4), bytes.subarray(at + 8, at + 8 + length));
    at += 8 + length + (length % 2);
  }
  const head = chunks.get('fmt ');
  const data = chunks.get('data');
  if (!head || !data) throw new Error('A WAV file must have a fmt and a data chunk.');
  return {
    format: head.readUInt16LE(0),
    channels: head.readUInt16LE(2),
    sampleRate: head.readUInt32LE(4),
    bits: head.readUInt16LE(14),
    data,
  };
}
