/** Figures typed with units. */
import { expect, test } from './rig/app.ts';
import {
  changed,
  CLIPBOARD,
  curves,
  field,
  figure,
  FOCUS,
  focusBy,
  ready,
  sheetOf,
  soon,
  type,
} from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

test('an expression with units becomes a figure', async ({ openSheet }) => {
  const { page } = await openSheet('', CLIPBOARD);
  await ready(page);
  await focusBy(page, 'hand');
  await atRest(page);
  const drawn = await curves(page);
  await type(page, FOCUS, '3/16 in + 0.2 mm');
  await changed(page, drawn);
  await soon(() => figure(page, FOCUS)).toMatch(/^4\.96\d? mm$/);
  await type(page, 'neck pickup, distance from the saddle', '6 in + 3/8 in');
  await soon(() => figure(page, 'neck pickup, distance from the saddle')).toMatch(/^161\.9\d* mm$/);
  await type(page, 'neck coil, DC resistance', '7.2 kohm');
  await soon(() => figure(page, 'neck coil, DC resistance')).toBe('7.20 kΩ');
  await type(page, 'neck coil, self-capacitance', '0.47 nF / 4');
  await soon(() => figure(page, 'neck coil, self-capacitance')).toBe('117.5 pF');
  await type(page, 'cable length', '10ft');
  await soon(() => figure(page, 'cable length')).toBe('3.048 m');
  // A bare number takes the unit that stands there.
  await type(page, 'tone capacitor', '47');
  await soon(() => figure(page, 'tone capacitor')).toBe('47 nF');

  const { pickups, harness } = await sheetOf(page);
  // [exact] One inch is 25.4 mm, one foot twelve of them (international yard and pound agreement, 1959).
  expect(pickups[0]?.rows[0]?.reach.width).toBeCloseTo(0.0047625 + 0.0002, 12);
  expect(pickups[0]?.place).toBeCloseTo(6.375 * 0.0254, 12);
  expect(pickups[0]?.rows[0]?.coil.resistance).toBe(7200);
  expect(pickups[0]?.rows[0]?.coil.capacitance).toBeCloseTo(117.5e-12, 20);
  expect(harness.cable.length).toBeCloseTo(3.048, 12);
  expect(harness.controls[0]?.tone?.capacitance).toBeCloseTo(47e-9, 18);
});

test('figures are typed without a network once the page has come to rest', async ({ openSheet }) => {
  const { page } = await openSheet('', { fresh: true });
  const reader = page.waitForResponse(/unitsExpression/);
  await ready(page);
  await (await reader).finished();
  await page.context().setOffline(true);
  await type(page, 'cable length', '10 ft');
  await soon(() => figure(page, 'cable length')).toBe('3.048 m');
});

test('what is no such figure gets a sentence and changes nothing', async ({ openSheet }) => {
  const { page } = await openSheet('', CLIPBOARD);
  await ready(page);
  await atRest(page);
  const before = {
    sheet: await sheetOf(page),
    curves: await curves(page),
    figure: await figure(page, FOCUS),
  };
  const focus = field(page, FOCUS);
  for (const [typed, sentence] of [
    ['11 mm +', /^Focus must be .*such as .*mm.*; got "11 mm \+"/],
    ['7.2 kohm', /^Focus must be a length; got 7\.2 kohm/],
    ['2 m', /^Focus must be between .* mm and .* mm; got 2000.*/],
    ['wide', /^Focus must be .*; got "wide"/],
    ['<b>11</b>', /^Focus must be .*; got "<b>11<\/b>"/],
  ] as const) {
    await type(page, FOCUS, typed);
    await soon(() => focus.getAttribute('aria-invalid'), typed).toBe('true');
    const told = await focus.getAttribute('aria-describedby');
    expect(told).toBeTruthy();
    const message = page.locator(`#${told ?? ''}`);
    expect(await message.innerText()).toMatch(sentence);
    expect(await message.isVisible()).toBe(true);
    expect(await message.getAttribute('role')).toBe('alert');
    // The typed text stays for mending, the sheet stays as it was.
    expect(await focus.inputValue()).toBe(typed);
    await focus.press('Escape');
    await soon(() => focus.inputValue()).toBe(before.figure);
    await soon(() => focus.getAttribute('aria-invalid')).toBeNull();
  }
  await focus.fill('wide');
  await field(page, 'title').focus();
  await soon(() => focus.inputValue()).toBe(before.figure);
  expect(await sheetOf(page)).toEqual(before.sheet);
  expect(await curves(page)).toBe(before.curves);
});

test('a figure that breaks a rule between figures is refused in words', async ({ openSheet }) => {
  const { page } = await openSheet('', { ...CLIPBOARD, still: true });
  await ready(page);
  const before = await sheetOf(page);
  // 600 mm is a place by itself, but not on a string of 500 mm.
  await type(page, 'neck pickup, distance from the saddle', '600 mm');
  await soon(() => figure(page, 'neck pickup, distance from the saddle')).toBe('600.0 mm');
  await type(page, 'scale length', '500 mm');
  await page
    .getByRole('status')
    .filter({ hasText: / must .*; got / })
    .waitFor();
  // What was typed stands until the field is left, with the reason below it.
  await page
    .getByRole('alert')
    .filter({ hasText: / must .*; got / })
    .waitFor();
  await field(page, 'scale length').blur();
  await soon(() => figure(page, 'scale length')).toBe('648.0 mm');
  const after = await sheetOf(page);
  expect(after.instrument).toEqual(before.instrument);
});

test('a figure that was taken is not marked as wrong', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  for (const [name, typed] of [
    ['shift of the worst note', '5'],
    ['height of the probe above the plane of the pole tops', '1 mm'],
    ['gauss probe, along the strings towards the nut', '3'],
    ['gauss probe, across the strings towards the treble side', '4 mm'],
    ['how far to raise or lower the pickup', '0.2'],
    ['share of the turns to remove', '7'],
    ['cable length', '4'],
  ] as const) {
    await type(page, name, typed);
    await soon(() => figure(page, name), name).toMatch(
      new RegExp(`^${typed.split(' ')[0]}(\\.0+)? \\D+$|^0\\.20 mm$`),
    );
    await field(page, name).blur();
    expect(Number.parseFloat(await figure(page, name)), name).toBe(Number.parseFloat(typed));
    expect(await field(page, name).getAttribute('aria-invalid'), name).toBeNull();
  }
});

test('how close it may sit is said to be computed only while it is', async ({ openSheet }) => {
  const { page } = await openSheet('', { viewport: { width: 1000, height: 400 } });
  await ready(page);
  await atRest(page);
  const says = page.locator('section[aria-labelledby="close-title"] [role="status"]');
  expect(await says.innerText()).toBe('It is computed as soon as this part of the sheet is on the screen.');
  expect(await says.getAttribute('aria-busy')).toBe('false');
  await says.scrollIntoViewIfNeeded();
  await soon(() => says.innerText()).toMatch(/^\d+\.\d+ mm at the bass side/);
});
