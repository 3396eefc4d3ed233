/**
 * Reach set by hand: how strongly a coil hears the string at each place along it.
 *
 * The shape is a Gaussian bell. The field of a small pole falls off smoothly to both sides, so the bell has no edge;
 * a Gaussian is the plainest such shape, is fully given by width and area, and its transform has no zeros of
 * its own, so that every dip in a curve comes from placement. Width is the full width at half maximum.
 */
import { BELL_AREA, SIGMA_PER_WIDTH } from '../../shape/bell.ts';
import { rowCrossing } from '../../shape/stringCourse.ts';
import { stringLevel } from '../../shape/stringLevel.ts';
import type { Instrument, Pickup, Reach } from '../../sheet/sheet.ts';
import { sampleReach, type SampledReach } from './sampled.ts';

/**
 * How much of a movement across the pickup (parallel to the top) is heard, against one towards it. Rule of thumb: for
 * a string centred over a pole it would be nothing by symmetry; strings sit a little off centre and poles differ.
 */
export const ACROSS_SHARE = 0.1;

/** The bell is followed to ±6 standard deviations; 2e-9 of its area lies beyond. */
const EXTENT = 6;
/** Samples to a standard deviation; see the digits of `transformReach`. */
const SAMPLES_PER_SIGMA = 25;

/** A bell on one string. */
export interface Bell {
  /** Saddle to its top, m. */
  readonly centre: number;
  /** Full width at half maximum, m. */
  readonly width: number;
  /** V·s/m: the voltage for a string that moves everywhere at 1 m/s. */
  readonly area: number;
}

/** The bell of one row on a string of the instrument, counted from 1, the string's own level included. */
export function bellOn(
  instrument: Instrument,
  pickup: Pickup,
  row: { readonly offset: number; readonly reach: Reach },
  string: number,
): Bell {
  const spec = instrument.strings[string - 1];
  if (spec === undefined) {
    throw new RangeError(`The string must be 1 to ${instrument.strings.length}; got ${string}.`);
  }
  return {
    centre: rowCrossing(instrument, pickup, row.offset, string),
    width: row.reach.width,
    area: row.reach.sensitivity * stringLevel(spec),
  };
}

/** Height of the bell's top, V·s/m per metre. */
export function bellPeak(bell: Bell): number {
  return bell.area / (bell.width * BELL_AREA);
}

/** The bell's value at x (m from the saddle), V·s/m per metre. */
export function bellAt(bell: Bell, x: number): number {
  return bellPeak(bell) * Math.exp(-0.5 * ((x - bell.centre) / (bell.width * SIGMA_PER_WIDTH)) ** 2);
}

/** The bell as samples, cut to the moving string from the saddle to `length` (m). */
export function sampleBell(bell: Bell, length: number): SampledReach {
  const sigma = bell.width * SIGMA_PER_WIDTH;
  const from = Math.max(0, bell.centre - EXTENT * sigma);
  const to = Math.min(length, bell.centre + EXTENT * sigma);
  return sampleReach((x) => bellAt(bell, x), from, to, sigma / SAMPLES_PER_SIGMA);
}
