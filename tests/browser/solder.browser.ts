/** Is it worth the solder, and what to wind: own spread, what matters, turns, balance and search, each made a trial and taken back. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Locator } from 'playwright-core';
import { main } from '../../src/cli/main.ts';
import { setAt } from '../../src/sheet/edit.ts';
import { encodeLink } from '../../src/sheet/link.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { wrap } from '../../src/sheet/trials.ts';
import { heardWord } from '../../src/state/difference.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';
import { breaches, expect, shot, test } from './rig/app.ts';
import { button, CLIPBOARD, field, figure, ready, soon, type } from './rig/hands.ts';
import { documentOf, letters, trials } from './rig/trials.ts';

/** Presses a button, sees that it goes on, and cancels: in one go, for it may take a second or two. @returns of how many it told */
const begunAndLeft = (region: Locator, begins: string): Promise<number> =>
  region.evaluate(async (inside, begin) => {
    const press = (name: string): void =>
      [...inside.querySelectorAll('button')].find((b) => b.textContent.trim() === name)!.click();
    press(begin);
    let bar: HTMLProgressElement | null = null;
    // Drawn before the next task; a frame may come when all is done.
    for (; !bar; bar = inside.querySelector('progress')) await new Promise((then) => setTimeout(then));
    press('cancel');
    return bar.max;
  }, begins);

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
  // Made a trial and taken back, by keyboard and mouse.
  await turns.getByRole('button', { name: 'make it a trial' }).focus();
  await page.keyboard.press('Enter');
  await soon(() => letters(page)).toBe('A B*');
  await button(page, 'undo').click();
  await soon(() => letters(page)).toBe('A*');
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
  // Nothing shows the unit that it would take.
  await type(page, 'wanted resonance', '5000');
  await soon(() => search.getByRole('alert').allInnerTexts()).toContain(
    'Resonance must be a figure with a unit, such as 8.2 kHz; got "5000".',
  );
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
  await begunAndLeft(search, 'search');
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
  await soon(() => letters(page)).toBe('A B C*');
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

test('one’s own spread and what matters most: typed, made, left, taken back, and a step becomes a trial', async ({
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
  const most = await begunAndLeft(spread, 'make 200 of it');
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
  // Seen to go on, and left: nothing is said, and no trial made.
  expect(await begunAndLeft(matters, 'take every step, neck pickup')).toBeGreaterThan(5);
  await soon(() => matters.getByRole('progressbar').count()).toBe(0);
  expect([await matters.getByRole('list').count(), await letters(page)]).toEqual([0, 'A*']);
  await matters.getByRole('button', { name: /^take every step/ }).focus();
  await page.keyboard.press('Enter');
  const cable = matters.getByRole('button', { name: /^cable \+10 %: .*; make it a trial$/ });
  await soon(() => cable.count()).toBe(1);
  await page.getByRole('combobox', { name: 'ranked by what they do to' }).selectOption('resonance');
  await soon(() => matters.getByRole('listitem').first().innerText()).toMatch(/−\d\.\d\d %/);
  await cable.click();
  await soon(() => letters(page)).toBe('A B*');
  await soon(() => matters.getByRole('status').innerText()).toMatch(/before the last change/);
  await button(page, 'undo').click();
  await soon(() => letters(page)).toBe('A*');
});

/** Two trials of one pickup and one note, B with fewer turns. */
const rods = builtSheet('six rods');
const one = {
  ...rods,
  pickups: [{ ...rods.pickups[0]!, sounds: true }],
  listen: { ...rods.listen, play: 'string', string: 3, fret: 2, through: 'cable' },
} as const satisfies Sheet;
const fewer = setAt(one, ['pickups', 0, 'build', 'rows', 0, 'turns'], 6000);

/** What the command line says of B beside A. */
function compared() {
  const folder = mkdtempSync(join(tmpdir(), 'solder-'));
  const files = [one, fewer].map((_, i) => join(folder, `${i}.json`));
  [one, fewer].forEach((sheet, i) => writeFileSync(files[i]!, JSON.stringify(sheet)));
  const said = { out: '', err: '' };
  main(['compare', ...files], {
    out: (line) => void (said.out += line),
    err: (line) => void (said.err += line),
  });
  rmSync(folder, { recursive: true });
  expect(said.err).toBe('');
  return JSON.parse(said.out) as {
    readonly louder: number;
    readonly heard: { readonly most: number; readonly at: number; readonly word: string };
    readonly thresholds: readonly { readonly what: string; readonly by: number; readonly just: number }[];
    readonly spread: Record<'own' | 'between', Record<'low' | 'middle' | 'high', number>> & {
      readonly nominal: number;
      readonly lessThanOwn: boolean;
    };
  };
}

test('on a phone all five by touch and keys: their figures are the command line’s, each becomes a trial and is taken back, and axe finds nothing', async ({
  openSheet,
}) => {
  const { louder, heard, thresholds, spread } = compared();
  const db = (value: number): string => Math.abs(value).toFixed(1);
  const { own, between } = spread;
  const phone = { viewport: { width: 390, height: 844 }, hasTouch: true };
  const fragment = await encodeLink({ ...wrap(one), open: 1, trials: [one, fewer] });
  const { page } = await openSheet(fragment, phone);
  await ready(page);
  const open = (text: string) => page.getByText(text, { exact: true }).tap();
  const region = (name: string) => page.getByRole('region', { name });
  const backTo = async (was: string): Promise<void> => {
    await page.getByRole('button', { name: 'undo' }).first().tap();
    await soon(() => letters(page)).toBe(was);
  };
  // Is it heard? In words and by what listeners were found to hear.
  await soon(() => trials(page).innerText()).toContain(
    `${db(louder)} dB ${louder > 0 ? 'louder' : 'softer'}. At equal loudness it has ${db(heard.most)} dB ${heard.most > 0 ? 'more' : 'less'}`,
  );
  expect(await trials(page).innerText()).toContain(`: ${heard.word}.`);
  const differs = trials(page).getByText(/^what differs/);
  await differs.focus();
  await page.keyboard.press('Enter');
  const rows = trials(page)
    .getByRole('table', { name: /^What listeners just told apart/ })
    .getByRole('row');
  expect(
    (
      await rows.evaluateAll((all) =>
        all.map((row) => [...row.querySelectorAll('td')].map((td) => td.innerText)),
      )
    )
      .slice(1)
      .map(([by, just]) => [by!.replace(/^[+−]/, ''), just]),
  ).toEqual(
    thresholds.map(({ what, by, just }) =>
      [by, just].map((value) => (what === 'level' ? `${db(value)} dB` : `${db(100 * value)} %`)),
    ),
  );
  await page
    .getByRole('region', { name: 'Curve', exact: true })
    .getByRole('img', { name: `at most ${db(heard.most)} decibels, ${heard.word}` })
    .waitFor();

  await open('My own spread: is it more than that?');
  await page.getByRole('button', { name: 'make 200 of both' }).tap();
  await soon(() => region('My own spread').getByRole('status').allInnerTexts()).toEqual([
    `Two of your own differ by ${db(own.middle)} dB, half of them by more (nine pairs in ten by ${db(own.low)} to ${db(own.high)} dB): ${heardWord(own.middle)}. B beside A, as they are drawn, differs by ${db(spread.nominal)} dB, and as you would make them by ${db(between.low)} to ${db(between.high)} dB in nine pairs of ten: ${spread.lessThanOwn ? 'less' : 'more'} than two of your own would differ.`,
  ]);

  await open('What matters most of this pickup');
  const matters = region('What matters most');
  await matters.getByRole('button', { name: /^take every step/ }).tap();
  const turns = matters.getByRole('button', { name: /^turns \+2 %: .*; make it a trial$/ });
  await soon(() => turns.count()).toBe(1);
  await turns.focus();
  await page.keyboard.press('Enter');
  await soon(() => letters(page)).toBe('A B C*');
  await backTo('A B*');

  await open('Turns for a resonance');
  await type(page, 'resonance that is wanted', '4.6 kHz');
  await region('Turns for a resonance').getByRole('button', { name: 'make it a trial' }).tap();
  await soon(() => letters(page)).toBe('A B C*');
  await backTo('A B*');

  await open('Balance of the strings');
  const balance = region('Balance of the strings');
  await balance.getByRole('button', { name: 'balance', exact: true }).tap();
  await balance.getByRole('button', { name: 'make it a trial' }).tap();
  await soon(() => letters(page)).toBe('A B C*');
  await backTo('A B*');

  await open('What to wind for what I want');
  const search = region('What to wind for what I want');
  // Beside another trial it may be asked to sound like it.
  await field(page, 'wanted sounds like the other').waitFor();
  await search
    .getByRole('combobox', { name: 'what the resonance is into' })
    .selectOption('a probe, off the guitar');
  await type(page, 'capacitance of the probe that is wanted', '100 pF');
  await type(page, 'wanted resonance', '7 kHz');
  await soon(() => figure(page, 'wanted resonance')).toBe('7 kHz');
  await search.getByRole('button', { name: 'search', exact: true }).tap();
  await soon(() => search.getByRole('status').innerText()).toMatch(/^(Reached|Not reachable)/);
  await search.getByRole('button', { name: 'make the first a trial' }).tap();
  await soon(() => letters(page)).toBe('A B C*');
  await backTo('A B*');
  // The resonance, then the probe's capacitance, then the probe.
  await backTo('A B*');
  await soon(() => figure(page, 'wanted resonance')).toBe('');
  await backTo('A B*');
  await soon(() => figure(page, 'capacitance of the probe that is wanted')).toBe('12 pF');
  await backTo('A B*');
  await soon(() => field(page, 'capacitance of the probe that is wanted').count()).toBe(0);
  // Nothing of it is wider than the screen.
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(390);
  await shot(page, 'solder-390');
  expect(await breaches(page)).toEqual([]);
});
