/** A sheet sent as a link. */
import type { Page } from 'playwright-core';
import { fromBase64url, toBase64url } from '../../src/sheet/base64url.ts';
import { crc32 } from '../../src/sheet/crc32.ts';
import { decodeLink, encodeLink } from '../../src/sheet/link.ts';
import { currentSheet, wrap } from '../../src/sheet/trials.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { expect, test } from './rig/app.ts';
import {
  button,
  CABLE,
  CLIPBOARD,
  copyLink,
  curves,
  field,
  figure,
  figures,
  ready,
  said,
  setCable,
  settled,
  sheetOf,
  slider,
  soon,
  type,
} from './rig/hands.ts';

/** A handle that a pickup with one row does not have. */
const HELD = "neck row 2, offset from the pickup's centre";

/** Another sheet than the one that opens by itself. */
async function change(page: Page): Promise<void> {
  await setCable(page, 14.3);
  await slider(page, 'middle pickup along the string').focus();
  await page.keyboard.press('PageUp');
  // The link carries the sheet, not what is looked at.
  await page.getByRole('combobox', { name: 'pickup shown in the section' }).selectOption('1 neck');
  await type(page, 'volume position', '73 %');
  await soon(() => figure(page, 'volume position')).toBe('7.3');
  await field(page, 'title').fill('Ünïcode & <b>“quoted”</b> 弦');
  await field(page, 'title').press('Enter');
  await field(page, 'title').blur();
}

test('a copied link opens the identical sheet elsewhere', async ({ openSheet }) => {
  const { page } = await openSheet('', { ...CLIPBOARD, still: true });
  await ready(page);
  const first = await sheetOf(page);
  await change(page);
  const link = await copyLink(page);
  await soon(() => said(page)).toMatch(/link is copied/);
  const sent = await decodeLink(new URL(link).hash);
  if (!sent.ok) throw new Error(sent.message);
  const sheet = currentSheet(sent.trials);
  expect(sheet).not.toEqual(first);
  expect(sheet.title).toBe('Ünïcode & <b>“quoted”</b> 弦');
  expect(new URL(link).hash.length).toBeLessThanOrEqual(4096);
  // The address itself can be kept as well.
  await soon(() => page.url()).toBe(link);

  const { page: other } = await openSheet(new URL(link).hash, { ...CLIPBOARD, still: true });
  await soon(() => said(other)).toMatch(/sheet from the link is open/);
  await soon(() => figures(other)).toEqual(await settled(page));
  await soon(() => curves(other)).toBe(await curves(page));
  expect(await sheetOf(other)).toEqual(sheet);
});

test('where the clipboard is closed the link is shown', async ({ openSheet }) => {
  const { page, address } = await openSheet('', { still: true });
  await ready(page);
  const browser = await page.context().newCDPSession(page);
  await browser.send('Browser.setPermission', {
    permission: { name: 'clipboard-write', allowWithoutSanitization: false },
    setting: 'denied',
    origin: new URL(address).origin,
    ...(await browser.send('Target.getTargetInfo').then(({ targetInfo: { browserContextId } }) => {
      return browserContextId === undefined ? {} : { browserContextId };
    })),
  });
  await setCable(page, 14.3);
  await button(page, 'copy link').click();
  const shown = field(page, 'link');
  await shown.waitFor();
  await soon(() => said(page)).toMatch(/clipboard closed.*copy it from there/);
  const read = await decodeLink(new URL(await shown.inputValue()).hash);
  if (!read.ok) throw new Error(read.message);
  expect(currentSheet(read.trials).harness.cable.length).toBe(14.3);
  // Selected as soon as it is reached, ready to be copied by hand.
  await shown.focus();
  expect(await page.evaluate(() => getSelection()?.toString())).toBe(await shown.inputValue());
});

test('a broken or newer link gets a sentence and leaves the sheet alone', async ({ openSheet }) => {
  const { page, address } = await openSheet('', { ...CLIPBOARD, still: true });
  await ready(page);
  await setCable(page, 14.3);
  const link = new URL(await copyLink(page)).hash.slice(1);
  const before = await settled(page);
  const cases: [string, RegExp][] = [
    [link.slice(0, -9), /^Link must be whole; got one that is broken or cut short/],
    [`${link.slice(0, 40)}${link[40] === 'A' ? 'B' : 'A'}${link.slice(41)}`, /^Link must be whole/],
    ['%3Cscript%3E', /^Link must be whole/],
    [newer(link), /^Link must be of version 1 or 2; got 3\. A newer Lodetone made it/],
  ];
  for (const [fragment, sentence] of cases) {
    await page.evaluate((hash) => {
      location.hash = hash;
    }, fragment);
    await soon(() => said(page), fragment.slice(0, 20)).toMatch(sentence);
    expect(await settled(page)).toEqual(before);
  }
  expect(await decodeLink(await copyLink(page).then((l) => new URL(l).hash))).toEqual(await decodeLink(link));

  // The same for somebody who has nothing open yet: a preset is there.
  const { page: other, leave } = await openSheet(newer(link), { still: true });
  await ready(other);
  await soon(() => said(other)).toMatch(/^Link must be of version 1 or 2; got 3/);
  const shown = await settled(other);
  await leave();
  const { page: plain } = await openSheet('', { still: true });
  await ready(plain);
  expect(shown).toEqual(await settled(plain));
  expect(new URL(page.url()).origin).toBe(new URL(address).origin);
});

test('a link followed over an open sheet is one step; undo brings the old sheet back', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', { ...CLIPBOARD, still: true });
  await ready(page);
  const first = await settled(page);
  await setCable(page, 14.3);
  const link = new URL(await copyLink(page)).hash;

  const { page: other } = await openSheet('', { still: true });
  await ready(other);
  await other.evaluate((hash) => {
    location.hash = hash;
  }, link);
  await soon(() => figure(other, CABLE)).toBe('14.3 m');
  await button(other, 'undo').click();
  await soon(() => figures(other)).toEqual(first);

  // While a key is down on a handle that goes with the old sheet: what it has done so far is a step of it.
  const twoRows = await encodeLink(wrap(builtSheet('slugs and screws beside an alnico bar')));
  await other.evaluate((hash) => {
    location.hash = hash;
  }, twoRows);
  const held = slider(other, HELD);
  await held.focus();
  const was = await held.getAttribute('aria-valuenow');
  await other.keyboard.down('ArrowUp');
  await soon(() => held.getAttribute('aria-valuenow')).not.toBe(was);
  const moved = await held.getAttribute('aria-valuenow');
  await other.evaluate((hash) => {
    location.hash = hash;
  }, link);
  await soon(() => held.count()).toBe(0);
  await other.keyboard.up('ArrowUp');
  await soon(() => figure(other, CABLE)).toBe('14.3 m');
  await button(other, 'undo').click();
  await soon(() => held.getAttribute('aria-valuenow')).toBe(moved);
  await button(other, 'undo').click();
  await soon(() => held.getAttribute('aria-valuenow')).toBe(was);

  // And while a figure of such a part is typed: there is nowhere to put it, which is said.
  await field(other, HELD).fill('8 mm');
  await other.evaluate((hash) => {
    location.hash = hash;
  }, link);
  await soon(() => figure(other, CABLE)).toBe('14.3 m');
  await soon(() => said(other)).toMatch(/belongs to a part that this sheet does not have/);
});

test('what is changed after a link was opened or copied outlives a reload', async ({ openSheet }) => {
  const { page } = await openSheet('', { ...CLIPBOARD, still: true });
  await ready(page);
  await setCable(page, 14.3);
  const link = await copyLink(page);
  await setCable(page, 15.4);
  await page.reload();
  await ready(page);
  await soon(() => figure(page, CABLE)).toBe('15.4 m');

  const { page: other } = await openSheet(new URL(link).hash, { still: true });
  await soon(() => figure(other, CABLE)).toBe('14.3 m');
  // Unchanged, it is still the link's sheet, and the address may be kept.
  await soon(() => other.url()).toBe(link);
  await setCable(other, 16.5);
  await other.reload();
  await ready(other);
  await soon(() => figure(other, CABLE)).toBe('16.5 m');
});

/** The same link with the version byte of a later layout, and a checksum that is right for it. */
function newer(link: string): string {
  const bytes = fromBase64url(link);
  if (!bytes) throw new Error('The link must be base64url.');
  bytes[0] = 3;
  const covered = Uint8Array.of(3, ...bytes.subarray(5));
  new DataView(bytes.buffer, bytes.byteOffset).setUint32(1, crc32(covered));
  return toBase64url(bytes);
}
