/** Steel and magnets that are added to a pickup: on the list, on the drawings, in the link, and taken away again. */
import type { Page } from 'playwright-core';
import { breaches, expect, test } from './rig/app.ts';
import {
  button,
  CLIPBOARD,
  copyLink,
  drag,
  field,
  figure,
  ready,
  said,
  slider,
  soon,
  type,
} from './rig/hands.ts';
import { atRest } from './rig/rest.ts';
import { decodeLink } from '../../src/sheet/link.ts';
import type { PickupBuild } from '../../src/sheet/sheet.ts';
import { currentSheet } from '../../src/sheet/trials.ts';

const ADD = 'neck, add a steel part';
const THICK = 'neck steel plate, thickness';
const UPRIGHT = 'neck steel plate, upright';

const add = async (page: Page, what: string): Promise<void> => {
  await page.getByRole('combobox', { name: ADD, exact: true }).selectOption(what);
};

async function linked(page: Page): Promise<PickupBuild> {
  const read = await decodeLink(new URL(await copyLink(page)).hash);
  if (!read.ok) throw new Error(read.message);
  return currentSheet(read.trials).pickups[0]!.build!;
}

/** The sheet's own; the mods have one as well. */
const undo = (page: Page): Promise<void> => page.getByTitle('Ctrl+Z', { exact: true }).click();

test('a plate is added, dragged and typed, undone, sent and taken away', async ({ openSheet }) => {
  const { page } = await openSheet('', CLIPBOARD);
  await ready(page);
  await atRest(page);
  await add(page, 'plate beneath');
  await soon(() => figure(page, UPRIGHT)).toBe('1.0 mm');
  const ring = slider(page, THICK);
  await ring.waitFor();
  // It touches the rods' feet, and may be built.
  const length = await figure(page, 'neck, pole length');
  await page.getByText('place', { exact: true }).click();
  expect(await figure(page, 'neck steel plate, upper face')).toBe(`−${length}`);
  await atRest(page);

  // What it does there, and what the rods do, each taken out.
  const fold = page.locator('summary', { hasText: 'What each part does to the field' });
  await fold.click();
  const taken = page.locator('section[aria-labelledby="taken-title"]');
  await soon(() => taken.getAttribute('aria-busy')).toBe('false');
  expect(await taken.locator('tbody th').allInnerTexts()).toEqual(['rods', 'steel plate']);
  expect(await taken.locator('tbody td:nth-child(2)').allInnerTexts()).toEqual([
    'all of it',
    expect.stringMatching(/^\+\d+\.\d %$/),
  ]);
  expect(await taken.innerText()).toMatch(/\d+ % of the magnets’ flux goes up .* leaks back below it/);
  await fold.click();

  await drag(page, ring, { x: 0, y: 12 });
  await soon(() => figure(page, UPRIGHT)).not.toBe('1.0 mm');
  const dragged = Number(await ring.getAttribute('aria-valuenow'));
  expect(dragged).toBeGreaterThan(0.0015);
  expect((await linked(page)).steel).toMatchObject([{ thickness: dragged, steel: 'low-carbon, annealed' }]);
  await undo(page);
  await soon(() => figure(page, UPRIGHT)).toBe('1.0 mm');

  // The plan has its length.
  const long = slider(page, 'neck steel plate, length on the plan');
  const before = Number(await long.getAttribute('aria-valuenow'));
  await long.focus();
  await page.keyboard.press('ArrowDown');
  await soon(async () => Number(await long.getAttribute('aria-valuenow'))).not.toBe(before);
  await undo(page);
  await soon(async () => Number(await long.getAttribute('aria-valuenow'))).toBe(before);

  // Without its coil: field and pull are there, and it is said why nothing is heard.
  const OFF = 'neck pickup, take the coil off: magnets and steel lie on the bench by themselves';
  const strings = page.locator('section[aria-labelledby="strings-title"] tbody tr').first();
  await button(page, OFF).click();
  const on = button(page, 'neck pickup, put the coil on as it was wound');
  await on.waitFor();
  const said = page.getByText('no coil: nothing to hear');
  await soon(() => said.count()).toBeGreaterThan(1);
  await soon(() => strings.innerText()).toMatch(/^1 E4\s+\d+\.\d\s+–\s+–\s+\d+\s+−\d/);
  expect(await page.getByRole('radio', { name: /neck/ }).count()).toBe(0);
  expect((await linked(page)).coils).toBe('off');
  await on.click();
  await button(page, OFF).waitFor();
  await soon(() => strings.innerText()).not.toContain('–');

  await button(page, 'take neck steel plate away').click();
  await soon(() => ring.count()).toBe(0);
  expect((await linked(page)).steel).toEqual([]);
});

test('a wall moved into the coil says so at its field; and with a plate, two walls and a side magnet nothing keeps anybody out', async ({
  openSheet,
}) => {
  const { page } = await openSheet();
  await ready(page);
  await add(page, 'wall beside the coils');
  await page.getByText('place', { exact: true }).click();
  const name = "neck steel wall, offset from the pickup's centre";
  // On the drawing and on the list.
  const fields = field(page, name);
  await soon(() => fields.count()).toBe(2);
  const listed = page.getByRole('region', { name: 'Parts', exact: true });
  const typed = listed.getByRole('textbox', { name, exact: true });
  await typed.fill('5');
  await typed.press('Enter');
  for (const one of [fields.first(), fields.last()])
    await soon(() => one.getAttribute('aria-invalid')).toBe('true');
  const told = (await typed.getAttribute('aria-describedby')) ?? '';
  expect(await page.locator(`[id="${told}"]`).innerText()).toMatch(/lies in its winding/);
  await undo(page);
  await soon(() => typed.getAttribute('aria-invalid')).toBeNull();

  for (const what of ['plate beneath', 'wall beside the coils']) await add(page, what);
  await soon(() => field(page, 'neck steel wall 3, upright').count()).toBe(1);
  await button(page, 'neck, add a bar magnet').click();
  await soon(() => slider(page, 'neck bar magnet, thickness').count()).toBe(1);
  await atRest(page);
  expect(await breaches(page)).toEqual([]);
});

test('steel is chosen, typed, and found by an inductance that was read, which undo takes back', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', CLIPBOARD);
  await ready(page);
  const listed = page.getByRole('region', { name: 'Parts', exact: true });
  await page.getByRole('combobox', { name: 'neck, kind of poles', exact: true }).selectOption('steel slugs');
  const steel = page.getByRole('combobox', { name: 'neck, steel of the poles', exact: true });
  await soon(() => steel.inputValue()).toBe('low-carbon, as drawn');
  await soon(() => listed.innerText()).toContain('handbooks’ µ, low-carbon, as drawn: 100 to 300');
  await steel.selectOption('own steel');
  await soon(() => field(page, 'own steel, µ').count()).toBe(1);
  expect(await figure(page, 'own steel, conductivity')).toBe('5.8 MS/m');
  await type(page, 'own steel, saturation', '1.6 T');
  await type(page, 'neck, steel for the coil, µ', '150');
  await type(page, 'neck, steel for the coil, relaxing at', '5 kHz');
  const built = await linked(page);
  expect(built.rows[0]!.pole.steel).toBe('own steel');
  expect(built.coilSteel).toEqual({ mu: 150, relaxation: 5000 });
  await atRest(page);

  // What a magnet holds is no cover: it says why, and there is none.
  const metal = page.getByRole('combobox', { name: 'neck cover, metal', exact: true });
  await metal.selectOption('steel');
  await soon(() => said(page)).toContain('must be one that no magnet holds');
  expect(await metal.inputValue()).toBe('none');
  expect(await metal.getAttribute('aria-invalid')).toBe('true');
  const why = page.locator(`[id="${(await metal.getAttribute('aria-describedby')) ?? ''}"]`);
  expect(await why.innerText()).toMatch(
    /must be one that no magnet holds; got steel\. .* add it in its place\.$/,
  );
  const box = (await why.boundingBox())!;
  const below = (await metal.boundingBox())!;
  expect(box.y - below.y - below.height).toBeLessThan(12);
  await metal.selectOption('brass');
  await soon(() => metal.getAttribute('aria-invalid')).toBeNull();
  await undo(page);

  await button(page, 'bench sheet').click();
  const view = page.getByRole('main', { name: 'Bench sheet' });
  await soon(() => view.getAttribute('aria-busy')).toBe('false');
  await type(page, 'inductance that was read', '3.4 H');
  const says = view.getByRole('region', { name: 'What was read' }).getByRole('status').first();
  await soon(() => says.innerText()).toMatch(/Or its steel has µ [\d.]+ for the coil, not 150/);
  const mu = /has µ ([\d.]+)/.exec(await says.innerText())![1]!;
  await button(page, 'take over as the steel’s permeability').click();
  await soon(() => says.innerText()).toMatch(/^L is as reckoned/);
  await page.keyboard.press('Escape');
  expect(Number(await figure(page, 'neck, steel for the coil, µ')) / Number(mu)).toBeCloseTo(1, 2);
  await undo(page);
  await soon(() => figure(page, 'neck, steel for the coil, µ')).toBe('150');
  // Back to what the grade says.
  await field(page, 'neck, steel for the coil, µ').fill('');
  await field(page, 'neck, steel for the coil, µ').press('Enter');
  await soon(async () => (await linked(page)).coilSteel).toEqual({ mu: null, relaxation: 5000 });
});

test('all rods but one are left out, undo and the list put them in again; and blades stand in the place of rods', async ({
  openSheet,
}) => {
  const { page } = await openSheet('', { ...CLIPBOARD, still: true });
  await ready(page);
  const heights = page.getByRole('slider', { name: /^height of pole \d, rods$/ });
  await soon(() => heights.count()).toBe(6);
  const listed = page.getByRole('region', { name: 'Parts', exact: true });
  await listed.locator('summary', { hasText: 'single poles' }).first().click();
  await page
    .getByRole('combobox', { name: 'neck, a pole of its own', exact: true })
    .selectOption('under string 3');
  const others = 'leave all but the neck, pole under string 3 out';
  await button(page, others).click();
  await soon(() => heights.count()).toBe(1);
  expect(await heights.getAttribute('aria-label')).toBe('height of pole 3, rods');
  expect(await field(page, 'height of pole 3, rods').count()).toBe(1);
  expect(await field(page, 'height of pole 4, rods').count()).toBe(0);
  const out = (await linked(page)).rows[0]!.pole.own!.map((one) => one?.fitted === false);
  expect(out).toEqual([true, true, false, true, true, true]);
  // It is typed as any single pole is.
  await type(page, 'neck, pole under string 3, diameter', '9 mm');
  await soon(async () => (await linked(page)).rows[0]!.pole.own![2]!.diameter).toBe(0.009);
  for (let step = 0; step < 2; step++) await undo(page);
  await soon(() => heights.count()).toBe(6);

  await button(page, 'leave the neck, pole under string 3 out').click();
  await soon(() => heights.count()).toBe(5);
  await soon(() => page.locator('.placement circle.pole').count()).toBe(17);
  await button(page, 'put the neck, pole under string 3 in').click();
  await soon(() => heights.count()).toBe(6);
  expect((await linked(page)).rows[0]!.pole.own).toBeUndefined();

  // Blades stand in the place of poles, on the pickup that sounds and is looked at.
  await page
    .getByRole('combobox', { name: 'open another sheet', exact: true })
    .selectOption('Holm bridge, two blades');
  await soon(() => page.locator('.placement polygon.pole').count()).toBe(2);
  expect(await page.locator('.placement circle.pole').count()).toBe(12);
  expect(
    await page.getByRole('combobox', { name: 'pickup shown in the section', exact: true }).inputValue(),
  ).toMatch(/bridge/);
});
