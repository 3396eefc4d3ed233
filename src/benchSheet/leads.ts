/** Where the two ends of every winding go. */
import type { Pickup } from '../sheet/sheet.ts';

export interface Leads {
  readonly start: string;
  readonly finish: string;
}

/**
 * With the first coil's start hot everything is in phase; a pickup whose wires are exchanged, or a second coil out of phase,
 * is turned round.
 */
export function leadsOf({ rows, join, phase, reversed }: Pickup, row: number): Leads {
  const [hot, ground] = reversed ? ['ground', 'hot'] : ['hot', 'ground'];
  const series = rows.length > 1 && join === 'series';
  const middle = `coil ${row === 0 ? 2 : 1}`;
  const plus = series && row > 0 ? middle : hot;
  const minus = series && row === 0 ? middle : ground;
  const crossed = row > 0 && phase === 'out';
  return crossed ? { start: minus, finish: plus } : { start: plus, finish: minus };
}

/** Whether a winding's start lies on the side of the hot lead. */
export const startsHot = ({ reversed, phase }: Pickup, row: number): boolean =>
  !(reversed !== (row > 0 && phase === 'out'));
