/**
 * Random drags of the focus in one page, presets opened one after the other: by every lever the focus goes as the hand does,
 * without a jump, to the ends of its track and says why there; nothing else of the document changes, and it comes back.
 */
import { LEVERS } from '../../src/sheet/focusLever.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import type { Pickup, Sheet } from '../../src/sheet/sheet.ts';
import { expect, test } from '../browser/rig/app.ts';
import { ready } from '../browser/rig/hands.ts';
import { atRest } from '../browser/rig/rest.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { anyDrag, focusDrag, type Edge } from './tools/focusDrag.ts';
import { soakPlan } from './tools/plan.ts';
import { generator } from './tools/random.ts';
import { openSheetNamed } from './tools/windows.ts';

/** Of the presets in npm test: one with two rows of poles, by one lever; focus.browser.ts has one row by each. */
const SHORT = ['09-holm-two-coils-in-series.json'];
/** Faults after which it is enough. */
const ENOUGH = 12;

const sheets = PRESETS.map(({ name, data }) => {
  const checked = checkSheet(data);
  if (!checked.ok) throw new Error(checked.message);
  return { name, sheet: checked.sheet };
});

/** A handle of each row: of two rows only the outer edges are held. */
const edgesOf = (
  { name, build, rows }: Pickup,
  pickup: number,
  random: { once: (n: number) => boolean },
): Edge[] =>
  (build?.rows ?? []).map((_, row) => {
    const two = rows.length === 2;
    const nut = two ? row === 0 : random.once(2);
    return {
      name: two ? `${name} row ${row + 1}` : `${name} pickup`,
      towards: nut ? 'nut' : 'saddle',
      pickup,
      row,
    };
  });

test('the focus goes where the hand goes, on every preset and by every lever', async ({ openSheet }) => {
  const long = process.env['LODETONE_SOAK'] === 'long';
  // Drags of an edge by a lever.
  const { count, seed } = soakPlan('focusDrags', 1, 3, 173);
  const random = generator(seed);
  const { page, problems } = await openSheet();
  await ready(page);
  const choose = async (name: string, index: number): Promise<void> => {
    await page.getByRole('combobox', { name, exact: true }).first().selectOption({ index });
  };
  const reports: string[] = [];
  let [drags, moves, kept, changed] = [0, 0, 0, 0];

  const drag = async (sheet: Sheet, edge: Edge): Promise<void> => {
    for (const lever of long ? LEVERS : [random.of(LEVERS)])
      for (let i = 0; i < count && reports.length < ENOUGH; i++) {
        const one = anyDrag(lever, random);
        const done = await focusDrag(page, edge, one);
        drags++;
        moves += done.moves;
        if (one.end === 'keep') kept++;
        if (done.changed) changed++;
        const faults = [...done.faults, ...problems.splice(0)];
        if (faults.length === 0) continue;
        const how = `${one.early ? 'at once, ' : ''}${one.moves.join(' ')} px, ${one.end}`;
        reports.push([`${sheet.title}, ${edge.name}, by the ${lever}, ${how}:`, ...faults].join('\n  '));
        console.log(reports.at(-1));
      }
  };
  for (const { name, sheet } of sheets) {
    if (!long && !SHORT.includes(name)) continue;
    await openSheetNamed(page, sheet.title);
    await atRest(page);
    await choose('string', random.below(sheet.instrument.strings.length));
    for (const [i, pickup] of sheet.pickups.slice(0, long ? undefined : 1).entries()) {
      await choose('pickup shown in the section', i);
      await atRest(page);
      const edges = edgesOf(pickup, i, random);
      for (const edge of long ? edges : [random.of(edges)]) await drag(sheet, edge);
    }
    console.log(`focusDrags: ${name}: ${drags} drags so far, ${reports.length} with faults`);
  }
  console.log(`focusDrags: ${drags} drags, ${moves} moves, ${changed} of them changed the sheet`);
  expect(reports).toEqual([]);
  expect(changed).toBeGreaterThanOrEqual(0.4 * kept);
});
