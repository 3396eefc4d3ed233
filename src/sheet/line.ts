/** The maker's own line on its grid of strings and quarter beats. Pure; what does not apply returns the very same line. */
import { MOST_NOTES } from './check.ts';
import type { LineNote } from './sheet.ts';

export { MOST_NOTES } from './check.ts';

/** Notes in any order. */
export type Line = readonly LineNote[];

/** A cell of the grid, beats. */
export const CELL = 0.25;
/** The grid: 32 beats. */
export const BEATS_A_BAR = 4;
export const MOST_BARS = 8;
const LAST = MOST_BARS * BEATS_A_BAR - CELL;

/** A place on the grid. */
export interface Cell {
  /** 1 is the highest. */
  readonly string: number;
  /** A multiple of CELL, 0–31.75. */
  readonly beat: number;
}

/** The note that begins in a cell; nothing for an empty one. */
export const noteIn = (line: Line, cell: Cell): LineNote | undefined =>
  line.find((note) => sameCell(note, cell));

/** The note in its cell, in place of what stands there: a link may bring several. Not beyond 64. */
export function withNote(line: Line, note: LineNote): Line {
  const there = line.filter((other) => sameCell(other, note));
  const same = there.length === 1 && there[0]!.fret === note.fret;
  if (same || (there.length === 0 && line.length >= MOST_NOTES)) return line;
  return [...line.filter((other) => !sameCell(other, note)), note].sort(
    (a, b) => a.beat - b.beat || a.string - b.string,
  );
}

/** The line with nothing in that cell. */
export function withoutNote(line: Line, cell: Cell): Line {
  return noteIn(line, cell) ? line.filter((note) => !sameCell(note, cell)) : line;
}

/** How many bars the line takes, at least one. */
export const barsOf = (line: Line): number =>
  line.reduce((most, { beat }) => Math.max(most, Math.floor(beat / BEATS_A_BAR) + 1), 1);

/** So many strings towards the lowest, which is the last of `count`, and beats on, within the grid. */
export const moved = ({ string, beat }: Cell, strings: number, beats: number, count: number): Cell => ({
  string: Math.min(count, Math.max(1, string + strings)),
  beat: Math.min(LAST, Math.max(0, beat + beats)),
});

const sameCell = (a: Cell, b: Cell): boolean => a.string === b.string && a.beat === b.beat;
