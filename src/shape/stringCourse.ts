/**
 * Where the strings run: over the instrument, over a pickup and over each of its rows. Lengths in m, angles in rad.
 *
 * Frame of the instrument: x along the strings from the saddle towards the nut, y across them to the treble side, both
 * zero at the saddle on the centre line. Strings are counted from 1, the treble one; of how many there are is told by
 * the instrument's list of them. A number between two whole ones lies between those two strings.
 */

/** What the strings' courses depend on. */
export interface StrungInstrument {
  /** Nut to saddle, above 0. */
  readonly scaleLength: number;
  /** Between the outer strings at the saddle and at the nut. */
  readonly spreadSaddle: number;
  readonly spreadNut: number;
  /** As many as there are strings, one or more. */
  readonly strings: { readonly length: number };
}

/** A pickup in its place: saddle to its centre along the centre line; the slant is positive when the treble end lies nearer the saddle. */
export interface PlacedPickup {
  readonly place: number;
  readonly slant: number;
}

/** From a pickup's plane z = 0 to the undersides of the outermost strings. */
export interface Gaps {
  readonly gapBass: number;
  readonly gapTreble: number;
}

/** A string's share of the spread: +½ for string 1, −½ for the last one; 0 for one that is alone. */
const shareOf = ({ strings: { length } }: StrungInstrument, string: number): number =>
  length > 1 ? 0.5 - (string - 1) / (length - 1) : 0;

/**
 * Distance of a string from the centre line at x, m, positive on the treble side. Strings stand at equal distances; the
 * outer two span `spreadSaddle` at x = 0 and `spreadNut` at x = `scaleLength`, straight between and beyond.
 */
export function stringAcross(instrument: StrungInstrument, string: number, x: number): number {
  const { scaleLength, spreadSaddle, spreadNut } = instrument;
  const spread = spreadSaddle + ((spreadNut - spreadSaddle) * x) / scaleLength;
  return spread * shareOf(instrument, string);
}

/**
 * Saddle to where the centre line of a row crosses a string, m.
 *
 * The row is a straight line, turned by the slant about the pickup's centre and `offset` (m) away from it at right
 * angles to itself, so that x = place + offset/cos(slant) − y·tan(slant), with y the string's distance from the centre
 * line at that x; since y runs linearly in x this is solved exactly. Valid for |slant| < π/2.
 */
export function rowCrossing(
  instrument: StrungInstrument,
  { place, slant }: PlacedPickup,
  offset: number,
  string: number,
): number {
  const { scaleLength, spreadSaddle, spreadNut } = instrument;
  const tangent = Math.tan(slant);
  const part = shareOf(instrument, string);
  const atCentre = place + offset / Math.cos(slant);
  const slope = (part * (spreadNut - spreadSaddle)) / scaleLength;
  return (atCentre - tangent * part * spreadSaddle) / (1 + tangent * slope);
}

/**
 * Where a string crosses the centre line of a row, along that line from the pickup's own centre line, m; positive on the treble
 * side. As rowCrossing.
 */
export function alongRow(
  instrument: StrungInstrument,
  pickup: PlacedPickup,
  offset: number,
  string: number,
): number {
  const x = rowCrossing(instrument, pickup, offset, string);
  const y = stringAcross(instrument, string, x);
  return y * Math.cos(pickup.slant) - (x - pickup.place) * Math.sin(pickup.slant);
}

/** Distance of a string from the centre line where it crosses the line through a pickup's centre, m. */
export function acrossPickup(instrument: StrungInstrument, pickup: PlacedPickup, string: number): number {
  return stringAcross(instrument, string, rowCrossing(instrument, pickup, 0, string));
}

/**
 * Height of the strings' undersides above a pickup's plane z = 0 over any place across, m: the gaps at the outermost
 * strings, and between them the arc of the fretboard, on which the strings lie; it goes on beyond them.
 *
 * @param radius of the fretboard, above half of what the strings span; Infinity: flat
 * @param places across of all strings, in any order, one or more
 */
export function stringArc(
  { gapBass, gapTreble }: Gaps,
  radius: number,
  places: readonly number[],
): (y: number) => number {
  const treble = Math.max(...places);
  const bass = Math.min(...places);
  const middle = 0.5 * (treble + bass);
  const half = 0.5 * (treble - bass);
  return (y) => {
    const t = half > 0 ? (y - bass) / (2 * half) : 0.5;
    const chord = gapBass + t * (gapTreble - gapBass);
    // R(cos a − cos b) without the cancellation of two nearly equal roots.
    const rise = Number.isFinite(radius)
      ? (half ** 2 - (y - middle) ** 2) /
        (Math.sqrt(radius * radius - half ** 2) + Math.sqrt(radius * radius - (y - middle) ** 2))
      : 0;
    return chord + rise;
  };
}

/** From a pickup's plane z = 0 to the underside of a string over its centre, m. */
export function stringUnderside(
  instrument: StrungInstrument & { readonly radius: number },
  pickup: PlacedPickup,
  gaps: Gaps,
  string: number,
): number {
  const outer = [1, instrument.strings.length].map((n) => acrossPickup(instrument, pickup, n));
  return stringArc(gaps, instrument.radius, outer)(acrossPickup(instrument, pickup, string));
}
