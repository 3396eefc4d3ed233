/** Pickups and pluck point along the string. */
import { test } from './rig/app.ts';
import { changed, curves, drag, figure, middle, ready, slider, soon, type } from './rig/hands.ts';
import { atRest } from './rig/rest.ts';

const NECK = 'neck pickup, distance from the saddle';
const PLUCK = 'pluck point, distance from the saddle';

test('a pickup follows the pointer, and its figure and the curve with it', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await atRest(page);
  const block = slider(page, 'neck pickup along the string');
  const from = await middle(block);
  const before = { curves: await curves(page), place: Number.parseFloat(await figure(page, NECK)) };
  await drag(page, block, { x: -57, y: 0 });
  await changed(page, before.curves);
  await atRest(page);
  const drawn = await curves(page);
  // [exact] It stays under the pointer, to half a step of 0.5 mm.
  await soon(async () => Math.abs((await middle(block)).x - from.x + 57)).toBeLessThan(1);
  // Farther left is nearer the nut.
  await soon(async () => Number.parseFloat(await figure(page, NECK))).toBeGreaterThan(before.place);

  // Its dimension line holds the same figure.
  await drag(page, slider(page, NECK), { x: 57, y: 0 });
  await changed(page, drawn);
  await soon(async () => Number.parseFloat(await figure(page, NECK))).toBe(before.place);
});

test('keys move a pickup, slant it and shift the pluck point', async ({ openSheet }) => {
  const { page } = await openSheet();
  await ready(page);
  await atRest(page);
  const first = await curves(page);
  await page.getByRole('radio', { name: 'bridge', exact: true }).check();
  await changed(page, first);
  await atRest(page);
  let drawn = await curves(page);
  for (const [name, key] of [
    ['bridge pickup along the string', 'ArrowRight'],
    ['bridge pickup along the string', 'PageUp'],
    ['bridge pickup, slant', 'ArrowLeft'],
    ['bridge pickup, distance from the saddle', 'PageDown'],
  ] as const) {
    const handle = slider(page, name);
    await handle.focus();
    const before = await handle.getAttribute('aria-valuetext');
    await page.keyboard.press(key);
    await soon(() => handle.getAttribute('aria-valuetext'), `${name}, ${key}`).not.toBe(before);
    drawn = await changed(page, drawn);
  }
  // The pluck point changes what is heard, not what the cable passes.
  const point = slider(page, PLUCK);
  await point.focus();
  const from = await middle(point);
  await page.keyboard.press('PageUp');
  await soon(async () => (await middle(point)).x).toBeLessThan(from.x);
});

test('under a node of the chosen partial the pickup is deaf to it, as theory has it', async ({
  openSheet,
}) => {
  const { page } = await openSheet();
  await ready(page);
  // [exact] The fourth partial of an open string of length L has nodes at L/4 and L/2 from the saddle, its loudest
  // place half way between them, at 3L/8.
  const length = Number.parseFloat(await figure(page, 'scale length'));
  await type(page, 'standing wave of partial', '4');
  await atRest(page);
  const ring = page.locator('section[aria-labelledby="curve-title"] circle.picked');
  const low = page.locator('section[aria-labelledby="curve-title"] circle.partial');
  let drawn = await curves(page);
  await type(page, NECK, `${(3 * length) / 8} mm`);
  drawn = await changed(page, drawn);
  await soon(() => ring.count()).toBe(1);
  await soon(() => low.count()).toBeGreaterThan(1);
  await type(page, NECK, `${length} mm / 4`);
  await changed(page, drawn);
  await soon(() => ring.count()).toBe(0);
});
