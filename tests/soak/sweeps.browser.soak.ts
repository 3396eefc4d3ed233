/** All of what npm test does a few of: every dimension, every handle, every gesture, every name, every preset's page for the workbench. */
import { expect, test } from '../browser/rig/app.ts';
import { printOnOnePage } from '../browser/rig/benchPages.ts';
import { browser } from '../browser/rig/browser.ts';
import { followPointer } from '../browser/rig/dimensions.ts';
import { handleNames, showFocus } from '../browser/rig/focusRing.ts';
import { button, ready, slider } from '../browser/rig/hands.ts';
import { neverUnder } from '../browser/rig/inSight.ts';
import { toldApart } from '../browser/rig/names.ts';
import { atRest } from '../browser/rig/rest.ts';
import { moveNothing, places, STEADY_GESTURES } from '../browser/rig/steady.ts';
import { twoTrials } from '../browser/rig/trials.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { soakPlan } from './tools/plan.ts';

const { count } = soakPlan('sweeps', 0, 1);
const sweep = test.runIf(count > 0);

sweep('one row: every dimension follows the pointer, and Escape puts it back', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await slider(page, 'focus of the neck pickup, edge towards the saddle').waitFor();
  await atRest(page);
  await followPointer(page, [
    'neck, height of the rod',
    'neck, chamfer',
    'neck, rod length',
    'neck, rod diameter',
    'gap from',
  ]);
  expect(await button(page, 'undo').isDisabled()).toBe(true);
});

sweep('two rows: every dimension follows the pointer, and Escape puts it back', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await page.getByRole('combobox', { name: 'open another sheet' }).selectOption('Holm, two two-coil pickups');
  await slider(page, 'focus of the neck row 1, edge towards the nut').waitFor();
  await atRest(page);
  await followPointer(page, [
    'neck row 1, screw length, trimmed',
    'neck bar magnet, thickness',
    "neck row 2, offset from the pickup's centre",
    'gap from the pole of row 2',
  ]);
});

sweep('it shows where the focus is, on every handle', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await atRest(page);
  const names = await handleNames(page);
  expect(names.length).toBeGreaterThan(20);
  await showFocus(page, names);
});

sweep('every pickup of every preset is one page of nine points and more, on either paper', async () => {
  const page = await (await browser()).newPage();
  try {
    await printOnOnePage(page, PRESETS);
  } finally {
    await page.close();
  }
});

for (const [width, height] of [
  [1440, 900],
  [390, 844],
] as const)
  sweep(`at ${width} px no gesture moves anything`, async ({ openSheet }) => {
    const { page } = await openSheet('', { viewport: { width, height } });
    await twoTrials(page);
    await atRest(page);
    await moveNothing(page, STEADY_GESTURES, await places(page));
  });

for (const names of [
  ['twin', 'twin', 'twin'],
  ['a', 'b', 'a + b'],
])
  sweep(`pickups named ${names.join(', ')}`, ({ openSheet }) => toldApart(openSheet, names));

sweep('at 1440 px what has the focus is never under the strip', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await atRest(page);
  await neverUnder(page, { width: 1440, height: 900 });
});
