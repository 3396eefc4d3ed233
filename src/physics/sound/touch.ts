/**
 * How a ringing string is silenced by the touch of a finger or plectrum, in time for the next pluck.
 *
 * The displacement is multiplied by 1 − x + sin(2πx)/(2π), x running from 0 to 1 over `TOUCH`: its slope is a half-wave
 * raised cosine, so that neither the string's place nor its speed jumps. ASSUMPTION: the time; players take a few milliseconds.
 */

/** s. */
export const TOUCH = 8e-3;

/** What is left of the movement; 1 before, 0 after. @param x share of the touch that has passed */
export function touchLeft(x: number): number {
  if (x <= 0) return 1;
  return x < 1 ? 1 - x + Math.sin(2 * Math.PI * x) / (2 * Math.PI) : 0;
}

/** Its derivative by time, 1/s. */
export function touchSlope(x: number): number {
  return x > 0 && x < 1 ? -(1 - Math.cos(2 * Math.PI * x)) / TOUCH : 0;
}
