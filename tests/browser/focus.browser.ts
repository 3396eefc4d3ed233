/** The focus: the two edges of the bell and the figure between them are one value. */
import type { Page } from 'playwright-core';
import { expect, test } from './rig/app.ts';
import {
  button,
  changed,
  curves,
  drag,
  figure,
  FOCUS,
  focusBy,
  middle,
  pull,
  ready,
  said,
  slider,
  soon,
  type,
} from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

const NUT = 'focus of the neck pickup, edge towards the nut';
const SADDLE = 'focus of the neck pickup, edge towards the saddle';

const value = async (page: Page, name: string): Promise<number> =>
  Number(await slider(page, name).getAttribute('aria-valuenow'));

test('an edge follows the pointer, and with it the other edge, the figure and the curve', async ({
  openSheet,
}) => {
  const { page } = await openSheet();
  await ready(page);
  await atRest(page);
  const before = { curves: await curves(page), figure: await figure(page, FOCUS) };
  const saddle = await middle(slider(page, SADDLE));
  const nut = await middle(slider(page, NUT));

  await pull(page, slider(page, SADDLE), { x: 40, y: 0 });
  // While it is held; the geometry follows, and the bell as soon as it is computed.
  await changed(page, before.curves);
  await soon(() => figure(page, FOCUS)).not.toBe(before.figure);
  await page.mouse.up();

  // After the hand the geometry still comes nearer to what was asked for.
  await atRest(page);
  const wide = await curves(page);
  // [exact] What is held stays under the pointer, to half a step of the figure; the bell stays where its pole is.
  expect(Math.abs((await middle(slider(page, SADDLE))).x - saddle.x - 40)).toBeLessThan(1);
  expect(Math.abs((await middle(slider(page, NUT))).x - nut.x + 40)).toBeLessThan(1);
  const shown = await figure(page, FOCUS);
  expect(Number.parseFloat(shown) / 1000).toBeCloseTo(await value(page, NUT), 9);
  expect(await value(page, NUT)).toBe(await value(page, SADDLE));

  await drag(page, slider(page, NUT), { x: 60, y: 0 });
  await changed(page, wide);
  await soon(async () => Number.parseFloat(await figure(page, FOCUS))).toBeLessThan(Number.parseFloat(shown));
});

test('Escape during a drag puts the focus back, and there is nothing to undo', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await atRest(page);
  const before = { curves: await curves(page), figure: await figure(page, FOCUS) };
  await pull(page, slider(page, NUT), { x: -40, y: 0 });
  await changed(page, before.curves);
  await page.keyboard.press('Escape');
  await soon(() => curves(page)).toBe(before.curves);
  await soon(() => figure(page, FOCUS)).toBe(before.figure);
  // What the pointer still does before it lets go is of no account.
  await page.mouse.move(10, 300);
  await page.mouse.up();
  await atRest(page);
  expect(await curves(page)).toBe(before.curves);
  expect(await figure(page, FOCUS)).toBe(before.figure);
  expect(await button(page, 'undo').isDisabled()).toBe(true);
});

test('a finger drags the focus; when the system takes the touch away, the focus goes back', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', { hasTouch: true, viewport: { width: 390, height: 844 } });
  await ready(page);
  const handle = slider(page, NUT);
  await handle.scrollIntoViewIfNeeded();
  await atRest(page);
  const touch = await page.context().newCDPSession(page);
  const finger = async (type: string, x?: number, y?: number): Promise<void> => {
    const touchPoints = x === undefined ? [] : [{ x, y }];
    await touch.send('Input.dispatchTouchEvent', { type, touchPoints } as never);
  };
  const from = await middle(handle);
  const before = { curves: await curves(page), figure: await figure(page, FOCUS) };

  await finger('touchStart', from.x, from.y);
  for (const by of [4, 12, 20]) await finger('touchMove', from.x - by, from.y);
  await changed(page, before.curves);
  await soon(() => figure(page, FOCUS)).not.toBe(before.figure);
  await finger('touchCancel');
  await soon(() => figure(page, FOCUS)).toBe(before.figure);
  await soon(() => curves(page)).toBe(before.curves);
  await atRest(page);
  expect(await figure(page, FOCUS)).toBe(before.figure);
  expect(await button(page, 'undo').isDisabled()).toBe(true);

  await finger('touchStart', from.x, from.y);
  for (const by of [4, 12, 20]) await finger('touchMove', from.x - by, from.y);
  await finger('touchEnd');
  await changed(page, before.curves);
  await atRest(page);
  expect(await figure(page, FOCUS)).not.toBe(before.figure);
  expect(await button(page, 'undo').isEnabled()).toBe(true);
});

test('the focus goes where the hand goes and comes back with it; nothing moves but what was chosen', async ({
  openSheet,
}) => {
  const { page } = await openSheet();
  await ready(page);
  for (const lever of ['the gap', 'the tip', 'the diameter']) {
    const handle = slider(page, NUT);
    // How far a lever goes is found while the section is on the screen.
    await handle.scrollIntoViewIfNeeded();
    await focusBy(page, lever);
    await atRest(page);
    const before = await parts(page);
    const least = Number(await handle.getAttribute('aria-valuemin'));
    const most = Number(await handle.getAttribute('aria-valuemax'));
    expect(most).toBeGreaterThan(least);
    const from = await middle(handle);
    const width = await value(page, NUT);
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    let at = from.x;
    let last = width;
    for (const by of [-30, 10, 20, 9, 9, -18, -260, 260, 300, -300]) {
      at += by;
      // A long way is gone in steps; a short one has no middle to speak of.
      await page.mouse.move(at, from.y, { steps: Math.abs(by) > 100 ? 3 : 1 });
      const now = await value(page, NUT);
      expect(Math.sign(now - last) * Math.sign(by)).toBeLessThanOrEqual(0);
      expect(now).toBeGreaterThan(least - 1e-4);
      expect(now).toBeLessThan(most + 1e-4);
      // [exact] Within the track under the hand, at its end where the hand went on and the reason stands there.
      const off = (await middle(handle)).x - at;
      if (now > least + 2e-4 && now < most - 2e-4) expect(Math.abs(off)).toBeLessThan(1.5);
      else if (Math.abs(off) > 3)
        await soon(() => page.locator('.told').innerText()).toMatch(/No (narrower|wider) by the/);
      last = now;
    }
    // [exact] Back where it began: the very same build.
    expect(await value(page, NUT)).toBe(width);
    expect(await parts(page)).toEqual(before);
    await page.mouse.move(at - 6, from.y);
    await page.mouse.up();
    await atRest(page);
    const moved = (await parts(page)).filter((line) => !before.includes(line));
    for (const line of moved) expect(line).toMatch(LEVER_FIGURE[lever]!);
    expect(moved.length).toBeGreaterThan(0);
    await button(page, 'undo').click();
    await atRest(page);
    expect(await parts(page)).toEqual(before);
  }
});

/** Names of the figures that a lever may change. */
const LEVER_FIGURE: Readonly<Record<string, RegExp>> = {
  'the gap': /gap|close/i,
  'the tip': /tip|chamfer/i,
  'the diameter': /diameter/i,
};

/** All figures of the parts list, by name, without those that only say what follows. */
const parts = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    [
      ...document.querySelectorAll<HTMLInputElement>(
        'section[aria-labelledby="parts-title"] :is(input[type="text"], select)',
      ),
    ]
      .filter((e) => !e.readOnly && !/resistance|inductance|capacitance|loss/i.test(e.ariaLabel ?? ''))
      .map((e) => `${e.ariaLabel}: ${e.value}`),
  );

test('a focus that the build can’t have stops where it ends, and says so', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await type(page, FOCUS, '3');
  await soon(() => said(page)).toMatch(/as narrow as the focus goes by the gap; 3\.0 mm was asked for/);
  expect(Number.parseFloat(await figure(page, FOCUS))).toBeGreaterThan(3);
  // One that it can have is reached at once, and comes to what was asked for.
  await type(page, FOCUS, '20');
  await soon(() => figure(page, FOCUS)).toBe('20.0 mm');
  await atRest(page);
  expect(await figure(page, FOCUS)).toBe('20.0 mm');
  await soon(() => said(page)).not.toMatch(/asked for/);
});

// The keys of the slider pattern in the WAI-ARIA Authoring Practices Guide.
test('arrow, page, home and end keys move the focus', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await focusBy(page, 'hand');
  // Or the first key's curve could be taken for the one that comes with the reach by hand.
  await atRest(page);
  const handle = slider(page, NUT);
  const least = Number(await handle.getAttribute('aria-valuemin'));
  const most = Number(await handle.getAttribute('aria-valuemax'));
  await handle.focus();
  let drawn = await curves(page);
  const press = async (key: string): Promise<number> => {
    const from = await value(page, NUT);
    await page.keyboard.press(key);
    drawn = await changed(page, drawn);
    expect(Number.parseFloat(await figure(page, FOCUS)) / 1000).toBeCloseTo(await value(page, NUT), 9);
    return (await value(page, NUT)) - from;
  };
  const step = await press('ArrowRight');
  expect(step).toBeGreaterThan(0);
  expect(await press('ArrowUp')).toBeCloseTo(step, 9);
  expect(await press('ArrowLeft')).toBeCloseTo(-step, 9);
  expect(await press('ArrowDown')).toBeCloseTo(-step, 9);
  const page10 = await press('PageUp');
  expect(page10).toBeGreaterThan(step);
  expect(await press('PageDown')).toBeCloseTo(-page10, 9);
  await press('End');
  expect(await value(page, NUT)).toBe(most);
  await press('Home');
  expect(await value(page, NUT)).toBe(least);
});

test('Escape while a key is held puts the focus back', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await atRest(page);
  const before = { curves: await curves(page), figure: await figure(page, FOCUS) };
  await slider(page, SADDLE).focus();
  for (let i = 0; i < 5; i++) await page.keyboard.down('ArrowRight');
  await changed(page, before.curves);
  await page.keyboard.press('Escape');
  await page.keyboard.up('ArrowRight');
  await soon(() => curves(page)).toBe(before.curves);
  await atRest(page);
  expect(await curves(page)).toBe(before.curves);
  expect(await figure(page, FOCUS)).toBe(before.figure);
  expect(await button(page, 'undo').isDisabled()).toBe(true);
});

test('a word with a help says what it means by hover and by keyboard, and Escape puts it away', async ({
  openSheet,
}) => {
  const { page } = await openSheet();
  await ready(page);
  const section = page.locator('section[aria-labelledby="section-title"]');
  const word = section.getByRole('button', { name: 'field', exact: true });
  await word.hover();
  const help = section.getByRole('tooltip');
  await help.waitFor();
  expect(await help.innerText()).toContain('half maximum');
  // It may be read under the mouse, and goes with it.
  await help.hover();
  expect(await help.isVisible()).toBe(true);
  await page.mouse.move(5, 5);
  await help.waitFor({ state: 'detached' });
  const dip = section.getByRole('button', { name: 'dip', exact: true });
  await dip.focus();
  await page.keyboard.press('Shift+Tab');
  await page.keyboard.press('Tab');
  await help.waitFor();
  expect(await help.innerText()).toContain('along its length');
  expect(await dip.getAttribute('aria-describedby')).toBe(await help.getAttribute('id'));
  const { x, width } = (await help.boundingBox())!;
  expect(x).toBeGreaterThanOrEqual(0);
  expect(x + width).toBeLessThanOrEqual(page.viewportSize()!.width);
  await page.keyboard.press('Escape');
  await help.waitFor({ state: 'detached' });
});
