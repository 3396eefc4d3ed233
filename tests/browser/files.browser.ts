/** Designs from files and to files, and what other programs take of a sheet. */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Download, Page } from 'playwright-core';
import { main } from '../../src/cli/main.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { writeDesign } from '../../src/sheet/designFile.ts';
import { breaches, expect, shot, test } from './rig/app.ts';
import { overflow, unreachable } from './rig/eyes.ts';
import {
  button,
  CABLE,
  CLIPBOARD,
  field,
  figure,
  ready,
  said,
  setCable,
  settled,
  sheetOf,
  soon,
  type,
} from './rig/hands.ts';

const FILES = 'section[aria-label="Files"]';
const openOut = (page: Page): Promise<void> => page.locator(`${FILES} summary`).click();
const banner = (page: Page): Promise<string> => page.locator('.banner').innerText();
const textOf = async (download: Download): Promise<string> => readFileSync(await download.path(), 'utf8');

/** What a hand drops: made in the page, where there are no files. */
interface Thing {
  readonly name: string;
  /** Latin-1; repeated so many times. */
  readonly content: string;
  readonly times?: number;
}

async function drop(page: Page, things: readonly Thing[], text = ''): Promise<void> {
  await page.evaluate(
    ([all, said]) => {
      const transfer = new DataTransfer();
      for (const { name, content, times = 1 } of all) {
        const bytes = Uint8Array.from(content, (letter) => letter.charCodeAt(0));
        transfer.items.add(new File(new Array<BlobPart>(times).fill(bytes), name));
      }
      if (said !== '') transfer.setData('text/plain', said);
      const at = document.querySelector('h2')!;
      for (const type of ['dragover', 'drop'])
        at.dispatchEvent(new DragEvent(type, { dataTransfer: transfer, bubbles: true, cancelable: true }));
    },
    [things, text] as const,
  );
}

test('a design is saved, dropped and chosen; undo brings back what it took the place of', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', { ...CLIPBOARD, still: true });
  await ready(page);
  await setCable(page, 14.3);
  // By keyboard alone.
  await page.locator(`${FILES} summary`).focus();
  await page.keyboard.press('Enter');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Tab');
  const [download] = await Promise.all([page.waitForEvent('download'), page.keyboard.press('Enter')]);
  expect(download.suggestedFilename()).toBe('Skerry, three single coils.json');
  const text = await textOf(download);
  const sheet = await sheetOf(page);
  expect(text).toBe(writeDesign(wrap(sheet)));

  await setCable(page, 5);
  const before = await settled(page);
  await drop(page, [{ name: 'bench.json', content: text }]);
  await soon(() => said(page)).toMatch(/^bench\.json is open; undo brings back what was there\.$/);
  expect(await sheetOf(page)).toEqual(sheet);
  await button(page, 'undo').click();
  expect(await settled(page)).toEqual(before);

  const [chooser] = await Promise.all([
    page.waitForEvent('filechooser'),
    button(page, 'open a design').click(),
  ]);
  await chooser.setFiles(await download.path());
  await soon(() => figure(page, CABLE)).toBe('14.3 m');
  await button(page, 'undo').click();
  expect(await settled(page)).toEqual(before);

  // Whatever else is dropped costs nothing and is answered.
  const things: [things: Thing[], text: string, sentence: RegExp][] = [
    [[{ name: 'a.png', content: '\x89PNG\r\n\x1a\n' }], '', /must be a design, which is JSON; got a picture/],
    [
      [{ name: 'a.csv', content: 'frequency,level\n20,0\n' }],
      '',
      /must be a table .*, 8 lines or more; got 1/,
    ],
    [
      [{ name: 'a.json', content: text.slice(0, 700) }],
      '',
      /Design must be whole JSON; got a text that breaks off/,
    ],
    [
      [{ name: 'a.json', content: text.replace('14.3', '1e999') }],
      '',
      /Cable length must be a finite figure; got Infinity/,
    ],
    [[{ name: 'a.json', content: '\xff\xfe[' }], '', /got bytes that are no text/],
    [
      [{ name: 'big', content: ' '.repeat(1e6), times: 200 }],
      '',
      /got 200\.0 MB, and no design is larger than 1 MB/,
    ],
    [
      [
        { name: 'a.json', content: text },
        { name: 'b.json', content: text },
      ],
      '',
      /got 2 files: take one after the other/,
    ],
    [[], 'a word', /got a text of another kind/],
    [[], 'https://example.org/', /got an address without a sheet in it/],
  ];
  for (const [files, words, sentence] of things) {
    await drop(page, files, words);
    await soon(() => banner(page)).toMatch(sentence);
    expect(await settled(page)).toEqual(before);
  }
  await shot(page, '1440-dropped');
  await button(page, 'put away').click();
  expect(await page.locator('.banner').count()).toBe(0);

  // A recording is heard, not opened; a link is.
  await drop(page, [{ name: 'a.wav', content: 'RIFF\x24\0\0\0WAVEfmt ' }]);
  await soon(() => banner(page)).toMatch(/WAV/);
  await drop(page, [], 'https://example.org/#abc');
  await soon(() => said(page)).toMatch(/^Link must be whole/);
  expect(await settled(page)).toEqual(before);
});

const LIST = { name: 'designs on this computer' } as const;
/** Names of the designs in the list, the newest first. */
const names = (page: Page): Promise<string[]> =>
  page
    .getByRole('list', LIST)
    .locator('input')
    .evaluateAll((all) => all.map((field) => (field as HTMLInputElement).value));

test('a design keeps itself, is there after a reload, and goes back to what it was; renamed, deleted and brought back', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', CLIPBOARD);
  await ready(page);
  await setCable(page, 14.3);
  await soon(() => said(page)).toMatch(/kept on this machine only, as «Skerry, three single coils»/);
  await setCable(page, 5.5);
  const kept = await sheetOf(page);
  await page.reload();
  await ready(page);
  await openOut(page);
  const list = page.getByRole('list', LIST);
  await soon(() => list.getByRole('listitem').count()).toBe(1);
  expect(await list.locator('[aria-current]').count()).toBe(1);
  expect(await list.locator('svg').count()).toBe(1);

  // Another document is another design.
  await type(page, 'name of Skerry, three single coils', 'Walnut');
  await soon(() => names(page)).toEqual(['Walnut']);
  await page.getByRole('combobox', { name: 'open another sheet' }).selectOption({ index: 2 });
  await setCable(page, 7.1);
  await soon(() => list.getByRole('listitem').count()).toBe(2);
  await button(page, 'open Walnut').click();
  await soon(() => said(page)).toMatch(/^«Walnut» is open; undo brings back what was there/);
  expect(await sheetOf(page)).toEqual(kept);
  await setCable(page, 5.6);
  await soon(() => names(page)).toHaveLength(2);
  await soon(async () => (await names(page))[0]).toBe('Walnut');

  // By keyboard alone.
  await button(page, 'earlier states of Walnut').focus();
  await page.keyboard.press('Enter');
  await page.getByText('before: cable 5.5 → 5.6 m').waitFor();
  await page.locator(FILES).scrollIntoViewIfNeeded();
  await shot(page, '1440-designs');
  await page.getByRole('button', { name: /^go back to .*, before cable 14\.3 → 5\.5 m$/ }).focus();
  await page.keyboard.press('Enter');
  await soon(() => figure(page, CABLE)).toBe('14.3 m');
  await page.getByText('before: cable 5.6 → 14.3 m').waitFor();
  await button(page, 'undo').first().click();
  await soon(() => figure(page, CABLE)).toBe('5.6 m');

  await field(page, 'name of a copy').fill('Maple');
  await button(page, 'keep a copy').click();
  await button(page, 'delete Maple').click();
  await soon(() => names(page)).not.toContain('Maple');
  await button(page, 'undo the last change of the designs').click();
  await soon(() => names(page)).toContain('Maple');

  // All of them as one file, which is taken in without writing over anything.
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    button(page, 'save all designs').click(),
  ]);
  expect(download.suggestedFilename()).toMatch(/^Designs, \d{4}-\d\d-\d\d\.json$/);
  const text = await textOf(download);
  const before = await settled(page);
  await button(page, 'delete Maple').click();
  await soon(() => names(page)).not.toContain('Maple');
  await drop(page, [{ name: 'all.json', content: text.slice(0, -20) }]);
  await soon(() => banner(page)).toMatch(/File of designs must be whole JSON; got a text that breaks off/);
  await drop(page, [{ name: 'all.json', content: Buffer.from(text).toString('latin1') }]);
  await soon(() => banner(page)).toMatch(/^«Maple» is among the designs; 2 were here already\./);
  await soon(() => names(page)).toContain('Maple');
  expect(await settled(page)).toEqual(before);
});

test('the later of two windows on one design is told, and takes it over or goes on in a copy', async ({
  openSheet,
}) => {
  const { page, address } = await openSheet('', { fresh: true });
  await ready(page);
  await setCable(page, 14.3);
  await soon(() => said(page)).toMatch(/as «Skerry/);
  const other = await page.context().newPage();
  await other.goto(address);
  await ready(other);
  const told = other.getByRole('region', { name: 'open in another window' });
  await told.waitFor();
  await shot(other, '1440-elsewhere');
  await openOut(other);
  await button(other, 'go on in a copy').click();
  await soon(async () => (await names(other)).sort()).toEqual([
    'Skerry, three single coils',
    'Skerry, three single coils, 2',
  ]);
  await soon(() => told.count()).toBe(0);
  // Back in the design that the other window has.
  await button(other, 'open Skerry, three single coils').click();
  await told.waitFor();
  await setCable(page, 9.9);
  await button(other, 'earlier states of Skerry, three single coils').click();
  await other.getByText('before: cable 14.3 → 9.9 m').waitFor();
  await button(other, 'take it over').click();
  await soon(() => figure(other, CABLE)).toBe('9.9 m');
  await page.getByRole('region', { name: 'open in another window' }).waitFor();
  await setCable(page, 3.3);
  await soon(() => said(page)).toMatch(/as «Skerry, three single coils, 3»/);
  await other.close();
});

/** In the page: the share of a PNG that is not white. */
async function inked(base64: string): Promise<number> {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  const picture = await createImageBitmap(new Blob([bytes], { type: 'image/png' }));
  const canvas = new OffscreenCanvas(picture.width, picture.height);
  const context = canvas.getContext('2d')!;
  context.drawImage(picture, 0, 0);
  const { data } = context.getImageData(0, 0, canvas.width, canvas.height);
  let dark = 0;
  for (let i = 0; i < data.length; i += 4) if (data[i]! < 250) dark++;
  return (4 * dark) / data.length;
}

test('[exact] curve, figures, circuit and drawing from the page are the command line’s, byte for byte; so is the sound but for a sample that rounds the other way', async ({
  openSheet,
}) => {
  const folder = mkdtempSync(join(tmpdir(), 'files-'));
  try {
    const { page } = await openSheet();
    await ready(page);
    await openOut(page);
    const downloads: Download[] = [];
    page.on('download', (download) => downloads.push(download));
    const name = '01-skerry-three-single-coils';
    main([`presets/${name}.json`, '--out', folder], { out: () => {}, err: () => {} });
    const written = readdirSync(folder).sort();
    for (const kind of [
      'curve, CSV',
      'figures, JSON',
      'circuit, SPICE netlist',
      'drawing, SVG',
      'sound, WAV',
    ]) {
      await button(page, kind).click();
      await soon(() => button(page, kind).isEnabled()).toBe(true);
    }
    await soon(() => downloads.length).toBe(written.length);
    const saved = new Map(
      downloads.map((d) => [d.suggestedFilename().replace('Skerry, three single coils', name), d]),
    );
    expect([...saved.keys()].sort()).toEqual(written);
    for (const [file, download] of saved) {
      const [one, other] = [readFileSync(await download.path()), readFileSync(join(folder, file))];
      if (file.endsWith('.wav')) sameSound(one, other);
      else expect(one.equals(other), file).toBe(true);
    }
    // What the browser draws is a picture of the same size, with ink on it.
    downloads.length = 0;
    await button(page, 'drawing, PNG').click();
    await soon(() => downloads.length).toBeGreaterThan(0);
    const png = readFileSync(await downloads[0]!.path());
    expect(downloads[0]!.suggestedFilename()).toMatch(/\.pickup-\d-section\.png$/);
    expect(png.toString('latin1', 1, 4)).toBe('PNG');
    const svg = readFileSync(
      join(
        folder,
        written.find((file) => file.endsWith('.svg'))!,
      ),
      'utf8',
    );
    const [, wide, high] = /width="([\d.]+)mm" height="([\d.]+)mm"/.exec(svg)!;
    expect([png.readUInt32BE(16), png.readUInt32BE(20)]).toEqual(
      [wide, high].map((mm) => Math.round(12 * Number(mm))),
    );
    expect(await page.evaluate(inked, png.toString('base64'))).toBeGreaterThan(0.02);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

test('the place for files is within reach on a telephone, and axe finds nothing to object to', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', { viewport: { width: 390, height: 844 }, colorScheme: 'dark' });
  await ready(page);
  await setCable(page, 14.3);
  await openOut(page);
  await button(page, 'earlier states of Skerry, three single coils').click();
  await page.getByText('None yet').waitFor();
  await drop(page, [], 'a word');
  await page.getByRole('alert').waitFor();
  await shot(page, '390-dropped-night');
  expect(await breaches(page, FILES, '.banner')).toEqual([]);
  await setCable(page, 14.4);
  expect(await unreachable(page, FILES)).toEqual([]);
  await page.locator(FILES).scrollIntoViewIfNeeded();
  await shot(page, '390-files-night');
});

test('at twice its size nothing of files and designs hangs out, and axe finds nothing to object to; a folder is no file', async ({
  scan,
}) => {
  const folder = mkdtempSync(join(tmpdir(), 'folder-'));
  try {
    const violations = await scan(
      async (page) => {
        await ready(page);
        await setCable(page, 14.3);
        await openOut(page);
        await button(page, 'earlier states of Skerry, three single coils').click();
        expect(await overflow(page)).toBe(0);
        expect(await unreachable(page, FILES)).toEqual([]);
        // As the browser itself hands it over.
        const session = await page.context().newCDPSession(page);
        const data = { items: [], files: [folder], dragOperationsMask: 1 };
        for (const type of ['dragEnter', 'dragOver', 'drop'] as const)
          await session.send('Input.dispatchDragEvent', { type, x: 300, y: 200, data });
        await session.detach();
        await soon(() => banner(page)).toMatch(/got a folder: open it, and take the file from it/);
        await shot(page, '720-folder');
      },
      // A window of 1440 × 900 px.
      { viewport: { width: 720, height: 450 } },
      FILES,
      '.banner',
    );
    expect(violations).toEqual([]);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

const HEADER = 44;

/**
 * ECMA-262 leaves the last bit of Math.sin and its like to the engine («implementation-approximated»), and a browser's is not
 * Node's: among a few hundred thousand samples one may lie so that it is rounded to the next step.
 */
function sameSound(one: Buffer, other: Buffer): void {
  expect(one.subarray(0, HEADER)).toEqual(other.subarray(0, HEADER));
  expect(one.length).toBe(other.length);
  let unlike = 0;
  for (let at = HEADER; at < one.length; at += 2) {
    const off = Math.abs(one.readInt16LE(at) - other.readInt16LE(at));
    if (off > 1) expect(off, `steps at byte ${at}`).toBeLessThanOrEqual(1);
    unlike += off;
  }
  expect(unlike).toBeLessThan(1e-4 * one.length);
}
