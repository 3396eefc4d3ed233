import type { Pot, Taper } from '../../sheet/sheet.ts';

/**
 * Share of the track below the wiper of an audio pot at half rotation. Makers print such tapers with two straight
 * pieces that meet at 10–15 % of the total (common practice, no source); this is the middle of that.
 */
const AUDIO_TAPER_AT_HALF = 0.125;

/**
 * What remains between the wiper and either end at the stop, Ω: terminal, contact and the printed silver under the
 * end of the track (common practice, no source: a few ohms to a few tens). A volume at zero is therefore very quiet,
 * about −90 dB with 250–500 kΩ, and not −∞ dB; no leg is ever a short, so no node of the circuit is degenerate.
 */
export const END_RESISTANCE = 10;

/** A small trimmer's end resistance scales with its track: never more than this share of the total. */
const LARGEST_END_SHARE = 1e-3;

/**
 * Share of the track below the wiper, 0–1, at a rotation of 0–1 (1 is what the knob calls 10).
 * @throws RangeError for a position outside 0–1.
 */
export function taperShare(taper: Taper, position: number): number {
  if (!(position >= 0 && position <= 1)) {
    throw new RangeError(`A pot's position must be from 0 to 1; got ${position}.`);
  }
  if (taper === 'linear') return position;
  if (position <= 0.5) return 2 * AUDIO_TAPER_AT_HALF * position;
  return AUDIO_TAPER_AT_HALF + 2 * (1 - AUDIO_TAPER_AT_HALF) * (position - 0.5);
}

/** The two legs of a pot, Ω: wiper to the upper end (hot) and to the lower end (ground); they sum to the total. */
export function potLegs(pot: Pot): { readonly upper: number; readonly lower: number } {
  const end = Math.min(END_RESISTANCE, LARGEST_END_SHARE * pot.resistance);
  const track = pot.resistance - 2 * end;
  const share = taperShare(pot.taper, pot.position);
  return { upper: end + (1 - share) * track, lower: end + share * track };
}
