/** Mods that can't be done: what is said, where, and for how long. */
import type { Locator, Page } from 'playwright-core';
import { expect, test } from './rig/app.ts';
import { overflow, unreachable } from './rig/eyes.ts';
import { CABLE, field, figure, ready, soon, type } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

const mods = (page: Page): Locator => page.getByRole('region', { name: 'Mods' });
const alert = (page: Page): Locator => mods(page).getByRole('alert');
/** The sheet's own; the mods have one as well. */
const undo = (page: Page): Locator => page.getByTitle('Ctrl+Z', { exact: true });
const LIFT = 'how far to raise or lower the pickup';
const BEVEL = 'bevel the poles, at 45°';

async function raiseBy(page: Page, millimetres: string): Promise<void> {
  await type(page, LIFT, millimetres);
  await soon(() => figure(page, LIFT)).toBe(`${millimetres} mm`);
  await mods(page).getByRole('button', { name: 'raise' }).click();
}

for (const width of [1440, 900, 390])
  test(`at ${width} px a mod that can’t be done says the rule and what to do beneath it, until its figure changes`, async ({
    openSheet,
  }) => {
    const { page } = await openSheet('', { viewport: { width, height: 900 } });
    await ready(page);
    await raiseBy(page, '5.0');
    await soon(() => alert(page).innerText()).toMatch(
      /gap to the string must be between 0.5 mm and 15.0 mm; got −[\d.]+ mm\. Raise it by at most ([\d.]+) mm\.$/,
    );
    const raise = mods(page).getByRole('button', { name: 'raise' });
    // It stands beneath its own row, and is read with the button.
    const row = raise.locator('xpath=..');
    expect(await row.getByRole('alert').count()).toBe(1);
    expect(await raise.getAttribute('aria-describedby')).toBe(await alert(page).getAttribute('id'));
    const [above, below] = [await raise.boundingBox(), await alert(page).boundingBox()];
    expect(below!.y).toBeGreaterThanOrEqual(above!.y + above!.height - 1);
    expect(await overflow(page)).toBe(0);
    expect(await unreachable(page, 'section[aria-labelledby="mods-title"]')).toEqual([]);
    expect(await undo(page).isDisabled()).toBe(true);

    const [, most] = /at most ([\d.]+) mm/.exec(await alert(page).innerText())!;
    await type(page, LIFT, most!);
    await soon(() => alert(page).count()).toBe(0);
    await raise.click();
    await soon(() => mods(page).innerText()).toContain('raised by');
    await soon(() => undo(page).isEnabled()).toBe(true);
  });

test('a bevel that leaves no land is refused in its field; the pickup’s next change ends it', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', { still: true });
  await ready(page);
  await type(page, BEVEL, '4.9');
  await soon(() => field(page, BEVEL).getAttribute('aria-invalid')).toBe('true');
  const told = (await field(page, BEVEL).getAttribute('aria-describedby')) ?? '';
  expect(await page.locator(`#${told}`).innerText()).toMatch(
    /^Bevel must be at most [\d.]+ mm, so that a land is left on top of the rods; got 4.90? mm\./,
  );
  // What stands elsewhere on the sheet is no matter of the pickup's.
  await type(page, CABLE, '5');
  await soon(() => figure(page, CABLE)).toBe('5.0 m');
  expect(await figure(page, BEVEL)).toBe('0.00 mm');
  expect(await field(page, BEVEL).getAttribute('aria-invalid')).toBe('true');
  await raiseBy(page, '0.1');
  await soon(() => field(page, BEVEL).getAttribute('aria-invalid')).toBeNull();
});

test('a mod that would change nothing says so', async ({ openSheet }) => {
  const { page } = await openSheet('', { still: true });
  await ready(page);
  await type(page, 'neck, turns', '10');
  await soon(() => figure(page, 'neck, turns')).toBe('10');
  await type(page, 'share of the turns to remove', '1');
  await soon(() => figure(page, 'share of the turns to remove')).toBe('1 %');
  await mods(page).getByRole('button', { name: 'remove' }).click();
  await soon(() => alert(page).innerText()).toBe('The turns stay as they are: 1 % of them is less than one.');
  expect(await figure(page, 'neck, turns')).toBe('10');
});

test('a mod whose result can’t be computed says why, and undo takes it back', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  // The strings come nearer to the poles than a cover is thick.
  await raiseBy(page, '5.0');
  await soon(() => alert(page).count()).toBe(1);
  const [, most] = /at most ([\d.]+ mm)/.exec(await alert(page).innerText())!;
  await type(page, LIFT, most!);
  await soon(() => alert(page).count()).toBe(0);
  await mods(page).getByRole('button', { name: 'raise' }).click();
  await soon(() => mods(page).innerText()).toContain(`raised by ${most!}`);
  await atRest(page);
  await mods(page).getByRole('button', { name: 'put on', exact: true }).click();
  await soon(() => alert(page).innerText()).toMatch(/^This can’t be computed\. The cover .* string 1/);
  expect(await mods(page).getByRole('table').count()).toBe(0);
  await mods(page).getByRole('button', { name: 'undo' }).click();
  await soon(() => alert(page).count()).toBe(0);
  await mods(page).getByRole('button', { name: 'put on', exact: true }).waitFor();
});
