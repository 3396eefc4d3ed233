/** What to say of turns for which a window has no room. */
import { gaugeDiameter, gaugeNumber } from '../../../shape/gauges.ts';
import { overallDiameter, turnsThatFit, woundRadius, type Enamel } from './wire.ts';
import type { WindingWindow } from './winding.ts';

/** The finest wire that is offered: coils are hardly wound of finer. */
const FINEST = 46;
/** A bobbin's radius is given to this, m, upwards. */
const RADIUS_STEP = 5e-5;

/** Wire and window of a coil, and how many turns are wanted. */
export interface WantedTurns {
  readonly window: WindingWindow;
  readonly turns: number;
  /** Bare diameter, m. */
  readonly wire: number;
  readonly enamel: Enamel;
  /** See turnsThatFit. */
  readonly packing: number;
}

/** What would do instead. */
export interface TurnsRoom {
  /** Turns that fit as it is. */
  readonly fit: number;
  /** Outer radius of a window that has room for those wanted, m. */
  readonly outer: number;
  /** The thickest gauge of finer wire of which they fit; null where even the finest is too thick. */
  readonly gauge: number | null;
}

/**
 * How many turns fit, and which wider window or finer wire takes those that are wanted. Source: turnsThatFit, woundRadius.
 */
export function turnsRoom({ window, turns, wire, enamel, packing }: WantedTurns): TurnsRoom {
  const overall = overallDiameter(wire, enamel);
  const reached = woundRadius(window.inner, window.top - window.bottom, turns, overall, packing);
  let gauge = Math.floor(gaugeNumber(wire) + 1e-6) + 1;
  const fits = (n: number): number =>
    turnsThatFit(window, overallDiameter(gaugeDiameter(n), enamel), packing);
  while (gauge <= FINEST && fits(gauge) < turns) gauge++;
  return {
    fit: turnsThatFit(window, overall, packing),
    outer: Number((Math.ceil(reached / RADIUS_STEP - 1e-6) * RADIUS_STEP).toPrecision(12)),
    gauge: gauge > FINEST ? null : gauge,
  };
}
