/** The focus of every preset by every lever: along its track what is predicted there, and no further than it can go. */
import { describe, it } from 'vitest';
import { checkSheet } from '../../src/sheet/check.ts';
import { LEVERS } from '../../src/sheet/focusLever.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { PRESETS } from '../fixtures/presets.ts';
import { holdTrack } from '../physics/rig/holdTrack.ts';
import { soakPlan } from './tools/plan.ts';
import { generator } from './tools/random.ts';

/** Presets, those of one geometry once. */
const sheets = new Map<string, Sheet>();
for (const { data } of PRESETS) {
  const checked = checkSheet(data);
  if (!checked.ok) throw new Error(checked.message);
  const { pickups, instrument, listen } = checked.sheet;
  if (pickups[0]!.build)
    sheets.set(JSON.stringify([pickups[0]!.build, instrument, listen.string]), checked.sheet);
}

describe('[exact] the focus along its track', () => {
  // Of a preset: places on each track.
  const { count, seed } = soakPlan('focus', 1, 8);
  const random = generator(seed);
  const all = [...sheets.values()].slice(0, process.env['LODETONE_SOAK'] === 'long' ? undefined : 1);

  it.each(all.map((sheet) => [sheet.title, sheet] as const))('of %s', (_, sheet) => {
    sheet.pickups[0]!.build!.rows.forEach((_row, row) => {
      for (const lever of LEVERS)
        holdTrack(
          sheet,
          row,
          lever,
          Array.from({ length: count }, () => random.next()),
        );
    });
  });
});
