/** The focus's track held against what the same sheets come to when they are predicted. */
import { expect } from 'vitest';
import type { FocusTrack } from '../../../src/physics/focusTrack.ts';
import { predict } from '../../../src/physics/predict.ts';
import { trackOf } from '../../../src/jobs/track.ts';
import { leverWithin } from '../../../src/state/leverWithin.ts';
import { monotoneCurve } from '../../../src/plot/monotone.ts';
import { leverRange, withLever, type Lever } from '../../../src/sheet/focusLever.ts';
import { checkSheet } from '../../../src/sheet/check.ts';
import type { Sheet } from '../../../src/sheet/sheet.ts';
import { solved as solver } from '../../fixtures/solved.ts';

/** As the screen shows it. */
function widthOf(sheet: Sheet, row: number): number {
  return predict(sheet, solver.fields(sheet)).voices[0]!.reach.rows[row]!.width;
}

function moved(sheet: Sheet, row: number, lever: Lever, to: number): Sheet {
  const [first, ...rest] = sheet.pickups;
  return { ...sheet, pickups: [{ ...first!, build: withLever(first!.build!, row, lever, to) }, ...rest] };
}

/** [exact] Along its track the focus is what is predicted there, to 0.05 mm, rising throughout. */
export function holdTrack(sheet: Sheet, row: number, lever: Lever, shares: readonly number[]): void {
  const track = trackOf(sheet, { pickup: 0, row, lever, within: leverWithin(sheet, 0, row, lever) }, solver);
  const { widths, values } = track;
  const last = widths.length - 1;
  expect([...values]).toContain(leverRange(sheet.pickups[0]!.build!, row, lever)!.value);
  for (let i = 1; i <= last; i++) expect(widths[i]!).toBeGreaterThan(widths[i - 1]!);
  const sense = Math.sign(values[last]! - values[0]!);
  for (let i = 1; i <= last; i++) expect(sense * (values[i]! - values[i - 1]!)).toBeGreaterThan(0);
  const value = monotoneCurve(widths, values);
  for (const share of shares) {
    const width = widths[0]! + share * (widths[last]! - widths[0]!);
    expect(Math.abs(widthOf(moved(sheet, row, lever, value(width)), row) - width)).toBeLessThan(5e-5);
  }
  ends(sheet, row, lever, track);
}

/** 1 % of the widest and narrowest found by a plain sweep of what can be built on from where the lever stands. */
function ends(sheet: Sheet, row: number, lever: Lever, { widths, values, narrow, wide }: FocusTrack): void {
  const { value, min, max } = leverRange(sheet.pickups[0]!.build!, row, lever)!;
  const at = (to: number): number | null => {
    const next = moved(sheet, row, lever, to);
    if (!checkSheet(next).ok) return null;
    try {
      return widthOf(next, row);
    } catch {
      return null;
    }
  };
  for (const [end, told] of [
    [widths[0]!, narrow],
    [widths.at(-1)!, wide],
  ] as const) {
    const there = end === widths[0] ? values[0]! : values.at(-1)!;
    const beyond = there + Math.sign(there - value || 1) * 0.02 * (max - min);
    if (told.why === 'limit') expect([min, max].map((v) => v.toFixed(6))).toContain(there.toFixed(6));
    else if (told.why === 'refused') {
      expect(told.message).not.toBe('');
      expect(at(beyond)).toBe(null);
    } else {
      // It turns: on either side the focus comes back from there.
      for (const to of [beyond, 2 * there - beyond]) {
        const width = at(Math.min(max, Math.max(min, to)));
        if (width === null) continue;
        if (told === wide) expect(width).toBeLessThan(1.01 * end);
        else expect(width).toBeGreaterThan(0.99 * end);
      }
    }
  }
}
