/** What a sheet from before a field was there says by leaving it out. Common practice of the trade. */
import type { LineNote, WrapMetal } from './sheet.ts';

/** m; 9.5 in, between the rounder and the flatter boards. */
export const DEFAULT_RADIUS = 0.241;
/** None: an older sheet goes on sounding as it did. Common practice where it is set: 3–8 mm. */
export const DEFAULT_FADE = null;
/** What the strings of most sets are wound of today. */
export const DEFAULT_WRAP: WrapMetal = 'nickel-plated steel';
/** Beats per minute. */
export const DEFAULT_TEMPO = 96;

/** Eight eighths on strings 3 to 1: a G major chord taken apart, open position. */
export const DEFAULT_LINE: readonly LineNote[] = [
  { beat: 0, string: 3, fret: 0 },
  { beat: 0.5, string: 2, fret: 0 },
  { beat: 1, string: 1, fret: 0 },
  { beat: 1.5, string: 1, fret: 3 },
  { beat: 2, string: 1, fret: 0 },
  { beat: 2.5, string: 2, fret: 3 },
  { beat: 3, string: 2, fret: 0 },
  { beat: 3.5, string: 3, fret: 2 },
];
