/** How much nearer to the body a string lies when it is stopped at a fret. */

/** Underside of an open string over the tops of the frets, at the nut, m: common practice, 0.3 to 0.6 mm. */
const OVER_NUT = 0.5e-3;

/** What decides how a string lies over the frets; m. */
export interface Action {
  /** Nut to saddle. */
  readonly scaleLength: number;
  /** Underside of the open string over the tops of the frets at half its length, the 12th fret. */
  readonly action: number;
}

/**
 * By how much a string that is stopped at a fret lies lower at x from the saddle than it does open, m: both are straight, the
 * open one from the saddle over the nut, the stopped one from the saddle down to the fret. The frets' tops lie in a plane; relief,
 * some 0.2 mm in the middle of the neck, is left out.
 *
 * @param length saddle to the fret, m; the scale itself for an open string
 * @param x from the saddle, at most `length`, m
 */
export function loweredBy({ scaleLength, action }: Action, length: number, x: number): number {
  if (length >= scaleLength) return 0;
  const saddle = 2 * action - OVER_NUT;
  return saddle * (x / length - x / scaleLength) + OVER_NUT * (x / scaleLength);
}
