/** Where strings run across the guitar and where a slanted row of poles crosses each of them. */
import type { Instrument, Pickup } from '../../sheet/sheet.ts';

/**
 * Distance of a string from the centre line at x (m from the saddle), m, positive on the treble side. Strings stand
 * at equal distances; the outer two span `spreadSaddle` at x = 0 and `spreadNut` at the nut.
 */
export function stringOffset(instrument: Instrument, string: number, x: number): number {
  const { scaleLength, spreadSaddle, spreadNut, strings } = instrument;
  const spread = spreadSaddle + ((spreadNut - spreadSaddle) * x) / scaleLength;
  return spread * share(string, strings.length);
}

/** −½ for the lowest string to +½ for string 1. */
function share(string: number, count: number): number {
  return count > 1 ? 0.5 - (string - 1) / (count - 1) : 0;
}

/**
 * Saddle to where the centre line of a row crosses a string, m.
 *
 * The row is a straight line, turned by the slant about the pickup's centre and `offset` (m) away from it at right
 * angles to itself, so that x = place + offset/cos(slant) − y·tan(slant), with y the string's distance from the centre
 * line at that x; since y runs linearly in x this is solved exactly. Valid for |slant| < π/2.
 */
export function rowCrossing(instrument: Instrument, pickup: Pickup, offset: number, string: number): number {
  const { scaleLength, spreadSaddle, spreadNut, strings } = instrument;
  const tangent = Math.tan(pickup.slant);
  const part = share(string, strings.length);
  const atCentre = pickup.place + offset / Math.cos(pickup.slant);
  const slope = (part * (spreadNut - spreadSaddle)) / scaleLength;
  return (atCentre - tangent * part * spreadSaddle) / (1 + tangent * slope);
}
