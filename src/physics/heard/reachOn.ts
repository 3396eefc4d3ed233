/** What a row hears of a string, from whatever its reach comes: the bell set by hand, or the build's field. */
import type { Instrument } from '../../sheet/sheet.ts';
import type { FieldAnswer, FieldRow } from './fieldAnswer.ts';
import type { HeardPickup } from './resolved.ts';
import { fadeCurve, type FluxCurve } from '../string/fluxCurve.ts';
import { ACROSS_SHARE, bellAt, bellOn, bellPeak, sampleBell } from '../string/reach.ts';
import { cutReach, readReach, type SampledReach } from '../string/sampled.ts';

/** One row's reach on one stopped string. */
export interface HeardReach {
  /** For movement towards the pickup, cut to the moving string. */
  readonly towards: SampledReach;
  /** For movement across it; a number: that share of the other. */
  readonly across: SampledReach | number;
  /** |∫ towards dx|, V·s/m: flux over area is the displacement averaged over the reach. */
  readonly area: number;
  /** ∫ towards dx with its sign, V·s/m. */
  readonly signed: number;
  /** Of the displacement averaged so. Where ∫ is below 0, the displacement counts the other way round, and this too. */
  readonly curve: FluxCurve;
  readonly bell: ReachShape;
}

/** The reach uncut, for showing. */
export interface ReachShape {
  /** Saddle to its middle, m: by hand the row's; computed that of the reach, which leans towards a row of opposite poles. */
  readonly centre: number;
  /** Full width at half maximum, m. */
  readonly width: number;
  /** Largest value, V·s/m per metre. */
  readonly peak: number;
  /** How many widths to each side of its middle are worth showing. */
  readonly extent: number;
  /** Its value at x (m from the saddle), V·s/m per metre, the middle counting positive. */
  readonly at: (x: number) => number;
}

/** Bells reach this many widths to each side of their tops; 1e-5 of the height is left there. */
const BELL_EXTENT = 2;
/** A computed reach falls off more slowly. */
const FIELD_EXTENT = 3;
/** V·s/m; less than this is nothing: a nanovolt at the speed of a hard stroke. */
const NOTHING = 1e-10;

/**
 * The reach of one row on a string.
 *
 * @param length saddle to where the string is stopped, m
 * @throws RangeError for a string that is not there, or a reach left to a build whose field was not computed
 */
export function reachOn(
  instrument: Instrument,
  pickup: HeardPickup,
  row: number,
  string: number,
  length: number,
): HeardReach {
  if (pickup.reachBy === 'build') return builtReach(pickup, row, string, length);
  const { reach, offset } = pickup.rows[row]!;
  const bell = bellOn(instrument, pickup, { reach, offset }, string);
  return {
    towards: sampleBell(bell, length),
    across: ACROSS_SHARE,
    area: bell.area,
    signed: bell.area,
    curve: fadeCurve(reach.fade),
    bell: {
      centre: bell.centre,
      width: bell.width,
      peak: bellPeak(bell),
      extent: BELL_EXTENT,
      at: (x) => bellAt(bell, x),
    },
  };
}

function builtReach(pickup: HeardPickup, row: number, string: number, length: number): HeardReach {
  const { field, place } = pickup;
  const found = field?.strings[string - 1]?.rows[row];
  if (!field || !found) {
    throw new RangeError(
      `A reach left to the build must have its field computed; got none for the ${pickup.name} pickup. Compute it or set the reach by hand.`,
    );
  }
  const towards = placed(field, place, found.towards);
  const sign = found.area < 0 ? -1 : 1;
  const [r1, r2, r3] = found.curve;
  return {
    towards: cutReach(towards, 0, length),
    across: cutReach(placed(field, place, found.across), 0, length),
    area: Math.max(Math.abs(found.area), NOTHING),
    signed: found.area,
    curve: [sign * r1, r2, sign * r3],
    bell: {
      centre: place + found.middle,
      width: found.width,
      peak: peakOf(found),
      extent: FIELD_EXTENT,
      at: (x) => sign * readReach(towards, x),
    },
  };
}

/** Samples along the string, from the saddle. */
function placed({ start, step }: FieldAnswer, place: number, values: Float64Array): SampledReach {
  return { start: place + start, step, values };
}

function peakOf({ towards }: FieldRow): number {
  let most = 0;
  for (const value of towards) most = Math.max(most, Math.abs(value));
  return most;
}
