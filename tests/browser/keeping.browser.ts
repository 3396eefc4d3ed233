/** Undo, redo and what is kept between visits. */
import type { Page } from 'playwright-core';
import { encodeLink } from '../../src/sheet/link.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { breaches, expect, shot, test } from './rig/app.ts';
import {
  button,
  CABLE,
  CLIPBOARD,
  curves,
  drag,
  field,
  figure,
  figures,
  layOn,
  ready,
  said,
  setCable,
  settled,
  sheetOf,
  slider,
  soon,
  type,
} from './rig/hands.ts';

/** What is kept does not hang on what is computed. */
const STILL = { still: true };
const PLACE = 'neck pickup along the string';

test('every gesture is one step back and forth, by button and by key', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  const states = [await settled(page)];
  let drawn = await curves(page);
  const did = async (): Promise<void> => {
    states.push(await settled(page));
    // Every one of these changes the curve.
    const before = drawn;
    drawn = await curves(page);
    expect(drawn).not.toBe(before);
    expect(states.at(-1)).not.toEqual(states.at(-2));
  };
  // A drag of many moves.
  await drag(page, slider(page, PLACE), { x: -30, y: 0 });
  await did();
  // A key held down.
  await slider(page, PLACE).focus();
  for (let i = 0; i < 6; i++) await page.keyboard.down('ArrowRight');
  await page.keyboard.up('ArrowRight');
  await did();
  // A typed figure, a choice, another sheet.
  await type(page, 'neck coil, DC resistance', '7.2');
  await soon(() => figure(page, 'neck coil, DC resistance')).toBe('7.20 kΩ');
  await did();
  await page.getByRole('combobox', { name: 'treble bleed' }).selectOption('fitted');
  await did();
  await page.getByRole('combobox', { name: 'open another sheet' }).selectOption({ index: 2 });
  await did();

  // Away from any field, where Ctrl+Z would undo the typing instead.
  await page.getByRole('button', { name: 'copy link' }).focus();
  const steps = {
    undo: [
      () => button(page, 'undo').click(),
      () => page.keyboard.press('Control+z'),
      () => page.keyboard.press('Control+z'),
      () => button(page, 'undo').click(),
      () => page.keyboard.press('Control+z'),
    ],
    redo: [
      () => button(page, 'redo').click(),
      () => page.keyboard.press('Control+Shift+z'),
      () => page.keyboard.press('Control+y'),
      () => button(page, 'redo').click(),
      () => page.keyboard.press('Control+Shift+z'),
    ],
  };
  for (const [i, undo] of steps.undo.entries()) {
    await undo();
    await soon(() => figures(page)).toEqual(states[states.length - 2 - i]);
  }
  await soon(() => button(page, 'undo').isDisabled()).toBe(true);
  for (const [i, redo] of steps.redo.entries()) {
    await redo();
    await soon(() => figures(page)).toEqual(states[i + 1]);
  }
  await soon(() => button(page, 'redo').isDisabled()).toBe(true);
});

test('a reload keeps the sheet', async ({ openSheet }) => {
  const { page } = await openSheet('', STILL);
  await ready(page);
  await setCable(page, 14.3);
  await drag(page, slider(page, PLACE), { x: -30, y: 0 });
  const before = await settled(page);
  await page.reload();
  await ready(page);
  await soon(() => figures(page)).toEqual(before);
});

for (const [what, spoil] of [
  ['cut short', (text: string): string => text.slice(0, 100)],
  [
    'with a figure beyond its limits',
    (text: string): string => text.replace('"length":14.3', '"length":1e9'),
  ],
] as const)
  test(`a kept sheet ${what} opens a preset with a sentence`, async ({ openSheet }) => {
    const { page } = await openSheet('', STILL);
    await ready(page);
    const preset = await settled(page);
    await setCable(page, 14.3);
    const spoiled = await page.evaluate(() => Object.entries(localStorage) as [string, string][]);
    expect(spoiled.filter(([, text]) => spoil(text) !== text)).toHaveLength(1);
    await page.evaluate(
      (all) => {
        for (const [key, text] of all) localStorage.setItem(key, text);
      },
      spoiled.map(([key, text]) => [key, spoil(text)] as const),
    );
    await page.reload();
    await ready(page);
    await soon(() => said(page)).toMatch(/could not be read; it is put aside, not deleted/);
    await soon(() => figures(page)).toEqual(preset);
  });

test('a browser that keeps nothing still opens and changes a sheet', async ({ openSheet }) => {
  const { page } = await openSheet('', {
    first: () => {
      Object.defineProperty(window, 'localStorage', {
        get(): Storage {
          throw new DOMException('The operation is insecure.', 'SecurityError');
        },
      });
    },
  });
  await ready(page);
  await setCable(page, 14.3);
  await soon(() => said(page)).toMatch(/not kept/);
});

/** The title of the open sheet. */
const title = (page: Page): Promise<string> => figure(page, 'title');

/** Opens one of the earlier sheets, the newest is 0. */
async function openEarlier(page: Page, index: number): Promise<void> {
  const list = page.getByRole('list', { name: 'earlier sheets' });
  if (!(await list.isVisible())) await button(page, 'earlier sheets').click();
  await list.getByRole('button').nth(index).click();
}

const openPreset = (page: Page, index: number): Promise<unknown> =>
  page.getByRole('combobox', { name: 'open another sheet' }).selectOption({ index });

test('an edit is there still after another sheet was opened and the page reloaded: by undo, and as an earlier sheet', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', STILL);
  await ready(page);
  expect(await button(page, 'earlier sheets').count()).toBe(0);
  const mine = await title(page);
  await setCable(page, 14.3);
  await openPreset(page, 2);
  await soon(() => title(page)).not.toBe(mine);
  const preset = await title(page);
  await page.reload();
  await ready(page);
  expect(await title(page)).toBe(preset);
  await button(page, 'undo').click();
  await soon(() => figure(page, CABLE)).toBe('14.3 m');
  await button(page, 'redo').click();
  await soon(() => title(page)).toBe(preset);

  // By key, as one step that can be undone.
  await button(page, 'earlier sheets').focus();
  await page.keyboard.press('Enter');
  const list = page.getByRole('list', { name: 'earlier sheets' });
  await soon(() => list.getByRole('button').count()).toBe(1);
  await page.keyboard.press('Tab');
  expect(await list.getByRole('button').evaluate((e) => e === document.activeElement)).toBe(true);
  await page.keyboard.press('Enter');
  await soon(() => title(page)).toBe(mine);
  expect(await figure(page, CABLE)).toBe('14.3 m');
  expect(await said(page)).toMatch(/earlier sheet is open; undo brings back/);
  await page.keyboard.press('Control+z');
  await soon(() => title(page)).toBe(preset);
  await page.keyboard.press('Control+y');
  await soon(() => title(page)).toBe(mine);
});

test('the list of earlier sheets has no breach of accessibility, on day and on night paper', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', STILL);
  await ready(page);
  await setCable(page, 14.3);
  await openPreset(page, 2);
  await button(page, 'earlier sheets').click();
  await page.getByRole('list', { name: 'earlier sheets' }).waitFor();
  const block = page.getByRole('region', { name: 'Title block' });
  for (const paper of ['day', 'night'] as const) {
    await layOn(page, paper);
    for (const width of [1440, 900, 390]) {
      await page.setViewportSize({ width, height: 900 });
      await block.scrollIntoViewIfNeeded();
      await shot(page, `earlier-${width}-${paper}`);
    }
    expect(await breaches(page, 'section[aria-label="Title block"]'), paper).toEqual([]);
  }
});

test('a page that crashes has lost nothing that was committed', async ({ openSheet }) => {
  const { page, problems } = await openSheet('', STILL);
  await ready(page);
  for (const metres of [11.1, 12.2, 13.3]) await setCable(page, metres);
  const session = await page.context().newCDPSession(page);
  const gone = page.waitForEvent('crash');
  void session.send('Page.crash').catch(() => undefined);
  await gone;
  const other = await page.context().newPage();
  await other.goto(page.url().startsWith('http') ? page.url() : 'about:blank');
  await ready(other);
  for (const metres of ['13.3 m', '12.2 m', '11.1 m']) {
    await soon(() => figure(other, CABLE)).toBe(metres);
    await button(other, 'undo').click();
  }
  problems.splice(0);
});

test('two windows with one sheet keep their own, and the later one is told', async ({ openSheet }) => {
  const { page } = await openSheet('', STILL);
  await ready(page);
  await setCable(page, 14.3);
  const other = await page.context().newPage();
  await other.goto(page.url());
  await ready(other);
  await soon(() => said(other)).toMatch(/open in another window too/);
  expect(await figure(other, CABLE)).toBe('14.3 m');
  await setCable(other, 7.7);
  await setCable(page, 8.8);
  for (const [window, metres] of [
    [page, '8.8 m'],
    [other, '7.7 m'],
  ] as const) {
    await window.reload();
    await ready(window);
    expect(await figure(window, CABLE)).toBe(metres);
    await button(window, 'undo').click();
    await soon(() => figure(window, CABLE)).toBe('14.3 m');
    await button(window, 'redo').click();
    await soon(() => figure(window, CABLE)).toBe(metres);
  }
  // Each has the other's among its earlier sheets.
  await openEarlier(page, 0);
  await soon(() => figure(page, CABLE)).toBe('7.7 m');
});

test('a window that the browser duplicates goes on by itself', async ({ openSheet }) => {
  const { page } = await openSheet('', STILL);
  await ready(page);
  await setCable(page, 14.3);
  // A window opened from a page starts with a copy of its session's storage, as a duplicated one does.
  const [other] = await Promise.all([
    page.waitForEvent('popup'),
    page.evaluate(() => void window.open(location.href)),
  ]);
  await ready(other);
  await soon(() => said(other)).toMatch(/open in another window too/);
  await setCable(other, 7.7);
  await setCable(page, 8.8);
  await other.reload();
  await ready(other);
  expect(await figure(other, CABLE)).toBe('7.7 m');
  await page.reload();
  await ready(page);
  expect(await figure(page, CABLE)).toBe('8.8 m');
});

test('a browser without room says so, and the sheet goes on', async ({ openSheet }) => {
  const { page } = await openSheet('', {
    first: () => {
      // Of the empty page before ours, which has none.
      if (location.protocol !== 'http:') return;
      const { localStorage } = window;
      for (let size = 1 << 20; size > 0; size = Math.floor(size / 2))
        try {
          for (let i = 0; ; i++) localStorage.setItem(`something else ${size} ${i}`, 'x'.repeat(size));
        } catch {
          // Full for this size.
        }
    },
  });
  await ready(page);
  await setCable(page, 14.3);
  await soon(() => said(page)).toMatch(/not kept: the browser’s room for this page is full; copy the link/);
  await setCable(page, 7.7);
});

test('Ctrl+Z in a field undoes the typing while there is any, and the sheet else', async ({ openSheet }) => {
  const { page } = await openSheet('', { ...STILL, ...CLIPBOARD });
  await ready(page);
  const first = await figure(page, CABLE);
  await setCable(page, 14.3);
  // What was typed is in the sheet: it is the sheet that goes back, the field with it.
  await page.keyboard.press('Control+z');
  await soon(() => figure(page, CABLE)).toBe(first);
  await page.keyboard.press('Control+y');
  await soon(() => figure(page, CABLE)).toBe('14.3 m');
  // Half typed; a single key, for of two the browser may take back one after the other when time lies between them.
  await page.keyboard.press('End');
  await page.keyboard.type('7');
  expect(await figure(page, CABLE)).toBe('14.3 m7');
  await page.keyboard.press('Control+z');
  await soon(() => figure(page, CABLE)).toBe('14.3 m');
  await page.keyboard.press('Control+z');
  await soon(() => figure(page, CABLE)).toBe(first);
  await page.keyboard.press('Control+y');

  // A link that comes while the field has the focus.
  const fragment = await encodeLink(wrap({ ...(await sheetOf(page)), title: 'from the link' }));
  await field(page, CABLE).focus();
  await page.evaluate((to) => void (location.hash = to), fragment);
  await soon(() => title(page)).toBe('from the link');
  await page.keyboard.press('Control+z');
  await soon(() => title(page)).not.toBe('from the link');
  expect(await figure(page, CABLE)).toBe('14.3 m');

  // A choice has no typing to undo.
  await openPreset(page, 3);
  await page.getByRole('combobox', { name: 'open another sheet' }).focus();
  await page.keyboard.press('Control+z');
  await soon(() => figure(page, CABLE)).toBe('14.3 m');
});
