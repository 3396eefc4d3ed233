/** The sheet without a pointer. */
import type { Page } from 'playwright-core';
import { expect, test } from './rig/app.ts';
import { handleNames, showFocus } from './rig/focusRing.ts';
import { button, changed, curves, ready, settled, slider, soon } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

interface Stop {
  readonly role: string;
  readonly name: string;
  readonly section: string;
  readonly text: string | null;
}

/** What Tab reaches from the top of the page, in order. */
async function journey(page: Page): Promise<Stop[]> {
  const stops: Stop[] = [];
  for (;;) {
    await page.keyboard.press('Tab');
    const stop = await page.evaluate(() => {
      const e = document.activeElement;
      if (!e || e === document.body) return null;
      const labels = e instanceof HTMLInputElement || e instanceof HTMLTextAreaElement ? e.labels : null;
      const titled = e.closest('section')?.getAttribute('aria-labelledby') ?? '';
      return {
        role: e.getAttribute('role') ?? (e instanceof HTMLInputElement ? e.type : e.tagName.toLowerCase()),
        name: e.ariaLabel ?? labels?.[0]?.innerText.trim() ?? e.textContent.trim(),
        section: document.getElementById(titled)?.innerText.split(' ')[0] ?? '',
        text: e.getAttribute('aria-valuetext'),
      };
    });
    if (stop === null) return stops;
    stops.push(stop);
    // Far more than there are, should the focus go in a ring.
    expect(stops.length).toBeLessThan(300);
  }
}

test('Tab reaches every handle and control once, in the order of the drawing', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await atRest(page);
  const stops = await journey(page);
  expect(stops.filter(({ name }) => name === '')).toEqual([]);

  const handles = stops.filter(({ role }) => role === 'slider');
  const there = await page.locator('main [role="slider"]').evaluateAll((all) => all.map((e) => e.ariaLabel));
  expect(there.length).toBeGreaterThanOrEqual(9);
  // A pickup's slant follows it while it is the one looked at, so there may be more stops than are there at the end.
  expect(handles.map(({ name }) => name)).toEqual(expect.arrayContaining(there));
  expect(new Set(handles.map(({ name }) => name)).size).toBe(handles.length);
  // Placement from the nut to the saddle, then the drawings of the pickup, then the curve and the pots.
  expect(handles.map(({ section }) => section).join(' ')).toMatch(
    /^(Placement ){5,}(Section ){7,}(Across ){8,}(Plan ){3,}(Curve ?)+( Listen)+$/,
  );
  expect(handles.map(({ name }) => name).filter((name) => name.endsWith('along the string'))).toEqual([
    'neck pickup along the string',
    'middle pickup along the string',
    'bridge pickup along the string',
  ]);
  expect([...new Set(stops.map(({ section }) => section).filter(Boolean))]).toEqual([
    'Placement',
    'Section',
    'Across',
    'Plan',
    'Per',
    'How',
    'Curve',
    'Listen',
    'Trials',
    'Mods',
    'Parts',
  ]);
  for (const name of ['play', 'WAV, 24 bit', 'copy link', 'night paper', 'open another sheet', 'volume'])
    expect(stops.map((stop) => stop.name)).toContain(name);
});

test('every slider says its value with a unit, within its limits', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  // Two coils and their offsets have handles as well.
  await page.getByRole('combobox', { name: 'bridge pickup, coils' }).selectOption('two coils');
  await page.getByRole('combobox', { name: 'pickup shown in the section' }).selectOption('3 bridge');
  await slider(page, 'focus of the bridge row 1, edge towards the nut').waitFor();
  await atRest(page);
  const sliders = await page.getByRole('slider').evaluateAll((all) =>
    all.map((e) => {
      const native = e instanceof HTMLInputElement ? e : null;
      return {
        name: e.ariaLabel ?? native?.labels?.[0]?.innerText.trim() ?? '',
        text: e.ariaValueText ?? '',
        least: Number(native?.min ?? e.ariaValueMin),
        now: Number(native?.value ?? e.ariaValueNow),
        most: Number(native?.max ?? e.ariaValueMax),
      };
    }),
  );
  expect(sliders.length).toBeGreaterThanOrEqual(14);
  for (const { name, text, least, now, most } of sliders) {
    expect(name).not.toBe('');
    if (name === 'cursor on the curve') expect(text).toBe('no frequency picked');
    else
      expect(text, name).toMatch(
        /^(minus )?\d+(\.\d+)? (millimetres|degrees|percent|of 10|millivolts for one metre per second)\b/,
      );
    expect(least, name).toBeLessThan(most);
    expect(now, name).toBeGreaterThanOrEqual(least);
    expect(now, name).toBeLessThanOrEqual(most);
  }
});

/**
 * Of every form that a handle has one: a body, a ring at a dimension along either way, a plectrum, a small ring at a pole, a hair
 * of the probe, the curve's surface, a pot. Every handle: tests/soak/sweeps.browser.soak.ts.
 */
const FORMS = [
  'neck pickup along the string',
  'focus of the neck pickup, edge towards the nut',
  'pluck point, distance from the saddle',
  'neck, rod length',
  'height of pole 2, rods',
  'gauss probe, along the strings',
  'cursor on the curve',
  'volume pot',
];

test('it shows where the focus is, on every form of handle', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await atRest(page);
  const names = await handleNames(page);
  expect(names).toEqual(expect.arrayContaining(FORMS));
  await showFocus(page, FORMS);
});

test('a sheet is changed, heard and taken back with keys alone', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  const before = await settled(page);
  const until = async (name: string): Promise<void> => {
    for (let i = 0; i < 250; i++) {
      await page.keyboard.press('Tab');
      const at = await page.evaluate(
        () => document.activeElement?.ariaLabel ?? document.activeElement?.textContent.trim(),
      );
      if (at === name) return;
    }
    throw new Error(`Tab must reach ${name}; it did not.`);
  };
  // Space plays while nothing is in focus; a second time it stops.
  await page.keyboard.press('Space');
  await soon(() => button(page, 'stop').first().isVisible()).toBe(true);
  await page.keyboard.press('Space');
  await soon(() => button(page, 'play').first().isVisible()).toBe(true);

  // Tab has come by the other pickups, and the neck pickup is still the one that is looked at.
  await until('focus of the neck pickup, edge towards the nut');
  const drawn = await curves(page);
  await page.keyboard.press('PageUp');
  await changed(page, drawn);
  expect(await settled(page)).not.toEqual(before);
  await until('cursor on the curve');
  await page.keyboard.press('ArrowRight');
  const cursor = slider(page, 'cursor on the curve');
  // Each of the three curves is read out with its level.
  await soon(() => cursor.getAttribute('aria-valuetext')).toMatch(
    /^[\d.]+ k?Hz: circuit [+−]?[\d.]+ dB, with reach .* dB, at its place .* dB$/,
  );
  await page.keyboard.press('End');
  await soon(() => cursor.getAttribute('aria-valuetext')).toMatch(/^20\.0 kHz: /);
  await until('play');
  await page.keyboard.press('Enter');
  await soon(() => button(page, 'stop').first().isVisible()).toBe(true);
  await page.keyboard.press('Enter');
  await soon(() => button(page, 'play').first().isVisible()).toBe(true);
  await page.keyboard.press('Control+z');
  await soon(() => curves(page)).toBe(drawn);
});
