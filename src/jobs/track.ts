/** The focus's track, from a sheet and the lever that is to move it. */
import type { FieldSolver } from '../physics/field.ts';
import { focusTrack, type FocusTrack } from '../physics/focusTrack.ts';
import { leverRange, withLever, type Lever } from '../sheet/focusLever.ts';
import type { Sheet } from '../sheet/sheet.ts';

/** Rows and pickups from 0. */
export interface TrackWish {
  readonly pickup: number;
  readonly row: number;
  readonly lever: Lever;
  /** How far the document lets the lever go; null, as far as its own figure does. */
  readonly within: Within | null;
}

/** Values of a lever, m, and why it goes no further; empty where its own figure ends. */
export interface Within {
  readonly min: number;
  readonly max: number;
  readonly below: string;
  readonly above: string;
}

/** @throws RangeError for a pickup without a build, or without that row; else as focusTrack does */
export function trackOf(
  sheet: Sheet,
  { pickup, row, lever, within }: TrackWish,
  solver?: FieldSolver,
): FocusTrack {
  const build = sheet.pickups[pickup]?.build;
  const range = build && leverRange(build, row, lever);
  if (!build || !range)
    throw new RangeError('The pickup must have a build for its focus to be moved by it; it has none.');
  const { min, max, below = '', above = '' } = { ...range, ...within };
  const at = (value: number): Sheet | string => {
    if (value < min && below !== '') return below;
    if (value > max && above !== '') return above;
    const moved = { ...sheet.pickups[pickup]!, build: withLever(build, row, lever, value) };
    return { ...sheet, pickups: sheet.pickups.map((p, i) => (i === pickup ? moved : p)) };
  };
  return focusTrack({ pickup, row, ...range, byRatio: lever === 'gap', at }, solver);
}
