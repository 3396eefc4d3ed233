/** The maker's own line on its grid: written, and heard. */
import type { Page } from 'playwright-core';
import { expect, test, type OpenSheet } from './rig/app.ts';
import { capture, counts, peak, type Heard } from './rig/ears.ts';
import { button, CLIPBOARD, ready, sheetOf, soon } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

/** With a line to be played. */
async function open(openSheet: OpenSheet): Promise<Page> {
  const { page } = await openSheet('', { ...CLIPBOARD, ears: true });
  await ready(page);
  await choose(page, 'what is played', 'line');
  await atRest(page);
  return page;
}

const choose = (page: Page, name: string, option: string): Promise<unknown> =>
  page.getByRole('combobox', { name, exact: true }).selectOption(option);

const caretOf = (page: Page) => page.getByRole('textbox', { name: /^fret at string/ });

/** Presses play and waits until it is heard. */
async function play(page: Page): Promise<void> {
  await button(page, 'play').first().click();
  await soon(async () => peak((await capture(page, 0.1)).samples)).toBeGreaterThan(1e-3);
}

test('a line is written with keys: moved, set, replaced and taken out', async ({ openSheet }) => {
  const page = await open(openSheet);
  const lineOf = async (): Promise<string> =>
    (await sheetOf(page)).listen.line.map(({ beat, string, fret }) => `${beat} ${string} ${fret}`).join(', ');
  const before = await lineOf();
  const caret = caretOf(page);
  await caret.focus();
  await soon(() => caret.getAttribute('aria-label')).toBe('fret at string 3, bar 1, beat 1');
  await page.keyboard.press('PageDown');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowRight');
  await soon(() => caret.getAttribute('aria-label')).toBe('fret at string 4, bar 2, beat 1 and a quarter');
  await page.keyboard.type('12');
  await soon(lineOf).toBe(`${before}, 4.25 4 12`);
  await caret.focus();
  await page.keyboard.type('5');
  await soon(lineOf).toBe(`${before}, 4.25 4 5`);
  await caret.focus();
  await page.keyboard.press('End');
  await page.keyboard.press('Home');
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Delete');
  await soon(lineOf).toBe(before);
  await caret.focus();
  await page.keyboard.type('99');
  await soon(() => page.getByText('The highest fret is').isVisible()).toBe(true);
});

test('a figure of two digits is typed whole, and over what was there, however late the frames come', async ({
  openSheet,
}) => {
  const page = await open(openSheet);
  const caret = caretOf(page);
  const late = 300; // ms
  await page.evaluate((ms) => {
    const frame = window.requestAnimationFrame.bind(window);
    window.requestAnimationFrame = (then) => setTimeout(() => frame(then), ms) as unknown as number;
  }, late);
  const write = async (first: string, second: string): Promise<void> => {
    await caret.focus();
    await page.keyboard.press('PageDown');
    await page.keyboard.press('PageUp');
    await page.keyboard.type(first);
    await page.waitForTimeout(2 * late);
    await page.keyboard.type(second);
  };
  const fret = async (): Promise<number | undefined> =>
    (await sheetOf(page)).listen.line.find(({ beat, string }) => beat === 0 && string === 3)?.fret;
  await write('1', '2');
  await soon(fret).toBe(12);
  await write('', '7');
  await soon(fret).toBe(7);
});

/** dB: how much there is of the low E, 82.41 Hz in equal temperament from 440 Hz (ISO 16), by Goertzel's sum. */
function low({ samples, sampleRate }: Heard): number {
  const turn = (2 * Math.PI * 440 * 2 ** (-29 / 12)) / sampleRate;
  let [re, im] = [0, 0];
  samples.forEach((sample, i) => {
    // Hann's window, so that other partials stay out.
    const weighed = sample * (1 - Math.cos((2 * Math.PI * i) / samples.length));
    re += weighed * Math.cos(turn * i);
    im -= weighed * Math.sin(turn * i);
  });
  return 10 * Math.log10((re * re + im * im) / samples.length ** 2);
}

test('a note of the line is heard', async ({ openSheet }) => {
  const page = await open(openSheet);
  await choose(page, 'level', 'as it is');
  await play(page);
  // The first phrase has no strings ringing on from one before it.
  await capture(page, 4);
  const before = low(await capture(page, 4));
  const caret = caretOf(page);
  await caret.focus();
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowDown');
  // The low string joins in; without it nothing has a partial there.
  await page.keyboard.type('0');
  await soon(async () => low(await capture(page, 4))).toBeGreaterThan(before + 10);
  expect(await counts(page)).toMatchObject({ nodes: 1 });
});

/** Left edge of the mark of the beat that sounds, px; null while there is none. */
const markAt = (page: Page): Promise<string | null> =>
  page
    .locator('section[aria-labelledby="listen-title"] .staff rect')
    .first()
    .getAttribute('x', { timeout: 1000 })
    .catch(() => null);

test('the beat that sounds is marked while it sounds, and comes round with the phrase', async ({
  openSheet,
}) => {
  const page = await open(openSheet);
  expect(await markAt(page)).toBe(null);
  await play(page);
  await soon(() => markAt(page)).not.toBe(null);
  const first = await markAt(page);
  await soon(() => markAt(page)).not.toBe(first);
  await soon(() => markAt(page)).toBe(first);
  await button(page, 'stop').click();
  await soon(() => markAt(page)).toBe(null);
});
