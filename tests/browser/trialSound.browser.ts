/** Trials as they sound: turned between while the string rings, and heard blind. */
import type { Page } from 'playwright-core';
import { expect, test, type OpenSheet } from './rig/app.ts';
import { brightness, capture, peak, STILL, type Heard } from './rig/ears.ts';
import { button, ready, soon, type } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';
import { differIn, letters, trials } from './rig/trials.ts';
import { integratedLoudness } from '../fixtures/integratedLoudness.ts';

/** s; the shortest phrase, which repeats, so that a capture of two hears all of it wherever it begins. */
const PHRASE = 0.5;
const listenTo = (page: Page): Promise<Heard> => capture(page, 2 * PHRASE);

/** Two trials of one plucked string: A with the tone control open, B with it closed. */
async function open(openSheet: OpenSheet): Promise<Page> {
  const { page } = await openSheet('', { ears: true, ...STILL });
  await ready(page);
  await page.getByRole('combobox', { name: 'what is played', exact: true }).selectOption('string');
  await type(page, 'length of the phrase', '0.5');
  await differIn(page, 'tone position', '0', '0.0');
  await page.evaluate(() => {
    (document.activeElement as HTMLElement).blur();
  });
  return page;
}

const loudness = ({ samples, sampleRate }: Heard): number =>
  integratedLoudness(Float64Array.from(samples), sampleRate);

/** Largest step from one sample to the next. */
function largestStep({ samples }: Heard): number {
  let most = 0;
  for (let i = 1; i < samples.length; i++) most = Math.max(most, Math.abs(samples[i]! - samples[i - 1]!));
  return most;
}

test('turned between while it sounds: another pickup, at equal loudness, without a step', async ({
  openSheet,
}) => {
  const page = await open(openSheet);
  await button(page, 'play').first().click();
  await soon(async () => peak((await capture(page, 0.2)).samples)).toBeGreaterThan(1e-3);
  await atRest(page);
  // The level found while it sounds comes a moment later.
  await soon(async () => Math.round(10 * loudness(await listenTo(page)))).toBeCloseTo(-230, -1);
  const b = await capture(page, 6 * PHRASE);
  const turning = capture(page, 4 * PHRASE);
  await page.keyboard.press('a');
  await soon(() => letters(page)).toBe('A* B');
  await atRest(page);
  const turned = await turning;
  const a = await capture(page, 6 * PHRASE);

  // [practice] A closed tone control takes the treble off.
  expect(brightness(a.samples) - brightness(b.samples)).toBeGreaterThan(1);
  // [practice] Half a LU is not heard; the gating block is as long as the phrase.
  expect(Math.abs(loudness(a) - loudness(b))).toBeLessThan(0.5);
  expect(largestStep(turned)).toBeLessThan(1.25 * Math.max(largestStep(a), largestStep(b)));
  // And back.
  await page.keyboard.press('b');
  await soon(async () =>
    Math.abs(brightness((await listenTo(page)).samples) - brightness(b.samples)),
  ).toBeLessThan(0.3);
});

test('an ear that measures gets ten of ten in a blind listen', async ({ openSheet }) => {
  const page = await open(openSheet);
  await trials(page).getByRole('combobox', { name: 'rounds of the blind listen' }).selectOption('10 rounds');
  await trials(page)
    .getByRole('button', { name: /^listen blind/ })
    .click();
  const cover = page.getByRole('dialog', { name: 'Blind listen' });
  await soon(() => cover.innerText()).toMatch(/round 1 of 10/);
  await soon(async () => peak((await capture(page, 0.2)).samples)).toBeGreaterThan(1e-3);

  const bright = async (name: string): Promise<number> => {
    await page.keyboard.press(name);
    // The other pickup is then on its way into the worklet, and the one before rings out.
    await atRest(page);
    await capture(page, PHRASE);
    return brightness((await listenTo(page)).samples);
  };
  const [p, q] = [await bright('p'), await bright('q')];
  expect(Math.abs(p - q)).toBeGreaterThan(1);
  const answers: string[] = [];
  for (let round = 1; round <= 10; round++) {
    const x = await bright('x');
    const answer = Math.abs(x - p) < Math.abs(x - q) ? 'P' : 'Q';
    answers.push(answer);
    await page.keyboard.press(answer === 'P' ? '1' : '2');
  }
  await soon(() => cover.innerText()).toMatch(/10 of 10: you very likely hear it/);
  // [practice] The brighter of the two is the one whose tone control is open, A.
  expect(await cover.innerText()).toContain(p > q ? 'P was trial A, Q trial B' : 'P was trial B, Q trial A');
  await cover.getByRole('button', { name: 'close' }).click();
  await soon(() => cover.count()).toBe(0);
  await soon(() => button(page, 'play').first().isVisible()).toBe(true);
  expect(answers.length).toBe(10);
});
