/** What somebody does who is sent a link: understands what it is, hears it, moves the focus, hears the difference, sends a link. */
import type { Page } from 'playwright-core';
import { decodeLink, encodeLink } from '../../src/sheet/link.ts';
import { currentSheet, wrap } from '../../src/sheet/trials.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { expect, test } from './rig/app.ts';
import { capture, peak, putOn } from './rig/ears.ts';
import { button, CLIPBOARD, copyLink, drag, ready, soon } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

const FOCUS = /^focus of the .* edge towards the saddle$/;
const HOLD = 'hold: as before';
const said = (page: Page): Promise<string> =>
  page.getByRole('region', { name: 'What followed' }).getByRole('status').innerText();
const sounds = (page: Page): Promise<void> =>
  soon(async () => peak((await capture(page, 0.2)).samples), 'nothing is heard').toBeGreaterThan(1e-3);
const sent = async (link: string): Promise<Sheet> => {
  const read = await decodeLink(new URL(link).hash);
  if (!read.ok) throw new Error(read.message);
  return currentSheet(read.trials);
};
const held = (page: Page): Promise<string | null> => button(page, HOLD).getAttribute('aria-pressed');

test('from a link to a link in eight gestures or fewer, and all of it by keys alone', async ({
  openSheet,
}) => {
  const sheet = builtSheet('six rods');
  const link = await encodeLink(wrap(sheet));
  const gap = sheet.pickups[0]!.build!.gapBass;

  // By pointer: every line that begins with a count is one gesture.
  let gestures = 0;
  const { page } = await openSheet(link, { permissions: CLIPBOARD.permissions });
  gestures++;
  await ready(page);
  await page.evaluate(putOn);
  await atRest(page);
  const line = (await page.getByRole('region', { name: 'What followed' }).boundingBox())!;
  expect(line.y + line.height).toBeLessThan(900);
  expect(await said(page)).toMatch(/single coil.*rods.*turns.*of cable\./);
  gestures++;
  await button(page, 'play').first().click();
  await sounds(page);
  gestures++;
  await drag(page, page.getByRole('slider', { name: FOCUS }).first(), { x: -8, y: 0 });
  await soon(() => said(page)).toMatch(/gap [\d.]+ → [\d.]+ mm.*level [+−][\d.]+ dB/);
  gestures++;
  await button(page, HOLD).hover();
  await page.mouse.down();
  await soon(() => held(page)).toBe('true');
  await sounds(page);
  await page.mouse.up();
  await soon(() => held(page)).toBe('false');
  gestures++;
  const changed = await sent(await copyLink(page));
  expect(changed.pickups[0]!.build!.gapBass).not.toBe(gap);
  expect(gestures).toBeLessThanOrEqual(8);

  // By keys.
  const { page: other } = await openSheet(link, { permissions: CLIPBOARD.permissions });
  await ready(other);
  await other.evaluate(putOn);
  await atRest(other);
  const until = async (name: RegExp): Promise<void> => {
    for (let i = 0; i < 250; i++) {
      await other.keyboard.press('Tab');
      const at = await other.evaluate(
        () => document.activeElement?.ariaLabel ?? document.activeElement?.textContent.trim() ?? '',
      );
      if (name.test(at)) return;
    }
    throw new Error(`Tab must reach ${name.source}; it did not.`);
  };
  await other.keyboard.press('Space');
  await sounds(other);
  await until(FOCUS);
  await other.keyboard.press('PageDown');
  await soon(() => said(other)).toMatch(/gap [\d.]+ → [\d.]+ mm/);
  await other.keyboard.down('Backspace');
  await soon(() => held(other)).toBe('true');
  await other.keyboard.up('Backspace');
  await soon(() => held(other)).toBe('false');
  await until(/^copy link$/);
  await other.evaluate(() => {
    const heard = window as unknown as { copied?: string };
    const write = navigator.clipboard.writeText.bind(navigator.clipboard);
    navigator.clipboard.writeText = async (text) => {
      await write(text);
      heard.copied = text;
    };
  });
  await other.keyboard.press('Enter');
  const copied = (): Promise<string> =>
    other.evaluate(() => (window as unknown as { copied?: string }).copied ?? '');
  await soon(copied).toMatch(/#/);
  expect((await sent(await copied())).pickups[0]!.build!.gapBass).not.toBe(gap);
});
