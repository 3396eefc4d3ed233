/** Sheets that come with the program open; and a handle at its end leaves the others in order. */
import { expect, test } from './rig/app.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { figure, ready, slider, soon } from './rig/hands.ts';
import { presetsOpen, presetTitles } from './rig/presets.ts';
import { atRest } from './rig/rest.ts';

test('a pole at its highest, then another pickup is moved and looked at', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await atRest(page);
  await slider(page, 'height of pole 1, rods').focus();
  await page.keyboard.press('End');
  await soon(() => figure(page, 'height of pole 1, rods')).toBe('5.00 mm');
  for (const name of ['bridge', 'middle']) {
    await slider(page, `${name} pickup along the string`).focus();
    await page.keyboard.press('ArrowLeft');
    // The drawing follows.
    await slider(page, `${name} pickup, slant`).waitFor();
    await soon(() => page.getByRole('region', { name: 'Across the strings' }).innerText()).toMatch(
      new RegExp(`· ${name} ·`),
    );
  }
});

/**
 * Of every kind of build one: two rows with a bar, screws and covers; a bass, whose strings are as few as there may be; rods with
 * a keeper and side magnets; two blades. Three single coils open by themselves. All presets: tests/soak/ends.browser.soak.ts.
 */
const KINDS = /^(14|15|17|18)-/;
const BASS = /bass/;

test('a preset of every kind of build opens, is drawn and may be played', async ({ openSheet }) => {
  const opened = await openSheet();
  const { page } = opened;
  await ready(page);
  const presets = await presetTitles(page);
  expect(presets.length).toBeGreaterThanOrEqual(16);
  const kinds = PRESETS.filter(({ name }) => KINDS.test(name)).map(
    ({ data }) => (data as { title: string }).title,
  );
  expect(presets).toEqual(expect.arrayContaining(kinds));
  expect(kinds).toHaveLength(4);
  await presetsOpen(opened, kinds, async (preset) => {
    // Folded in, where the strings are.
    const fewer = page.getByRole('button', {
      name: 'take the lowest string off',
      exact: true,
      includeHidden: true,
    });
    expect(await fewer.count(), preset).toBe(BASS.test(preset) ? 0 : 1);
  });
  expect(kinds.filter((preset) => BASS.test(preset))).toHaveLength(1);
});
