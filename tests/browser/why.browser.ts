/** What followed from a change and why, at a fixed place; and what was before it, heard for as long as a key or button is held. */
import type { Locator, Page } from 'playwright-core';
import { integratedLoudness } from '../fixtures/integratedLoudness.ts';
import { expect, test } from './rig/app.ts';
import { brightness, capture, peak, STILL, type Heard } from './rig/ears.ts';
import { button, drag, ready, setCable, soon, type } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

const line = (page: Page): Locator => page.getByRole('region', { name: 'What followed' });
const words = (page: Page): Promise<string> => line(page).getByRole('status').innerText();
const place = async (at: Locator) => ({ ...(await at.boundingBox())! });

test('says what the sheet is, then what follows from each change and why, and nothing moves', async ({
  openSheet,
}) => {
  const { page } = await openSheet();
  await ready(page);
  await atRest(page);
  const what = /^Three single coils, alnico 5 rods, .*turns.*, into 250 kΩ and 3 m of cable/;
  expect(await words(page)).toMatch(what);
  await soon(() => page.getByRole('region', { name: 'Title block' }).getByText(what).count()).toBe(1);
  await page.evaluate(() => window.scrollTo(0, 0));
  const below = page.getByRole('heading', { name: /^Section along/ });
  const before = [await place(line(page)), await place(below)];

  await setCable(page, 9);
  await soon(() => words(page)).toMatch(/^Cable 3\.0 → 9\.0 m: resonance falls from [\d.]+ to [\d.]+ kHz/);
  await drag(page, page.locator('.drawing [role="slider"][aria-label^="gap from"]'), { x: 0, y: -12 });
  await soon(() => words(page)).toMatch(/^Neck: gap [\d.]+ → [\d.]+ mm.*mT at the string instead of/);
  const [, from, to] = /gap ([\d.]+) → ([\d.]+) mm/.exec(await words(page))!;
  await page.keyboard.press('Control+z');
  await soon(() => words(page)).toMatch(`Neck: gap ${to} → ${from} mm`);
  await page.evaluate(() => window.scrollTo(0, 0));
  expect([await place(line(page)), await place(below)]).toEqual(before);

  // What is only looked at otherwise follows from nothing.
  await page.getByRole('textbox', { name: 'title' }).fill('another title');
  await page.keyboard.press('Enter');
  await atRest(page);
  expect(await words(page)).toMatch(`Neck: gap ${to} → ${from} mm`);
});

/** s; the shortest phrase, which repeats. */
const PHRASE = 0.5;
const HOLD = 'hold: as before';
const loudness = ({ samples, sampleRate }: Heard): number =>
  integratedLoudness(Float64Array.from(samples), sampleRate);

function largestStep({ samples }: Heard): number {
  let most = 0;
  for (let i = 1; i < samples.length; i++) most = Math.max(most, Math.abs(samples[i]! - samples[i - 1]!));
  return most;
}

test.for(['matched', 'as it is'])(
  'held, what was before is heard as loud and without a step, and let go it is over; level %s',
  async (level, { openSheet }) => {
    const { page } = await openSheet('', { ears: true, ...STILL });
    await ready(page);
    await page.getByRole('combobox', { name: 'what is played', exact: true }).selectOption('string');
    await page.getByRole('combobox', { name: 'level', exact: true }).selectOption(level);
    await type(page, 'length of the phrase', '0.5');
    const hold = button(page, HOLD);
    expect(await hold.isDisabled()).toBe(true);
    await type(page, 'tone position', '0');
    await page.evaluate(() => (document.activeElement as HTMLElement).blur());
    await button(page, 'play').first().click();
    await page.evaluate(() => (document.activeElement as HTMLElement).blur());
    await soon(async () => peak((await capture(page, 0.2)).samples)).toBeGreaterThan(1e-3);
    await atRest(page);

    const listen = async (): Promise<Heard> => {
      await atRest(page);
      await capture(page, PHRASE);
      return capture(page, 6 * PHRASE);
    };
    const pressed = (): Promise<string | null> => hold.getAttribute('aria-pressed');
    const now = await listen();
    const turning = capture(page, 4 * PHRASE);
    await page.keyboard.down('Backspace');
    await soon(pressed).toBe('true');
    const turned = await turning;
    const then = await listen();
    // [practice] A closed tone control takes the treble off; half a LU is not heard.
    expect(brightness(then.samples) - brightness(now.samples)).toBeGreaterThan(1);
    expect(Math.abs(loudness(then) - loudness(now))).toBeLessThan(0.5);
    expect(largestStep(turned)).toBeLessThan(1.25 * Math.max(largestStep(then), largestStep(now)));
    await page.keyboard.up('Backspace');
    await soon(pressed).toBe('false');
    expect(Math.abs(brightness((await listen()).samples) - brightness(now.samples))).toBeLessThan(0.3);
    if (level !== 'matched') return;

    // By mouse, by Enter on the button, and let go by Escape and by a page that is left.
    await hold.hover();
    await page.mouse.down();
    await soon(pressed).toBe('true');
    await page.keyboard.press('Escape');
    await soon(pressed).toBe('false');
    await page.mouse.up();
    await hold.focus();
    await page.keyboard.down('Enter');
    await soon(pressed).toBe('true');
    await page.evaluate(() => window.dispatchEvent(new Event('blur')));
    await soon(pressed).toBe('false');
    await page.keyboard.up('Enter');
    // By finger, which the system may take away.
    const finger = { pointerId: 1, pointerType: 'touch', isPrimary: true, button: 0, bubbles: true };
    await hold.dispatchEvent('pointerdown', finger);
    await soon(pressed).toBe('true');
    await hold.dispatchEvent('pointercancel', finger);
    await soon(pressed).toBe('false');
    // In the strip as well, where that is in sight.
    const low = page
      .getByRole('contentinfo', { name: 'In sight' })
      .getByRole('button', { name: 'as before' });
    await page
      .getByRole('heading', { name: 'Parts', exact: true })
      .evaluate((e) => e.scrollIntoView({ block: 'start', behavior: 'instant' }));
    await low.hover();
    await page.mouse.down();
    await soon(() => low.getAttribute('aria-pressed')).toBe('true');
    expect(await pressed()).toBe('true');
    await page.mouse.up();
    await soon(pressed).toBe('false');
    // In a field the key is the field's.
    await page.getByRole('textbox', { name: 'title' }).focus();
    await page.keyboard.down('Backspace');
    expect(await pressed()).toBe('false');
    await page.keyboard.up('Backspace');
  },
);
