/** Nothing moves under the hand, everything may be read, and a finger finds everything. */
import { MOST_LETTERS } from '../../src/state/whyWords.ts';
import { expect, test } from './rig/app.ts';
import { overflow, smallTargets, smallText, watched } from './rig/eyes.ts';
import { button, FOCUS, ready, said, slider, soon, type, unfoldAll } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';
import { moveNothing, places } from './rig/steady.ts';
import { twoTrials } from './rig/trials.ts';

/**
 * What is said at the hand, in the section and under it, and across the strings: where it moves and where it may not; on a
 * telephone where most is said. More gestures: tests/soak/sweeps.browser.soak.ts.
 */
for (const [width, height, gestures] of [
  [
    1440,
    900,
    [
      'the gap far down',
      'the focus past its end',
      'the pole thicker than its coil’s hole',
      'the bass side alone',
    ],
  ],
  [390, 844, ['the gap far down', 'the pole thicker than its coil’s hole']],
] as const)
  test(`at ${width} px a gesture and what is said of it move nothing`, async ({ openSheet }) => {
    const { page } = await openSheet('', { viewport: { width, height } });
    await twoTrials(page);
    await atRest(page);
    const before = await places(page);
    await moveNothing(page, gestures, before);
    // A mod, and what it changed.
    const mods = page.getByRole('region', { name: 'Mods' });
    await mods.getByRole('button', { name: 'raise' }).click();
    await soon(() => mods.innerText()).toContain('raised by 0.5 mm');
    await atRest(page);
    expect(await places(page), 'a mod').toEqual(before);
    // Its figures only where somebody asks for them; and they stay while another is made.
    await mods.getByRole('button', { name: 'figures' }).click();
    await mods.getByRole('table').waitFor();
    await mods.getByRole('img', { name: /^What the ear gets more of/ }).waitFor();
    const with_ = await places(page);
    const moved = await watched(page, mods);
    await mods.getByRole('button', { name: 'lower' }).click();
    await soon(() => mods.innerText()).toContain('lowered by 0.5 mm');
    await atRest(page);
    expect(await moved(), 'heights of the mods while another is found').toHaveLength(1);
    expect(await places(page), 'a mod after a mod').toEqual(with_);
    await mods.getByRole('button', { name: 'figures' }).click();
    await mods.getByRole('button', { name: 'done' }).click();
    for (let i = 0; i < 2; i++) await page.keyboard.press('Control+z');
    await atRest(page);
    expect(await places(page), 'mods taken back').toEqual(before);
    // All that follows from a swapped magnet and a moved gap can be read, and takes no more room than anything else.
    await page.getByRole('combobox', { name: 'swap the magnets for' }).selectOption('alnico 2');
    const line = page.getByRole('region', { name: 'What followed' }).getByRole('status');
    await soon(() => line.innerText()).toMatch(/alnico 2/);
    expect(await line.evaluate((e) => e.scrollHeight - e.clientHeight), 'what followed').toBeLessThanOrEqual(
      0,
    );
    await page.keyboard.press('Control+z');
    await atRest(page);
    // What is refused, and what is said in the title block.
    await type(page, 'cable length', 'long');
    await page.getByRole('alert').first().waitFor();
    expect(await places(page), 'refused').toEqual(before);
    await page.keyboard.press('Escape');
    await button(page, 'copy link').click();
    await soon(() => said(page)).toMatch(/link/);
    expect(await places(page), 'the link').toEqual(before);
  });

test('the gap by the keys: a step, a page, an end, and the drawing keeps its room', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await atRest(page);
  const before = await places(page);
  await page.locator('.drawing [role="slider"][aria-label^="gap from"]').focus();
  for (const key of ['ArrowUp', 'PageUp', 'PageUp', 'PageDown']) {
    await page.keyboard.press(key);
    await atRest(page);
    expect(await places(page), key).toEqual(before);
  }
});

/** As long as what follows from a change is ever said to be. */
const MUCH = Array<string>(5)
  .fill('Neck: gap 4.20 → 5.30 mm and 2.60 → 3.70 mm: pull −3.5 → −11.2 cents (16.7 mT at the string). ')
  .join('')
  .slice(0, MOST_LETTERS);

test('every text has 14 px or more, and on a telephone everything that answers is 44 px large', async ({
  openSheet,
}) => {
  const { page } = await openSheet();
  await twoTrials(page);
  await atRest(page);
  await unfoldAll(page);
  const sizes = [
    [1440, 900],
    [1280, 720],
    [900, 900],
    [720, 450],
    [390, 844],
  ] as const;
  const atEach = async (look: (width: number) => Promise<void>): Promise<void> => {
    for (const [width, height] of sizes) {
      await page.setViewportSize({ width, height });
      await atRest(page);
      await look(width);
    }
  };
  await atEach(async (width) => {
    expect(await smallText(page, 14), `${width} px`).toEqual([]);
    expect(await overflow(page), `${width} px`).toBe(0);
  });
  // It is a telephone's now.
  expect(await smallTargets(page, 44)).toEqual([]);
  // And what a part is made of has most of the width.
  const cells = (await page
    .locator('section[aria-labelledby="parts-title"] tbody .cells')
    .first()
    .boundingBox())!;
  expect(cells.width).toBeGreaterThan(0.6 * 390);

  // What a mod changed finds room in its column.
  const mods = page.getByRole('region', { name: 'Mods' });
  await mods.getByRole('button', { name: 'raise' }).click();
  await mods.getByRole('button', { name: 'figures' }).click();
  const table = mods.getByRole('table');
  await table.waitFor();
  // What follows from a change has its room, however much is said of it.
  const line = page.getByRole('region', { name: 'What followed' }).getByRole('status');
  await atEach(async (width) => {
    const room = (await mods.boundingBox())!.width + 0.5;
    expect((await table.boundingBox())!.width, `figures of a mod at ${width} px`).toBeLessThanOrEqual(room);
    expect(await overflow(page), `${width} px`).toBe(0);
    const hidden = await line.evaluate((e, words) => {
      e.firstChild!.nodeValue = words;
      e.classList.add('long');
      return e.scrollHeight - e.clientHeight;
    }, MUCH);
    expect(hidden, `px of what followed at ${width} px`).toBeLessThanOrEqual(0);
  });
});

test('at 1280 × 720 play, section, curve and the focus are on the screen together', async ({ openSheet }) => {
  const { page } = await openSheet('', { viewport: { width: 1280, height: 720 } });
  await ready(page);
  await atRest(page);
  const all = {
    play: button(page, 'play').first(),
    'what followed': page.getByRole('region', { name: 'What followed' }),
    section: page.locator('section[aria-labelledby="section-title"]'),
    curve: page.locator('section[aria-labelledby="curve-title"]'),
    focus: slider(page, `${FOCUS}, edge towards the saddle`),
    figure: page.getByRole('textbox', { name: FOCUS, exact: true }),
    gap: page.locator('.drawing [role="slider"][aria-label^="gap from"]'),
  };
  for (const [name, part] of Object.entries(all)) {
    const box = (await part.boundingBox())!;
    expect(box.y, name).toBeGreaterThanOrEqual(0);
    expect(box.y + box.height, name).toBeLessThanOrEqual(720);
  }
});
