/** What has to be moved for a pickup's strings to be equal, or to follow a slope; and for its pull to stay small. */
import { hasCoil } from '../shape/hasCoil.ts';
import type { BalanceWish, PickupBuild, Sheet } from '../sheet/sheet.ts';
import { BalancedSheet, type Measured } from './balancedSheet.ts';
import { byGaps } from './balanceGaps.ts';
import { byPoles, movableRows } from './balancePoles.ts';
import { byPull } from './balancePull.ts';
import { byTurns } from './balanceTurns.ts';
import type { FieldSolver } from './field.ts';

/** What one pickup becomes, and what is still missing. */
export interface Balanced {
  readonly build: PickupBuild;
  /** How far every string is from where it should stand, dB, string 1 first; by turns the pickup's own; see `balance`. */
  readonly before: readonly number[];
  readonly after: readonly number[];
  /** By how much the strings are louder together, dB. */
  readonly louder: number;
  /** Largest shift of an open string, moving towards the pickup or across it, cents, before and after; below 0: flat. */
  readonly pulls: readonly [before: number, after: number];
  /** Whether less than NEAR_DB is missing. */
  readonly reached: boolean;
  /** What stands in the way, in sentences; empty where nothing does. */
  readonly limits: readonly string[];
}

/** dB; less is not heard of one string beside another, and hardly turned on a bench. */
export const NEAR_DB = 0.1;

/**
 * Strings are told apart by their levels open: `strum` takes all of them plucked alike, by their loudness (see notesLoudness) at the
 * cable's end or through the loudspeaker, with this pickup alone; `movement` the open circuit for the same movement, dB. How far a string is off is counted from what
 * the slope gives it, around the middle between the loudest and the softest.
 *
 * Poles and gaps keep that mean where they can: where a pole has no more room, all give way until it reaches, or until the worst
 * on either side are as far off (least largest miss).
 *
 * @throws RangeError in words for what can't be asked of this pickup; FieldError where it can't be computed as it is
 */
export function balance(sheet: Sheet, wish: BalanceWish, solver: FieldSolver): Balanced {
  const { pickup, by } = wish;
  const own = sheet.pickups[pickup];
  if (!own?.build)
    throw new RangeError('The pickup must have a build for its balance to be found; it has none.');
  if (!hasCoil(own.build))
    throw new RangeError(
      'The pickup must have a coil for its strings to be balanced; it has none. Put it on.',
    );
  if (own.reachBy === 'hand')
    throw new RangeError(
      'The reach must be left to the build for strings to be balanced; it is set by hand. Leave it to the build.',
    );
  // Said before anything is solved.
  if (by === 'poles') movableRows(own.build);
  const one = new BalancedSheet(sheet, wish, solver);
  const before = one.measure(own.build);
  const found = of(by, one, before, sheet);
  const after = one.measure(found.build);
  const rest = { build: found.build, limits: found.limits, louder: after.mean - before.mean };
  const pulls = [before.pull, after.pull] as const;
  if (by === 'pull') return { ...rest, pulls, before: [], after: [], reached: found.limits.length === 0 };
  const [from, to] =
    by === 'turns'
      ? [[before.mean - found.wanted], [after.mean - found.wanted]]
      : [one.offs(before), one.offs(after)];
  const reached = Math.max(...to.map(Math.abs)) < NEAR_DB;
  return { ...rest, pulls, before: from, after: to, reached, limits: reached ? [] : found.limits };
}

interface Found {
  readonly build: PickupBuild;
  /** Of the mean, dB; without meaning but for turns. */
  readonly wanted: number;
  readonly limits: readonly string[];
}

function of(by: BalanceWish['by'], one: BalancedSheet, before: Measured, sheet: Sheet): Found {
  switch (by) {
    case 'poles':
      return { ...byPoles(one, before), wanted: 0 };
    case 'gaps':
      return { ...byGaps(one, before), wanted: 0 };
    case 'pull':
      return { ...byPull(one), wanted: 0 };
    case 'turns':
      return byTurns(one, before, sheet);
  }
}
