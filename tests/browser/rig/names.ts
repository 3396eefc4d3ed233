/** Pickups whose names are alike, or stand twice, as a link may bring them. */
import { checkSheet } from '../../../src/sheet/check.ts';
import { encodeLink } from '../../../src/sheet/link.ts';
import type { Sheet } from '../../../src/sheet/sheet.ts';
import { wrap } from '../../../src/sheet/trials.ts';
import { PRESETS } from '../../fixtures/presets.ts';
import { expect, type OpenSheet } from './app.ts';
import { ready, soon } from './hands.ts';
import { atRest } from './rest.ts';

/** A preset by how its file's name begins. */
export function preset(name: string): Sheet {
  const checked = checkSheet(PRESETS.find((one) => one.name.startsWith(name))?.data);
  if (!checked.ok) throw new Error(checked.message);
  return checked.sheet;
}

const named = (sheet: Sheet, names: readonly string[]): Sheet => ({
  ...sheet,
  pickups: sheet.pickups.map((pickup, i) => ({ ...pickup, name: names[i]! })),
});

export const linkTo = (sheet: Sheet): Promise<string> => encodeLink(wrap(sheet));

/** Three pickups of these names are told apart, moved and chosen, each by itself. */
export async function toldApart(openSheet: OpenSheet, names: readonly string[]): Promise<void> {
  const { page } = await openSheet(await linkTo(named(preset('01'), names)));
  await ready(page);
  await page.getByRole('combobox', { name: 'controls of the pickups' }).selectOption('own');
  await soon(() => page.locator('.pots [role="slider"]').count()).toBe(6);
  for (const index of [2, 0, 1]) {
    await page.getByRole('combobox', { name: 'pickup shown in the section' }).selectOption({ index });
    const moved = page.getByRole('slider', { name: /pickup along the string$/ }).nth(index);
    await moved.focus();
    await page.keyboard.press('ArrowLeft');
  }
  // Whoever hears the names alone can tell them apart.
  const spoken = await page
    .locator('section:is([aria-labelledby="placement-title"], [aria-labelledby="parts-title"])')
    .getByRole('textbox')
    .or(page.getByRole('slider', { name: /pickup along the string$/ }))
    .evaluateAll((all) => all.map((e) => `${e.role} ${e.ariaLabel}`));
  expect(spoken.filter((name, i) => spoken.indexOf(name) !== i)).toEqual([]);
  // Each position by itself, whatever it is called.
  const positions = page.locator('fieldset').first().getByRole('radio');
  await soon(() => positions.count()).toBe(7);
  for (let i = 0; i < 7; i++) {
    await positions.nth(i).evaluate((e) => (e as HTMLInputElement).click());
    const on = await positions.evaluateAll((all) => all.map((e) => (e as HTMLInputElement).checked));
    expect(on.indexOf(true)).toBe(i);
  }
  await atRest(page);
  // All three together sound: beside them a curve of each.
  expect(await page.locator('section[aria-labelledby="curve-title"] .drawing path.pickup').count()).toBe(3);
}
