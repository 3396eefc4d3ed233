/** The modes of plucked strings (partials × polarisations) and what each coil hears of them. */
import type { Instrument, Pluck } from '../../sheet/sheet.ts';
import type { HeardPickup as Pickup } from '../heard/resolved.ts';
import { decayRate, type Polarisation } from '../string/damping.ts';
import type { FluxCurve } from '../string/fluxCurve.ts';
import { partialFrequency, partialsBelow, type SoundingString } from '../string/note.ts';
import { reachOn } from '../heard/reachOn.ts';
import { partialWeights } from '../string/weights.ts';
import { pluckAmplitudes, pluckShare } from './pluck.ts';

/** A coil as the sheet has it. */
export interface CoilPlace {
  readonly pickup: number;
  readonly row: number;
}

/** What one coil hears of one stopped string. */
export interface CoilHearing {
  /** Flux linkage for 1 m of each mode, V·s/m. */
  readonly weights: Float64Array;
  /** ∫S dx, V·s/m: flux over area is the displacement averaged over the reach. */
  readonly area: number;
  readonly curve: FluxCurve;
}

/** One string's modes, struct of arrays: all partials moving towards the pickup, then all moving across it. */
export interface StringModes {
  /** ω, rad/s. */
  readonly angular: Float64Array;
  /** α of e^(−αt), 1/s. */
  readonly decay: Float64Array;
  /** Displacement at the moment of the pluck, m. */
  readonly amplitude: Float64Array;
  readonly coils: readonly CoilHearing[];
}

const POLARISATIONS: readonly Polarisation[] = ['towards', 'across'];

/** All modes below `limit` (Hz) of a plucked string, heard by the given coils. Modes that no coil hears are left in. */
export function stringModes(
  instrument: Instrument,
  pickups: readonly Pickup[],
  coils: readonly CoilPlace[],
  note: SoundingString,
  pluck: Pluck,
  limit: number,
): StringModes {
  const count = partialsBelow(note, limit);
  const amplitudes = pluckAmplitudes(pluck, note.length, count);
  const angular = new Float64Array(2 * count);
  const decay = new Float64Array(2 * count);
  const amplitude = new Float64Array(2 * count);
  POLARISATIONS.forEach((polarisation, p) => {
    const share = pluckShare(pluck, polarisation);
    for (let i = 0; i < count; i++) {
      const frequency = partialFrequency(i + 1, note.frequency, note.inharmonicity);
      const at = p * count + i;
      angular[at] = 2 * Math.PI * frequency;
      decay[at] = decayRate(note, frequency, polarisation);
      amplitude[at] = share * amplitudes[i]!;
    }
  });
  const hearings = coils.map(({ pickup, row }) => hearing(instrument, pickups[pickup]!, row, note, count));
  return { angular, decay, amplitude, coils: hearings };
}

/** One row of a pickup on one string. */
function hearing(
  instrument: Instrument,
  pickup: Pickup,
  rowIndex: number,
  note: SoundingString,
  count: number,
): CoilHearing {
  const { length, string } = note;
  const { towards, across, area, curve } = reachOn(instrument, pickup, rowIndex, string, length);
  const weights = new Float64Array(2 * count);
  const heard = partialWeights(towards, length, count);
  weights.set(heard);
  if (typeof across === 'number') for (let i = 0; i < count; i++) weights[count + i] = across * heard[i]!;
  else weights.set(partialWeights(across, length, count), count);
  return { weights, area, curve };
}
