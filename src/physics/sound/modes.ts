/** The modes of plucked strings (partials × polarisations) and what each coil hears of them. */
import type { Instrument, Pickup, Pluck } from '../../sheet/sheet.ts';
import { decayRate, type Polarisation } from '../string/damping.ts';
import { partialFrequency, partialsBelow, type SoundingString } from '../string/note.ts';
import { ACROSS_SHARE, bellOn, sampleBell } from '../string/reach.ts';
import { partialWeights } from '../string/weights.ts';
import { pluckAmplitudes, pluckShare } from './pluck.ts';

/** One string's modes, struct of arrays. */
export interface StringModes {
  /** ω, rad/s. */
  readonly angular: Float64Array;
  /** α of e^(−αt), 1/s. */
  readonly decay: Float64Array;
  /**
   * For every coil asked for, the flux linkage (V·s) of each mode at the moment of the pluck: amplitude × weight. The coil's
   * EMF is its derivative, Re[flux (−α + iω) e^((−α+iω)t)].
   */
  readonly flux: readonly Float64Array[];
}

const POLARISATIONS: readonly Polarisation[] = ['towards', 'across'];

/** All modes below `limit` (Hz) of a plucked string, heard by the given coils. Modes that no coil hears are left in. */
export function stringModes(
  instrument: Instrument,
  pickups: readonly Pickup[],
  coils: readonly { readonly pickup: number; readonly row: number }[],
  note: SoundingString,
  pluck: Pluck,
  limit: number,
): StringModes {
  const count = partialsBelow(note, limit);
  const amplitudes = pluckAmplitudes(pluck, note.length, count);
  const weights = coils.map(({ pickup, row }) => {
    const owner = pickups[pickup]!;
    const bell = bellOn(instrument, owner, owner.rows[row]!, note.string);
    return partialWeights(sampleBell(bell, note.length), note.length, count);
  });
  const angular = new Float64Array(2 * count);
  const decay = new Float64Array(2 * count);
  const flux = coils.map(() => new Float64Array(2 * count));
  POLARISATIONS.forEach((polarisation, p) => {
    const share = pluckShare(pluck, polarisation) * (polarisation === 'across' ? ACROSS_SHARE : 1);
    for (let i = 0; i < count; i++) {
      const frequency = partialFrequency(i + 1, note.frequency, note.inharmonicity);
      const at = p * count + i;
      angular[at] = 2 * Math.PI * frequency;
      decay[at] = decayRate(note, frequency, polarisation);
      for (let c = 0; c < coils.length; c++) flux[c]![at] = share * amplitudes[i]! * weights[c]![i]!;
    }
  });
  return { angular, decay, flux };
}
