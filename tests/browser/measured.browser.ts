/** A measured curve laid over the predicted one: dropped or chosen, asked about, taken over and taken away. */
import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { breaches, expect, shot, test } from './rig/app.ts';
import { overflow, smallTargets } from './rig/eyes.ts';
import { button, CLIPBOARD, layOn, ready, sheetOf, soon } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

const PLACE = 'section[aria-label="Measured curve"]';
const FOLDER = 'tests/reference/ngspice-measured';
const file = (name: string): string => `${FOLDER}/${name}.txt`;
const says = (page: Page): Promise<string> => page.locator(PLACE).innerText();
const lay = (page: Page, path: string): Promise<void> =>
  page.locator(`${PLACE} input[type="file"]`).setInputFiles(path);
const choice = (page: Page, name: string) => page.getByRole('combobox', { name, exact: true });

/** A file let go of over the page. */
const drop = (page: Page, name: string, content: string): Promise<void> =>
  page.evaluate(
    ([called, text]) => {
      const transfer = new DataTransfer();
      transfer.items.add(new File([text!], called!));
      for (const type of ['dragover', 'drop'])
        document.body.dispatchEvent(
          new DragEvent(type, { dataTransfer: transfer, bubbles: true, cancelable: true }),
        );
    },
    [name, content],
  );

test('a curve that was measured lies over the predicted one until it is taken away; the sheet stays as it is', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', CLIPBOARD);
  await ready(page);
  const before = await sheetOf(page);
  await drop(page, 'guitar.txt', readFileSync(file('single-coil-in-guitar'), 'utf8'));
  await soon(() => page.locator('.banner').innerText()).toMatch(
    /The measured curve lies over the predicted one/,
  );
  await button(page, 'put away').click();
  await soon(() => says(page)).toMatch(
    /Shifted by [−+]\d+\.\d dB .*Nowhere a tenth of a dB apart\. Both peak at 4\.\d+ kHz\./s,
  );
  expect(await page.locator('.curve .measured path').count()).toBe(2);
  expect(await sheetOf(page)).toEqual(before);
  expect(await button(page, 'undo').first().isDisabled()).toBe(true);
  await page.reload();
  await ready(page);
  await soon(() => says(page)).toMatch(/guitar\.txt/);
  await soon(() => page.locator('.curve .measured path').count()).toBe(2);
  await shot(page, '1440-measured');

  // By keyboard; the focus stays where it was.
  await button(page, 'take the measured curve away').focus();
  await page.keyboard.press('Enter');
  expect(await page.locator('.curve .measured').count()).toBe(0);
  expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('lay a measured curve over it');
  await page.reload();
  await ready(page);
  await button(page, 'lay a measured curve over it').waitFor();

  // |Z| printed as volts for 1 A: what it is can only be asked.
  await lay(page, file('single-coil-impedance-c-110'));
  await soon(() => says(page)).toMatch(/The file leaves open what the curve is: choose above\./);
  await choice(page, 'what the curve is').selectOption('|Z|, Ω');
  await soon(() => says(page)).toMatch(/4\.\d % below the predicted one.*The curve says C = 74\.\d pF/s);
  await page.locator(PLACE).scrollIntoViewIfNeeded();
  await shot(page, '1440-measured-z');
  await button(page, 'take over as the coil’s figures').click();
  await soon(async () => (await sheetOf(page)).pickups[0]!.rows[0]!.coil.capacitance).toBeCloseTo(
    74.6e-12,
    12,
  );
  await soon(() => says(page)).toMatch(/Nowhere a tenth|0\.\d dB apart at most/);
  await button(page, 'undo').first().click();
  expect(await sheetOf(page)).toEqual(before);

  // What is none is said, and leaves the one that lies there.
  await lay(page, 'presets/01-skerry-three-single-coils.json');
  await soon(() => says(page)).toMatch(/must be a table of frequency against level or impedance; got/);
  expect(await says(page)).toMatch(/single-coil-impedance-c-110/);
});

test('axe finds nothing to object to at 390 and 720 px, and nothing hangs out', async ({ openSheet }) => {
  const { page } = await openSheet('', { viewport: { width: 390, height: 844 }, colorScheme: 'dark' });
  await ready(page);
  await button(page, 'lay a measured curve over it').waitFor();
  await lay(page, file('single-coil-level-c-110'));
  await choice(page, 'of what the level was measured').selectOption('of the pickup by itself');
  await soon(() => says(page)).toMatch(/The peak says C = 7\d\.\d pF/);
  for (const [width, height, paper] of [
    [390, 844, 'night'],
    // A window of 1440 × 900 px at twice its size.
    [720, 450, 'day'],
  ] as const) {
    const at = `${width} px`;
    await page.setViewportSize({ width, height });
    await layOn(page, paper);
    await atRest(page);
    await page.locator(PLACE).scrollIntoViewIfNeeded();
    await shot(page, `${width}-measured`);
    expect(await overflow(page), at).toBe(0);
    if (width < 700) expect(await smallTargets(page, 44), at).toEqual([]);
    expect(await breaches(page, PLACE), at).toEqual([]);
  }
});
