/** Names, notes and sentences that stand twice, as a link may bring them. */
import { expect, test } from './rig/app.ts';
import { figure, ready, slider, soon } from './rig/hands.ts';
import { linkTo, preset, toldApart } from './rig/names.ts';
import { atRest } from './rig/rest.ts';

/** One name twice, and that of all together; and one that two others make. More of them: tests/soak/sweeps.browser.soak.ts. */
for (const names of [
  ['all three', 'a', 'a'],
  ['a + b', 'a', 'b'],
])
  test(`pickups named ${names.join(', ')}`, ({ openSheet }) => toldApart(openSheet, names));

test('two notes on one string and beat', async ({ openSheet }) => {
  const sheet = preset('01');
  const line = [
    { string: 3, beat: 0, fret: 2 },
    { string: 3, beat: 0, fret: 5 },
    { string: 3, beat: 0, fret: 2 },
    { string: 2, beat: 1, fret: 3 },
  ];
  const { page } = await openSheet(
    await linkTo({ ...sheet, listen: { ...sheet.listen, play: 'line', line } }),
  );
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
    await linkTo({ ...sheet, pickups: [{ ...first!, build: { ...build, rows } }, ...rest] }),
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
