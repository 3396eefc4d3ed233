/** Names, notes and sentences that stand twice, as a link may bring them. */
import { checkSheet } from '../../src/sheet/check.ts';
import { encodeLink } from '../../src/sheet/link.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { expect, test } from './rig/app.ts';
import { figure, ready, slider, soon } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

function preset(name: string): Sheet {
  const checked = checkSheet(PRESETS.find((one) => one.name.startsWith(name))?.data);
  if (!checked.ok) throw new Error(checked.message);
  return checked.sheet;
}

const named = (sheet: Sheet, names: readonly string[]): Sheet => ({
  ...sheet,
  pickups: sheet.pickups.map((pickup, i) => ({ ...pickup, name: names[i]! })),
});

const link = (sheet: Sheet): Promise<string> => encodeLink(wrap(sheet));

for (const names of [
  ['twin', 'twin', 'twin'],
  ['a', 'b', 'a + b'],
  ['a + b', 'a', 'b'],
  ['all three', 'a', 'a'],
])
  test(`pickups named ${names.join(', ')}`, async ({ openSheet }) => {
    const { page } = await openSheet(await link(named(preset('01'), names)));
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
  });

test('two notes on one string and beat', async ({ openSheet }) => {
  const sheet = preset('01');
  const line = [
    { string: 3, beat: 0, fret: 2 },
    { string: 3, beat: 0, fret: 5 },
    { string: 3, beat: 0, fret: 2 },
    { string: 2, beat: 1, fret: 3 },
  ];
  const { page } = await openSheet(await link({ ...sheet, listen: { ...sheet.listen, play: 'line', line } }));
  await ready(page);
  const note = page.getByRole('textbox', { name: 'fret at string 3, bar 1, beat 1' });
  await note.focus();
  await page.keyboard.press('Delete');
  await soon(() => note.inputValue()).toBe('');
  await soon(() => page.getByText('1 of 64 notes').count()).toBe(1);
  await atRest(page);
});

test('one fault in both rows', async ({ openSheet }) => {
  const sheet = preset('09');
  const [first, ...rest] = sheet.pickups;
  const build = first!.build!;
  const rows = build.rows.map((row) => ({ ...row, turns: 30_000 }));
  const { page } = await openSheet(
    await link({ ...sheet, pickups: [{ ...first!, build: { ...build, rows } }, ...rest] }),
  );
  await soon(() =>
    page.locator('main .message, main .told, main .trouble, main .fault').allInnerTexts(),
  ).not.toHaveLength(0);
  // Of the other pickup, the parts of the first are folded away and its faults stand above the list.
  await page.getByRole('combobox', { name: 'pickup shown in the section' }).selectOption({ index: 1 });
  await soon(() => page.locator('#parts-title ~ .fault').allInnerTexts()).not.toHaveLength(0);
  const said = await page.locator('#parts-title ~ .fault').allInnerTexts();
  expect(new Set(said).size).toBe(said.length);
  await atRest(page);
  expect(await slider(page, 'pluck point, distance from the saddle').count()).toBe(1);
  expect(await figure(page, 'scale length')).toMatch(/mm/);
});
