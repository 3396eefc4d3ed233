/** What stays in sight while the sheet scrolls: play, a small curve, the figures, trials and undo. */
import type { Page } from 'playwright-core';
import { breaches, expect, shot, test } from './rig/app.ts';
import { button, CABLE, layOn, ready, setCable, soon } from './rig/hands.ts';
import { neverUnder, strip } from './rig/inSight.ts';
import { atRest } from './rig/rest.ts';
import { twoTrials } from './rig/trials.ts';

const curve = (page: Page): Promise<(string | null)[]> =>
  strip(page)
    .locator('svg.curve path')
    .evaluateAll((all) => all.map((path) => path.getAttribute('d')));

/** Where every part of the sheet stands on the page, px. */
const places = (page: Page): Promise<string[]> =>
  page.locator('main section').evaluateAll((all) =>
    all.map((e) => {
      const { top, height } = e.getBoundingClientRect();
      return `${(top + scrollY).toFixed(1)} ${height.toFixed(1)}`;
    }),
  );

async function lookAt(page: Page, heading: string | RegExp): Promise<void> {
  await page
    .getByRole('heading', { name: heading, exact: true })
    .evaluate((e) => e.scrollIntoView({ block: 'start', behavior: 'instant' }));
}

for (const [width, height] of [
  [1440, 900],
  [390, 844],
] as const)
  test(`at ${width} px it shows what follows while parts are changed, and moves nothing`, async ({
    openSheet,
  }) => {
    const { page } = await openSheet('', { viewport: { width, height } });
    await twoTrials(page);
    await atRest(page);
    await page.evaluate(() => scrollTo({ top: 0, behavior: 'instant' }));
    const wide = width > 700;
    // On a telephone play, trial and string are always at hand.
    await soon(() => strip(page).isVisible()).toBe(!wide);
    const before = await places(page);
    for (const heading of ['Plan', 'Per string', 'Parts']) {
      await lookAt(page, heading);
      await soon(async () => (await curve(page)).length, heading).toBe(2);
      expect(await places(page), heading).toEqual(before);
      for (const name of ['play', 'as before', 'undo the last change'])
        expect(await strip(page).getByRole('button', { name }).isVisible(), name).toBe(true);
    }
    await shot(page, `strip-${width}`);
    const drawn = await curve(page);
    expect(await strip(page).innerText()).toMatch(
      /resonance\s[\d.]+ kHz [+−][\d.]+ dB[^]*level, neck\s[\d.]+ mV/,
    );
    const said = await strip(page).innerText();
    await setCable(page, 6);
    await soon(() => curve(page)).not.toEqual(drawn);
    // The other trial's stays.
    expect((await curve(page)).filter((path) => drawn.includes(path))).toHaveLength(1);
    await soon(() => strip(page).innerText()).not.toBe(said);
    // Said by the line of what followed, and not a second time.
    expect(await strip(page).locator('[role="status"], [role="alert"], [aria-live]').count()).toBe(0);
    await button(page, 'undo the last change').click();
    await soon(() => curve(page)).toEqual(drawn);

    // All of its figures, on every page, and no more height than is kept free for it.
    for (const size of wide
      ? [
          [1280, 720],
          [900, 900],
          [720, 450],
          [width, height],
        ]
      : [[width, height]]) {
      await page.setViewportSize({ width: size[0]!, height: size[1]! });
      await atRest(page);
      await lookAt(page, 'Parts');
      await soon(async () => (await curve(page)).length).toBe(2);
      const room = await strip(page).evaluate((e) => {
        const list = e.querySelector('dl')!;
        const kept = Number.parseFloat(
          getComputedStyle(document.documentElement).getPropertyValue('--strip'),
        );
        return { cut: list.scrollWidth - list.clientWidth, over: e.getBoundingClientRect().height - kept };
      });
      expect(room.cut, `px of its figures cut at ${size[0]} px`).toBeLessThanOrEqual(0);
      expect(room.over, `px too high at ${size[0]} px`).toBeLessThanOrEqual(0);
    }

    // The other trial, by its letter.
    if (wide)
      await strip(page)
        .getByRole('radio', { name: /^trial A/ })
        .check();
    else await strip(page).getByRole('combobox', { name: 'trial' }).selectOption('A');
    await soon(async () => (await curve(page)).toReversed()).toEqual(drawn);

    // The curve itself is in sight again, and on a wide screen so is play.
    if (wide) await page.evaluate(() => scrollTo({ top: 0, behavior: 'instant' }));
    else await lookAt(page, 'Curve');
    await soon(async () => (await curve(page)).length).toBe(0);
    await soon(() => strip(page).isVisible()).toBe(!wide);
  });

test('what has the focus is never under it, and Tab goes from the parts into it', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await atRest(page);
  // Low, where it covers most, and narrow, where it is highest; a desk's screen: tests/soak/sweeps.browser.soak.ts.
  for (const viewport of [
    { width: 720, height: 450 },
    { width: 390, height: 844 },
  ]) {
    await neverUnder(page, viewport);
  }
});

test('axe finds nothing to object to while it is shown', async ({ openSheet }) => {
  const { page } = await openSheet();
  await twoTrials(page);
  for (const [viewport, paper] of [
    [{ width: 1440, height: 900 }, 'day'],
    [{ width: 390, height: 844 }, 'night'],
  ] as const) {
    await page.setViewportSize(viewport);
    await layOn(page, paper);
    await atRest(page);
    await page.getByRole('textbox', { name: CABLE }).focus();
    await soon(async () => (await curve(page)).length).toBe(2);
    await atRest(page);
    expect(await breaches(page, 'footer')).toEqual([]);
  }
});
