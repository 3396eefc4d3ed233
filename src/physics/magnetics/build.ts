/**
 * What the field engine is asked about. The description of a pickup's build belongs to the sheet; the strings above
 * it come from the instrument. Everything in SI units, in the pickup's frame (see src/sheet/build.ts).
 */
export type * from '../../sheet/sheet.ts';

/** One string as it passes over a pickup; straight and parallel to x at its place. */
export interface StringOver {
  /** 1–6. */
  readonly string: number;
  /** Across, m. */
  readonly y: number;
  /** Centre of the string above z = 0, m. */
  readonly z: number;
  readonly diameter: number;
  /** Steel core, m; equal to the diameter for a plain string. */
  readonly core: number;
  /** N, kg/m and m: for the pull. */
  readonly tension: number;
  readonly linearDensity: number;
  readonly length: number;
  /** From the saddle to the pickup's centre on this string, m. */
  readonly place: number;
}
