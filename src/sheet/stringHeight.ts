/** Where a string runs over a pickup's build: plain geometry, as the field's computation has it. */
import type { PickupBuild } from './build.ts';
import type { Instrument, Pickup } from './sheet.ts';

/** Distance of a string (1–6) from the centre line at x (m from the saddle), m, positive on the treble side. */
export function stringAcross(instrument: Instrument, string: number, x: number): number {
  const { scaleLength, spreadSaddle, spreadNut } = instrument;
  const spread = spreadSaddle + ((spreadNut - spreadSaddle) * x) / scaleLength;
  return spread * (0.5 - (string - 1) / 5);
}

/**
 * Saddle to where the centre line of a row crosses a string (1–6), m: the row is turned by the slant about the pickup's
 * centre, `offset` (m) away from it at right angles to itself.
 */
export function rowOnString(
  instrument: Instrument,
  pickup: Pick<Pickup, 'place' | 'slant'>,
  offset: number,
  string: number,
): number {
  const { place, slant } = pickup;
  const tangent = Math.tan(slant);
  const saddle = stringAcross(instrument, string, 0);
  const opening = stringAcross(instrument, string, 1) - saddle;
  return (place + offset / Math.cos(slant) - tangent * saddle) / (1 + tangent * opening);
}

/**
 * From z = 0 to the underside of a string (1–6), m: the gaps at the outer strings, and between them the arc of the
 * fretboard, on which the strings lie.
 */
export function stringUnderside(
  instrument: Instrument,
  pickup: Pick<Pickup, 'place' | 'slant'>,
  build: Pick<PickupBuild, 'gapBass' | 'gapTreble'>,
  string: number,
): number {
  const across = (n: number): number => stringAcross(instrument, n, rowOnString(instrument, pickup, 0, n));
  const [treble, bass] = [across(1), across(6)];
  const half = (treble - bass) / 2;
  const y = across(string) - (treble + bass) / 2;
  const chord = build.gapBass + ((y + half) / (2 * half)) * (build.gapTreble - build.gapBass);
  const R = instrument.radius;
  // R (cos a − cos b) without the cancellation of two nearly equal roots.
  const rise = (half ** 2 - y ** 2) / (Math.sqrt(R * R - half ** 2) + Math.sqrt(R * R - y ** 2));
  return chord + rise;
}
