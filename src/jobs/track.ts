/** The focus's track, from a sheet and the lever that is to move it. */
import type { FieldSolver } from '../physics/field.ts';
import { focusTrack, type FocusTrack } from '../physics/focusTrack.ts';
import { objection } from '../sheet/checkTrials.ts';
import { leverRange, withLever, type Lever } from '../sheet/focusLever.ts';
import type { Sheet } from '../sheet/sheet.ts';
import { wrap } from '../sheet/trials.ts';

/** Rows and pickups from 0. */
export interface TrackWish {
  readonly pickup: number;
  readonly row: number;
  readonly lever: Lever;
}

/** @throws RangeError for a pickup without a build, or without that row; else as focusTrack does */
export function trackOf(sheet: Sheet, { pickup, row, lever }: TrackWish, solver?: FieldSolver): FocusTrack {
  const build = sheet.pickups[pickup]?.build;
  const range = build && leverRange(build, row, lever);
  if (!build || !range)
    throw new RangeError('The pickup must have a build for its focus to be moved by it; it has none.');
  const at = (value: number): Sheet | string => {
    const moved = { ...sheet.pickups[pickup]!, build: withLever(build, row, lever, value) };
    const next = { ...sheet, pickups: sheet.pickups.map((p, i) => (i === pickup ? moved : p)) };
    return objection(wrap(next), wrap(sheet)) || next;
  };
  return focusTrack({ pickup, row, ...range, byRatio: lever === 'gap', at }, solver);
}
