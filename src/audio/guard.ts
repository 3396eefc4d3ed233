/** Looks a sound over before it may reach anybody's ears. */
import type { Sound } from '../physics/prediction.ts';

/** −1 dBFS. */
export const CEILING = 10 ** (-1 / 20);

// Half a unit in the last place of a 32-bit sample, with room: rounding may lift a peak that is exactly at the ceiling.
const ROUNDING = 1e-6;

/** A sentence about what is wrong with the sound, or null when it may be played. */
export function objection(sound: Sound): string | null {
  const { samples, sampleRate } = sound;
  if (!(sampleRate > 0 && sampleRate < Infinity)) {
    return `The sample rate of a sound must be positive; got ${sampleRate} Hz. It is not played.`;
  }
  if (samples.length === 0) return 'A sound must have samples; got none. There is nothing to play.';
  let peak = 0;
  for (let i = 0; i < samples.length; i++) {
    const v = Math.abs(samples[i] as number);
    // Written so that NaN fails it too.
    if (!(v < Infinity)) {
      return `Every sample must be a finite number; sample ${i} is not. The sound is not played; undo the last change.`;
    }
    if (v > peak) peak = v;
  }
  if (peak > CEILING * (1 + ROUNDING)) {
    const db = 20 * Math.log10(peak);
    return `A sound must stay at or below −1 dBFS; got ${db.toFixed(1).replace('-', '−')} dBFS. It is not played.`;
  }
  return null;
}
