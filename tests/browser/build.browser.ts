/** A pickup's build on the drawing and in the parts list. */
import type { Page } from 'playwright-core';
import { expect, test } from './rig/app.ts';
import { followPointer, standsAt } from './rig/dimensions.ts';
import { overflow, unreachable } from './rig/eyes.ts';
import {
  button,
  changed,
  curves,
  drag,
  field,
  figure,
  FOCUS,
  focusBy,
  pull,
  ready,
  slider,
  soon,
  type,
} from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

const HOLM = 'Holm, two two-coil pickups';
const SADDLE = 'focus of the neck pickup, edge towards the saddle';

/** Waits until everything has been computed, the reach as well: only then are there edges to hold. */
async function computed(page: Page, name = SADDLE): Promise<void> {
  await ready(page);
  await slider(page, name).waitFor();
  await atRest(page);
}

async function openHolm(page: Page): Promise<void> {
  await ready(page);
  await page.getByRole('combobox', { name: 'open another sheet' }).selectOption(HOLM);
  await slider(page, 'focus of the neck row 1, edge towards the nut').waitFor();
  await atRest(page);
}

/**
 * Every kind of thing that is dimensioned: a rod up and down and across, a magnet, a row's place, and the gap, of one row and
 * of two. Every dimension: tests/soak/sweeps.browser.soak.ts.
 */
for (const [sheet, names] of [
  ['one row', ['neck, height of the rod', 'neck, rod diameter', 'gap from']],
  ['two rows', ['neck bar magnet, thickness', "neck row 2, offset from the pickup's centre"]],
] as const)
  test(`${sheet}: dimensions follow the pointer, and Escape puts them back`, async ({ openSheet }) => {
    const { page } = await openSheet();
    if (sheet === 'two rows') await openHolm(page);
    else await computed(page);
    await followPointer(page, names);
    // What is left to undo is that the sheet was opened.
    if (sheet === 'one row') expect(await button(page, 'undo').isDisabled()).toBe(true);
  });

test('a focus that is dragged moves the gap, or the tip where that was chosen, and says which', async ({
  openSheet,
}) => {
  const { page } = await openSheet();
  await computed(page);
  const handle = slider(page, SADDLE);
  const said = (): Promise<string> => handle.getAttribute('aria-valuetext').then((text) => text ?? '');
  const gap = page.locator('.drawing [role="slider"][aria-label^="gap from"]');
  const tip = (): Promise<number> => standsAt(page, 'neck, chamfer of the pole');
  const told = page.locator('.told');
  expect(await said()).toMatch(/^[\d.]+ millimetres wide, by gap$/);
  const before = Number(await gap.getAttribute('aria-valuenow'));
  await pull(page, handle, { x: -6, y: 0 });
  await soon(async () => Number(await gap.getAttribute('aria-valuenow'))).toBeLessThan(before);
  // At the hand: what moves, and what that costs.
  await soon(() => told.innerText()).toMatch(
    /^gap 4\.2 → 3\.\d+ mm bass side[^]*pulled \d\.\d cents flat[^]*\+\d\.\d dB/,
  );
  await page.mouse.up();
  await atRest(page);
  expect(await tip()).toBe(0);
  await button(page, 'undo').click();
  await soon(async () => Number(await gap.getAttribute('aria-valuenow'))).toBe(before);
  await soon(() => button(page, 'undo').isDisabled()).toBe(true);

  await focusBy(page, 'the tip');
  await atRest(page);
  await pull(page, handle, { x: 4, y: 0 });
  await soon(tip).toBeGreaterThan(0);
  await soon(said).toMatch(/by chamfer/);
  await page.keyboard.press('Escape');
  await page.mouse.up();
  await soon(tip).toBe(0);
  // A flat tip can't be made narrower, and nothing else moves for it.
  await pull(page, handle, { x: -9, y: 0 });
  await soon(said).toMatch(/No narrower by the tip: the pole is flat\.$/);
  expect(await told.innerText()).toContain('No narrower by the tip');
  await page.mouse.up();
  await atRest(page);
  expect(Number(await gap.getAttribute('aria-valuenow'))).toBe(before);
  expect(await button(page, 'undo').isDisabled()).toBe(true);
});

test('a focus that is typed is found by the gap, as one step', async ({ openSheet }) => {
  const { page } = await openSheet();
  await computed(page);
  await focusBy(page, 'the gap');
  const before = await figure(page, FOCUS);
  await type(page, FOCUS, '15.2');
  await atRest(page);
  expect(await figure(page, FOCUS)).toBe('15.2 mm');
  expect(await standsAt(page, 'neck, chamfer of the pole')).toBe(0);
  expect(await button(page, 'undo').isEnabled()).toBe(true);
  await button(page, 'undo').click();
  await soon(() => figure(page, FOCUS)).toBe(before);
  await soon(() => button(page, 'undo').isDisabled()).toBe(true);
});

test('set by hand, the focus begins with what was computed', async ({ openSheet }) => {
  const { page } = await openSheet();
  await computed(page);
  const before = await figure(page, FOCUS);
  await focusBy(page, 'hand');
  await field(page, 'sensitivity of the neck pickup').waitFor();
  await atRest(page);
  expect(await figure(page, FOCUS)).toBe(before);
  const gap = page.locator('.drawing [role="slider"][aria-label^="gap from"]');
  const held = await gap.getAttribute('aria-valuenow');
  const drawn = await curves(page);
  await drag(page, slider(page, SADDLE), { x: 20, y: 0 });
  await changed(page, drawn);
  expect(await gap.getAttribute('aria-valuenow')).toBe(held);
});

test('what can not be built is named at its figure, and the last curve stays', async ({ openSheet }) => {
  const { page } = await openSheet();
  await computed(page);
  const drawn = await curves(page);
  const turns = field(page, 'neck, turns');
  await type(page, 'neck, turns', '20000');
  await soon(() => turns.getAttribute('aria-invalid')).toBe('true');
  await atRest(page);
  const told = await turns.getAttribute('aria-describedby');
  expect(await page.locator(`#${told ?? ''}`).innerText()).toMatch(/turns must fit/);
  expect(await curves(page)).toBe(drawn);
  // What stands behind a fold is brought out with its fault.
  await button(page, 'undo').click();
  await soon(() => turns.getAttribute('aria-invalid')).toBeNull();
  expect(await field(page, 'neck, winding window, inner radius').isVisible()).toBe(false);
  await page.locator('section[aria-labelledby="parts-title"]').getByLabel('neck, pole diameter').fill('8 mm');
  await page.keyboard.press('Enter');
  const inner = field(page, 'neck, winding window, inner radius');
  await soon(() => inner.getAttribute('aria-invalid')).toBe('true');
  await soon(() => inner.isVisible()).toBe(true);
  await button(page, 'undo').click();
  await soon(() => curves(page)).toBe(drawn);
});

test('a coil figure is computed, typed over, and computed again when it is cleared', async ({
  openSheet,
}) => {
  const { page } = await openSheet();
  await computed(page);
  const resistance = field(page, 'neck coil, DC resistance');
  const words = (): Promise<string> => resistance.evaluate((e) => e.parentElement?.innerText ?? '');
  await soon(() => resistance.getAttribute('placeholder')).toMatch(/^[\d.]+ kΩ$/);
  await soon(words).toMatch(/computed/);
  await type(page, 'neck coil, DC resistance', '7.2 k');
  await soon(() => figure(page, 'neck coil, DC resistance')).toBe('7.20 kΩ');
  await soon(words).toMatch(/typed/);
  await type(page, 'neck coil, DC resistance', '');
  await soon(words).toMatch(/computed/);
});

test('from 1440 to 390 px the drawing and the parts of two rows can be got at everywhere', async ({
  openSheet,
}) => {
  const { page } = await openSheet();
  await openHolm(page);
  for (const width of [1440, 900, 390]) {
    await page.setViewportSize({ width, height: 900 });
    await atRest(page);
    expect(await overflow(page), `${width} px`).toBe(0);
    // A dimension's name and figure stand on one line, clear of the sentence below.
    const label = page.locator('section[aria-labelledby="placement-title"] .label');
    const middles = await label
      .locator('.before, input')
      .evaluateAll((nodes) =>
        nodes.map((node) => node.getBoundingClientRect()).map((at) => at.top + 0.5 * at.height),
      );
    expect(middles.length).toBe(2);
    expect(Math.abs(middles[0]! - middles[1]!), `${width} px`).toBeLessThan(8);
    for (const place of ['section', 'parts'])
      expect(await unreachable(page, `section[aria-labelledby="${place}-title"]`), `${width} px`).toEqual([]);
  }
});

test('what is unfolded in the parts list stays so while its figures are changed', async ({ openSheet }) => {
  const { page } = await openSheet();
  await computed(page);
  const inner = 'neck, winding window, inner radius';
  await page.getByText('wire and window').first().click();
  await type(page, 'neck, winding window, straight side', '50');
  await soon(() => figure(page, 'neck, winding window, straight side')).toBe('50.0 mm');
  // A figure that contradicts another is refused where it was typed.
  await type(page, inner, '9');
  await soon(() => page.getByRole('alert').innerText()).toMatch(/outer radius of the coil must be more than/);
  await field(page, inner).press('Escape');
  // A pole thicker than the coil's hole is a fault of the hole; what mends it stays in hand.
  await type(page, 'neck, pole diameter', '7');
  await soon(() => field(page, inner).getAttribute('aria-invalid')).toBe('true');
  await type(page, inner, '4');
  await soon(() => field(page, inner).getAttribute('aria-invalid')).toBeNull();
  expect(await field(page, inner).evaluate((node) => node === document.activeElement)).toBe(true);
});
