/** Is it worth the solder, and what to wind: own spread, what matters, turns, balance and search, each made a trial and taken back. */
import { encodeLink } from '../../src/sheet/link.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { breaches, expect, test } from './rig/app.ts';
import { button, CLIPBOARD, figure, ready, soon, type } from './rig/hands.ts';
import { documentOf, letters } from './rig/trials.ts';

test('turns for a resonance, balance and search: refused at the field, seen to go on, left, found, made trials, and taken back', async ({
  openSheet,
}) => {
  const { page } = await openSheet();
  await ready(page);
  // The turns that a resonance takes become a trial; what is not reachable is said to be so.
  await page.getByText('Turns for a resonance', { exact: true }).click();
  const turns = page.getByRole('region', { name: 'Turns for a resonance' });
  await type(page, 'resonance that is wanted', '4.5 kHz');
  await soon(() => turns.getByRole('status').innerText()).toMatch(
    /^\d+ turns: 4\.5 kHz into this cable and these pots\.$/,
  );
  await turns.getByRole('button', { name: 'make it a trial' }).click();
  await soon(() => letters(page)).toBe('A B*');
  await type(page, 'resonance that is wanted', '600 Hz');
  await soon(() => turns.getByRole('status').innerText()).toMatch(
    /^600 Hz is not reachable\. The bobbin takes \d+ turns .* The nearest: \d+ turns, /,
  );

  // The strings are balanced: left, it says nothing; found, it becomes a trial, and undo takes that back.
  await page.getByText('Balance of the strings', { exact: true }).click();
  const balance = page.getByRole('region', { name: 'Balance of the strings' });
  await page.getByRole('combobox', { name: 'which pickups are balanced' }).selectOption('all pickups');
  await balance.getByRole('button', { name: 'balance', exact: true }).click();
  await soon(() => balance.getByRole('progressbar').getAttribute('max')).toBe('3');
  await balance.getByRole('button', { name: 'cancel' }).click();
  await soon(() => balance.getByRole('progressbar').count()).toBe(0);
  expect(await balance.getByRole('status').count()).toBe(0);
  await page
    .getByRole('combobox', { name: 'what is moved for the balance' })
    .selectOption('gaps at bass and treble side');
  await page.getByRole('combobox', { name: 'which pickups are balanced' }).selectOption('the neck pickup');
  await type(page, 'slope, every string louder than the one above it by', '9 dB');
  await soon(() => balance.getByRole('alert').innerText()).toBe(
    'Slope must be between −3.0 dB and 3.0 dB; got 9.0 dB.',
  );
  await balance.getByRole('button', { name: 'balance', exact: true }).focus();
  await page.keyboard.press('Enter');
  await soon(() => balance.getByRole('status').innerText()).toMatch(
    /^neck: gaps \d\.\d\d mm \(bass\) and \d\.\d\d mm \(treble\): strings \d\.\d dB off at most, \d\.\d dB before, /,
  );
  expect(await balance.getByRole('row').count()).toBe(7);
  await balance.getByRole('button', { name: 'make it a trial' }).click();
  await soon(() => letters(page)).toBe('A B C*');
  await button(page, 'undo').click();
  await soon(() => letters(page)).toBe('A B*');

  // What is wanted, and what there is: refused at its field, kept as steps, searched, left, found, and laid beside.
  await page.getByText('What to wind for what I want', { exact: true }).click();
  const search = page.getByRole('region', { name: 'What to wind for what I want' });
  await search.getByRole('button', { name: 'search', exact: true }).click();
  await soon(() => search.getByRole('alert').innerText()).toBe('Something must be wanted; nothing is.');
  await type(page, 'wanted resonance', '5 kHz');
  await type(page, 'Turns at least', '20000');
  await soon(() => search.getByRole('alert').allInnerTexts()).toContain(
    'Turns at least must be at most 12000; got 20000.',
  );
  await search.getByRole('textbox', { name: 'Wires' }).fill(' ');
  await page.keyboard.press('Enter');
  await soon(() => search.getByRole('alert').allInnerTexts()).toContain(
    'Wires must name at least one; got none.',
  );
  await search.getByRole('textbox', { name: 'Wires' }).fill('42, 43');
  await page.keyboard.press('Enter');
  await soon(() => search.getByRole('textbox', { name: 'Wires' }).inputValue()).toBe('AWG 42, AWG 43');
  await search.getByRole('button', { name: 'search', exact: true }).click();
  await search.getByRole('button', { name: 'cancel' }).click();
  await soon(() => search.getByRole('progressbar').count()).toBe(0);
  expect([await search.getByRole('status').count(), await letters(page)]).toEqual([0, 'A B*']);
  await search.getByRole('button', { name: 'search', exact: true }).focus();
  await page.keyboard.press('Enter');
  await soon(() => search.getByRole('status').innerText()).toBe('Reached.');
  const first = search.getByRole('table', { name: 'what the first comes to' });
  expect(await first.getByRole('row', { name: /^resonance/ }).innerText()).toMatch(
    /\t5 kHz\t(4\.99|5\.0|5)\d* kHz/,
  );
  await search.getByRole('button', { name: 'lay all beside one another as trials' }).click();
  await soon(() => letters(page)).toBe('A B C D*');
  await button(page, 'undo').click();
  await button(page, 'undo').click();
  await soon(() => letters(page)).toBe('A B*');
  // The wires, then the resonance.
  await button(page, 'undo').click();
  await soon(() => search.getByRole('textbox', { name: 'Wires' }).inputValue()).toBe(
    'AWG 42, AWG 43, AWG 44',
  );
  await button(page, 'undo').click();
  await soon(() => figure(page, 'wanted resonance')).toBe('');
});

test('one’s own spread and what matters most: typed, made, left, taken back, and a step becomes a trial; nothing keeps anybody out', async ({
  openSheet,
}) => {
  const sheet = exampleSheet();
  const short = { ...sheet, listen: { ...sheet.listen, play: 'string', string: 1, fret: 12 } } as const;
  const { page } = await openSheet(await encodeLink(wrap(short)), CLIPBOARD);
  await ready(page);
  await page.getByText('My own spread: is it more than that?').click();
  const spread = page.getByRole('region', { name: 'My own spread' });
  await type(page, 'spread of pots', '200 %');
  await soon(() => spread.getByRole('alert').innerText()).toBe(
    'Spread must be between 0 % and 50 %; got 200 %.',
  );
  await type(page, 'spread of gap', '0.1 mm');
  await soon(() => figure(page, 'spread of gap')).toBe('0.10 mm');
  expect((await documentOf(page)).spread?.gap).toBe(1e-4);
  await button(page, 'undo').click();
  await soon(() => figure(page, 'spread of gap')).toBe('0.30 mm');
  expect((await documentOf(page)).spread).toBeUndefined();

  // Left, it says nothing; made, what two of one's own differ by.
  // In one go: two hundred are made in a second or two.
  const most = await spread.evaluate(async (region) => {
    const press = (name: string): void =>
      [...region.querySelectorAll('button')].find((b) => b.textContent.trim() === name)!.click();
    press('make 200 of it');
    let bar: HTMLProgressElement | null = null;
    for (; !bar; bar = region.querySelector('progress')) await new Promise(requestAnimationFrame);
    press('cancel');
    return bar.max;
  });
  expect(most).toBe(200);
  await soon(() => spread.getByRole('progressbar').count()).toBe(0);
  expect(await spread.getByRole('status').count()).toBe(0);
  await button(page, 'make 200 of it').focus();
  await page.keyboard.press('Enter');
  await soon(() => spread.getByRole('status').allInnerTexts()).toEqual([
    expect.stringMatching(/^Two of your own differ by \d+\.\d dB, half of them by more/) as string,
  ]);

  await page.getByText('What matters most of this pickup').click();
  const matters = page.getByRole('region', { name: 'What matters most' });
  await matters.getByRole('button', { name: /^take every step/ }).click();
  const cable = matters.getByRole('button', { name: /^cable \+10 %: .*; make it a trial$/ });
  await soon(() => cable.count()).toBe(1);
  await page.getByRole('combobox', { name: 'ranked by what they do to' }).selectOption('resonance');
  await soon(() => matters.getByRole('listitem').first().innerText()).toMatch(/−\d\.\d\d %/);
  await cable.click();
  await soon(() => letters(page)).toBe('A B*');
  await soon(() => matters.getByRole('status').innerText()).toMatch(/before the last change/);
  await button(page, 'undo').click();
  await soon(() => letters(page)).toBe('A*');
  await page.getByText('Balance of the strings', { exact: true }).click();
  await page.getByRole('region', { name: 'Balance of the strings' }).waitFor();
  await page.getByText('What to wind for what I want', { exact: true }).click();
  await page.getByRole('region', { name: 'What to wind for what I want' }).waitFor();
  expect(await breaches(page)).toEqual([]);
});
