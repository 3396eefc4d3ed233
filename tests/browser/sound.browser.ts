/** What is played, as it leaves the page's worklet, and what is kept of it as files. */
import { buffer } from 'node:stream/consumers';
import type { Page } from 'playwright-core';
import { render } from '../../src/physics/rendered.ts';
import { expect, test, type OpenSheet } from './rig/app.ts';
import { brightness, capture, counts, level, peak, stats, STILL } from './rig/ears.ts';
import { button, CLIPBOARD, drag, ready, sheetOf, slider, soon, type } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';
import { twoTrials } from './rig/trials.ts';

/** −1 dBFS, as 32 bits hold it. */
const CEILING = Math.fround(10 ** (-1 / 20));
/** dB; a phrase that is heard again is the same, but for where in it the capture begins. */
const SAME = 0.05;

/** −120 dB: two engines' sines and exponentials differ in their last digits, and a million of them are summed. */
const DIGITS = 1e-6;

const play = (page: Page): Promise<void> => button(page, 'play').first().click();

const choose = (page: Page, position: string): Promise<void> =>
  page.getByRole('radio', { name: position, exact: true }).check();

/** Ears on, with a phrase of a second: a second of it, from wherever, is then all of it. */
async function open(openSheet: OpenSheet): Promise<Page> {
  const { page } = await openSheet('', { ...CLIPBOARD, ears: true, ...STILL });
  await ready(page);
  await type(page, 'length of the phrase', '1 s');
  await atRest(page);
  return page;
}

/** A phrase once the last change is in the worklet: the level is matched a while after it; then it stays. */
async function settled(page: Page): Promise<Float32Array> {
  await atRest(page);
  let before = NaN;
  await soon(async () => {
    const { samples } = await capture(page, 1);
    const now = 20 * Math.log10(level(samples));
    const apart = Math.abs(now - before);
    before = now;
    return apart;
  }).toBeLessThan(SAME);
  return (await capture(page, 1)).samples;
}

test('nothing sounds before a gesture; then the phrase does, below −1 dBFS', async ({ openSheet }) => {
  const page = await open(openSheet);
  expect(await counts(page)).toEqual({ contexts: 0, nodes: 0, buffers: 0 });
  await play(page);
  const samples = await settled(page);
  expect(await counts(page)).toEqual({ contexts: 1, nodes: 1, buffers: 0 });
  expect(samples.every((sample) => Number.isFinite(sample))).toBe(true);
  expect(peak(samples)).toBeGreaterThan(0.01);
  expect(peak(samples)).toBeLessThanOrEqual(CEILING);
  await button(page, 'stop').first().click();
  await soon(async () => peak((await capture(page, 0.1)).samples)).toBe(0);
  await soon(() => button(page, 'play').first().isEnabled()).toBe(true);
});

test('a wider focus is heard as a duller sound, and undo brings the old one back', async ({ openSheet }) => {
  const page = await open(openSheet);
  await play(page);
  const before = await settled(page);
  await drag(page, slider(page, 'focus of the neck pickup, edge towards the saddle'), { x: 90, y: 0 });
  const wide = await settled(page);
  expect(peak(wide)).toBeLessThanOrEqual(CEILING);
  // [exact] The Fourier transform of a wider bell is narrower: high partials lose most.
  expect(brightness(wide)).toBeLessThan(brightness(before) - 1);
  await button(page, 'undo').click();
  await soon(async () => Math.abs(brightness(await settled(page)) - brightness(before))).toBeLessThan(SAME);
});

test('neck, bridge and both follow each other without the phrase starting anew', async ({ openSheet }) => {
  const page = await open(openSheet);
  await play(page);
  const neck = brightness(await settled(page));
  const { blocks } = await stats(page);
  const bright: number[] = [];
  for (const position of ['bridge', 'neck + bridge', 'neck']) {
    await choose(page, position);
    const samples = await settled(page);
    expect(peak(samples)).toBeLessThanOrEqual(CEILING);
    bright.push(brightness(samples));
  }
  expect(await button(page, 'stop').first().isVisible()).toBe(true);
  expect(await counts(page)).toMatchObject({ contexts: 1, nodes: 1 });
  // They are counted since play.
  expect((await stats(page)).blocks).toBeGreaterThan(blocks);
  const [bridge, both, again] = bright as [number, number, number];
  // [practice] Near the bridge there is more of the high partials than near the neck, and than of both together; being
  // equally strong, these cancel what they hear in opposite sense.
  expect(bridge).toBeGreaterThan(both);
  expect(bridge).toBeGreaterThan(neck);
  expect(Math.abs(again - neck)).toBeLessThan(SAME);
});

test('the WAV file holds the rendered phrase, and the report says what it is', async ({ openSheet }) => {
  const page = await open(openSheet);
  await choose(page, 'bridge');
  await atRest(page);
  const sound = render(await sheetOf(page));
  const float = await wav(page, 'WAV, float');
  expect(float).toMatchObject({ format: 3, channels: 1, sampleRate: sound.sampleRate, bits: 32 });
  const read = Float32Array.from({ length: float.data.length / 4 }, (_, i) => float.data.readFloatLE(4 * i));
  expect(read.length).toBe(sound.samples.length);
  expect(farthest(sound.samples, (i) => read[i] ?? NaN)).toBeLessThan(DIGITS);
  const whole = await wav(page, 'WAV, 24 bit');
  expect(whole).toMatchObject({ format: 1, channels: 1, sampleRate: sound.sampleRate, bits: 24 });
  expect(whole.data.length / 3).toBe(sound.samples.length);
  // Dither or none: within one and a half steps of 2⁻²³.
  const apart = farthest(sound.samples, (i) => whole.data.readIntLE(3 * i, 3) / 2 ** 23);
  expect(apart).toBeLessThan(1.5 / 2 ** 23 + DIGITS);
  const report = (await file(page, 'report', 'txt')).toString('utf8');
  expect(report).toContain(`Loudness: ${sound.loudness.toFixed(2).replace('-', '−')} LUFS`);
  expect(report).toContain('bridge pickup');
});

test('each trial has its files, matched to one loudness where the level is', async ({ openSheet }) => {
  const page = await open(openSheet);
  await page.getByRole('combobox', { name: 'level', exact: true }).selectOption('matched');
  await twoTrials(page);
  const loudness: string[] = [];
  const gains: string[] = [];
  for (const [letter, own] of [
    ['A', ''],
    ['B', ', variant 2'],
  ] as const) {
    const name = `${own}, trial ${letter}`;
    const text = (await file(page, `report, trial ${letter}`, 'txt', name)).toString('utf8');
    loudness.push(/^Loudness: (.*) LUFS/m.exec(text)?.[1] ?? '');
    gains.push(/^Gain: (.*) dB/m.exec(text)?.[1] ?? '');
  }
  expect(loudness).toEqual(['−23.00', '−23.00']);
  expect(gains[0]).not.toBe(gains[1]);
});

/** The largest difference; NaN when one isn't a number. */
const farthest = (samples: Float64Array, other: (i: number) => number): number =>
  samples.reduce((most, sample, i) => Math.max(most, Math.abs(other(i) - sample)), 0);

/** Downloads a file of the open sheet, or of a trial, whose name then goes on after that of the sheet. */
async function file(page: Page, name: string, extension: string, trial = ''): Promise<Buffer> {
  const [download] = await Promise.all([page.waitForEvent('download'), button(page, name).click()]);
  expect(download.suggestedFilename()).toBe(`Skerry, three single coils${trial}.${extension}`);
  return buffer(await download.createReadStream());
}

/** Downloads a file and reads its chunks, as [RIFF1991] has them. */
async function wav(
  page: Page,
  name: string,
): Promise<{ format: number; channels: number; sampleRate: number; bits: number; data: Buffer }> {
  const bytes = await file(page, name, 'wav');
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
