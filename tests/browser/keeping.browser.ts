/** Undo, redo and what is kept between visits. */
import { expect, test } from './rig/app.ts';
import {
  button,
  CABLE,
  curves,
  drag,
  figure,
  figures,
  ready,
  said,
  setCable,
  settled,
  slider,
  soon,
  type,
} from './rig/hands.ts';

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
  const { page } = await openSheet();
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
    const { page } = await openSheet();
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
    await soon(() => said(page)).toMatch(/last visit could not be read\. A preset is open/);
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

test('a sheet changed in another window of the browser is told of', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  const other = await page.context().newPage();
  await other.goto(page.url());
  await ready(other);
  await setCable(other, 14.3);
  await soon(() => said(page)).toMatch(/another window/);
  // Nothing of it comes over the sheet that lies here.
  expect(await figure(page, CABLE)).not.toBe('14.3 m');
});
