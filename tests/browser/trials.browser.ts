/** Trials beside one another: added, changed, turned between, taken back, sent, heard blind. */
import type { Locator, Page } from 'playwright-core';
import { breaches, expect, test } from './rig/app.ts';
import { watched } from './rig/eyes.ts';
import { button, CABLE, CLIPBOARD, curves, figure, ready, soon, type } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';
import { documentOf, letters, trials, twoTrials } from './rig/trials.ts';

/** What is said and kept of trials does not hang on what is computed of them. */
const STILL = { still: true };
const mods = (page: Page): Locator => page.getByRole('region', { name: 'Mods' });

test('a trial is a copy, changes by itself, and is turned to with the mouse, with keys and back by undo', async ({
  openSheet,
}) => {
  const { page } = await openSheet();
  await ready(page);
  expect(await letters(page)).toBe('A*');
  await atRest(page);
  const first = await curves(page);
  await twoTrials(page);
  await soon(() => curves(page)).not.toBe(first);
  await atRest(page);
  const second = await curves(page);

  await trials(page)
    .getByRole('radio', { name: /^trial A/ })
    .check();
  await soon(() => figure(page, CABLE)).toBe('3.0 m');
  await page.evaluate(() => {
    (document.activeElement as HTMLElement).blur();
  });
  for (const [key, letter, metres] of [
    ['2', 'A B*', '12.0 m'],
    ['a', 'A* B', '3.0 m'],
    ['b', 'A B*', '12.0 m'],
    // There is no third.
    ['3', 'A B*', '12.0 m'],
    ['1', 'A* B', '3.0 m'],
  ] as const) {
    await page.keyboard.press(key);
    await soon(async () => [await letters(page), await figure(page, CABLE)], key).toEqual([letter, metres]);
  }
  await page.keyboard.press('b');
  await soon(() => curves(page)).toBe(second);

  // Arrow keys within the group, as in any group of radio buttons.
  await trials(page)
    .getByRole('radio', { name: /^trial B/ })
    .focus();
  await page.keyboard.press('ArrowLeft');
  await soon(() => letters(page)).toBe('A* B');
  await page.keyboard.press('ArrowRight');
  await soon(() => letters(page)).toBe('A B*');

  // Turning was no step: the cable first, then the trial itself.
  await button(page, 'undo').click();
  await soon(() => figure(page, CABLE)).toBe('3.0 m');
  await button(page, 'undo').click();
  await soon(() => letters(page)).toBe('A*');
  await button(page, 'redo').click();
  await button(page, 'redo').click();
  await soon(() => figure(page, CABLE)).toBe('12.0 m');
  expect(await letters(page)).toBe('A B*');
});

test('what is typed is text, and the single keys can be turned off', async ({ openSheet }) => {
  const { page } = await openSheet('', STILL);
  await twoTrials(page);
  await page.getByRole('textbox', { name: 'title', exact: true }).fill('a1');
  await page.keyboard.type('a1');
  expect(await letters(page)).toBe('A B*');
  await trials(page).getByRole('button', { name: 'keys 1–6 and a–f on' }).click();
  await page.keyboard.press('1');
  expect(await letters(page)).toBe('A B*');
  await page.reload();
  await ready(page);
  await page.keyboard.press('1');
  expect(await letters(page)).toBe('A B*');
  await trials(page).getByRole('button', { name: 'keys 1–6 and a–f off' }).click();
  await page.keyboard.press('1');
  await soon(() => letters(page)).toBe('A* B');
});

test('what differs stands in a table; a trial taken out comes back; every trial is saved as a sound', async ({
  openSheet,
}) => {
  const { page } = await openSheet();
  await twoTrials(page);
  await trials(page)
    .getByText(/^what differs/)
    .click();
  const table = trials(page).getByRole('table');
  // A longer cable lowers the resonance and leaves the magnet alone.
  const row = table.getByRole('row', { name: /^resonance/ });
  await soon(() => row.innerText()).toMatch(/−\d+(\.\d)? %$/);
  const resonance = await row.innerText();
  expect(await table.getByRole('row', { name: /^field at the string/ }).innerText()).not.toMatch(/%/);
  // While it is found what is heard of another cable, which stands under the response curve, nothing jumps.
  const curve = page.getByRole('region', { name: 'Curve', exact: true });
  await curve.getByRole('img', { name: /^What the ear gets more of/ }).waitFor();
  const under = await watched(page, curve);
  const heights = await watched(page, trials(page));
  await type(page, CABLE, '9');
  await soon(() => row.innerText()).not.toBe(resonance);
  await atRest(page);
  expect([await heights(), await under()]).toEqual([[expect.any(Number)], [expect.any(Number)]]);
  await trials(page).getByRole('button', { name: 'take B out' }).click();
  await soon(() => letters(page)).toBe('A*');
  await button(page, 'undo').click();
  await soon(() => letters(page)).toBe('A B*');

  // Every trial is saved as a sound, with one report.
  const names: string[] = [];
  page.on('download', (file) => names.push(file.suggestedFilename()));
  await trials(page).getByRole('button', { name: 'every trial as WAV, 24 bit' }).click();
  await soon(() => names.length).toBe(3);
  expect(names).toEqual([
    'A Skerry, three single coils.wav',
    'B Skerry, three single coils, variant 2.wav',
    'Skerry, three single coils, trials.txt',
  ]);
});

test('a link and a reload carry all trials', async ({ openSheet }) => {
  const { page } = await openSheet('', { ...STILL, ...CLIPBOARD });
  await twoTrials(page);
  await page.keyboard.press('Escape');
  const sent = await documentOf(page);
  expect(sent.trials.map((s) => s.harness.cable.length)).toEqual([3, 12]);
  await soon(() => page.url()).toMatch(/#./);
  const link = page.url();

  const { page: other } = await openSheet(new URL(link).hash, { ...STILL, ...CLIPBOARD });
  await soon(() => letters(other)).toBe('A B*');
  expect(await documentOf(other)).toEqual(sent);
  expect(await figure(other, CABLE)).toBe('12.0 m');

  await trials(page)
    .getByRole('radio', { name: /^trial A/ })
    .check();
  await type(page, CABLE, '5');
  await soon(() => figure(page, CABLE)).toBe('5.0 m');
  await page.reload();
  await ready(page);
  await soon(() => letters(page)).toBe('A* B');
  expect((await documentOf(page)).trials.map((s) => s.harness.cable.length)).toEqual([5, 12]);
});

test('a mod shows what it changed and is kept as a trial', async ({ openSheet }) => {
  const { page } = await openSheet('', CLIPBOARD);
  await ready(page);
  await mods(page).getByRole('button', { name: 'remove' }).click();
  await mods(page).getByRole('button', { name: 'figures' }).click();
  const row = mods(page).getByRole('row', { name: /^inductance/ });
  // Inductance goes with the square of the turns: 0.95² is 9.75 % less, and the coil's shape hardly changes.
  await soon(() => row.innerText()).toMatch(/−(9|10)(\.\d)? %$/);
  await mods(page).getByRole('button', { name: 'undo' }).click();
  await soon(() => row.count()).toBe(0);
  await mods(page).getByRole('button', { name: 'remove' }).click();
  await mods(page)
    .getByRole('button', { name: /^keep both/ })
    .click();
  await soon(() => letters(page)).toBe('A B*');
  const { trials: both } = await documentOf(page);
  const [before, after] = both.map((s) => s.pickups[0]!.build!.rows[0]!.turns);
  expect(after).toBe(Math.round(0.95 * before!));
  expect(both[1]!.title).toBe(`${both[0]!.title}, 5 % of the turns removed`);
});

test('a blind listen of ten rounds by keyboard alone; the result is kept with the sheet', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', CLIPBOARD);
  await twoTrials(page);
  const rounds = trials(page).getByRole('combobox', { name: 'rounds of the blind listen' });
  await rounds.selectOption('10 rounds');
  await rounds.focus();
  await page.keyboard.press('Shift+Tab');
  await soon(() => page.evaluate(() => document.activeElement?.textContent)).toBe(
    'listen blind: B against A',
  );
  await page.keyboard.press('Enter');
  const cover = page.getByRole('dialog', { name: 'Blind listen' });
  await soon(() => cover.innerText()).toMatch(/round 1 of 10 · you hear X/);

  // Nothing of the sheet is to be seen or reached, and its keys are dead.
  const box = await cover.boundingBox();
  expect(box).toMatchObject({ x: 0, y: 0, width: 1440, height: 900 });
  const seen = await page.evaluate(() => {
    const covered = document.querySelector('dialog')!;
    const points = Array.from(
      { length: 100 },
      (_, i) => [7 + 144 * (i % 10), 7 + 90 * Math.floor(i / 10)] as const,
    );
    return points.every(([x, y]) => covered.contains(document.elementFromPoint(x, y)));
  });
  expect(seen).toBe(true);
  expect(await cover.innerText()).not.toMatch(/trial [A-F]|\bdB\b/);
  for (const key of ['1', 'Control+z', 'b']) await page.keyboard.press(key);
  // «1» was an answer, the others nothing.
  await soon(() => cover.innerText()).toMatch(/round 2 of 10/);

  // The volume is the listener's: arrows on it are no answers, and it tells nothing.
  const volume = cover.getByRole('slider', { name: 'volume' });
  await volume.press('ArrowLeft');
  await soon(() => volume.getAttribute('aria-valuetext')).toBe('49 percent');
  expect(await cover.innerText()).toMatch(/round 2 of 10/);
  await cover.getByRole('button', { name: 'hear X' }).focus();

  for (let round = 2; round <= 10; round++) {
    for (const name of ['p', 'q', 'x']) {
      await page.keyboard.press(name);
      await soon(() => cover.innerText()).toContain(`you hear ${name.toUpperCase()}`);
    }
    await page.keyboard.press(round % 2 ? 'ArrowLeft' : '2');
  }
  const verdict = /(\d+) of 10: .*guessing does as well in/;
  await soon(() => cover.innerText()).toMatch(verdict);
  const right = Number(verdict.exec(await cover.innerText())![1]);
  expect(await cover.innerText()).toMatch(/P was trial [AB], Q trial [AB]/);
  await page.keyboard.press('Enter');
  await soon(() => cover.count()).toBe(0);
  await soon(() => trials(page).getByRole('list', { name: 'kept blind listens' }).innerText()).toMatch(
    verdict,
  );
  expect(await letters(page)).toBe('A B*');
  const { blind } = await documentOf(page);
  expect(blind).toMatchObject([{ a: 0, b: 1, rounds: 10, right }]);
});

test('trials and blind listen are accessible; one that is left with Escape counts for nothing', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', CLIPBOARD);
  await twoTrials(page);
  await trials(page)
    .getByText(/^what differs/)
    .click();
  expect(await breaches(page)).toEqual([]);
  await trials(page)
    .getByRole('button', { name: /^listen blind/ })
    .click();
  const cover = page.getByRole('dialog', { name: 'Blind listen' });
  await soon(() => cover.innerText()).toMatch(/round 1 of 16/);
  expect(await breaches(page)).toEqual([]);
  await page.keyboard.press('1');
  await page.keyboard.press('Escape');
  await soon(() => cover.count()).toBe(0);
  expect((await documentOf(page)).blind).toEqual([]);
  await soon(() => button(page, 'play').first().isVisible()).toBe(true);
});
