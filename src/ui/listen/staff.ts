/** Where the lines, beats and notes of the maker's own line stand, px: bars side by side, in as many rows as it takes. */
import { BEATS_A_BAR, CELL, type Cell } from '../../sheet/line.ts';

export interface Staff {
  readonly height: number;
  readonly bars: readonly { readonly bar: number; readonly x: number; readonly y: number }[];
  readonly barWidth: number;
  /** Strings; the distance of neighbouring ones, and the height of all. */
  readonly strings: number;
  readonly gap: number;
  readonly tall: number;
  place(cell: Cell): { readonly x: number; readonly y: number };
  /** The cell nearest to a place. */
  cellAt(x: number, y: number): Cell;
}

const GAP = 15;
const TOP = 18;
const BELOW = 14;
const LEAST_BAR = 172;
/** Before the first beat of a bar. */
const INDENT = 10;
const CELLS = BEATS_A_BAR / CELL;

/** @param count bars */
export function staff(width: number, count: number, strings: number): Staff {
  const tall = (strings - 1) * GAP;
  const row = tall + TOP + BELOW;
  const aside = Math.max(1, Math.min(count, Math.floor(width / LEAST_BAR)));
  const barWidth = Math.max(LEAST_BAR, width - 1) / aside;
  const step = (barWidth - INDENT) / CELLS;
  const left = (bar: number): number => (bar % aside) * barWidth;
  const top = (bar: number): number => Math.floor(bar / aside) * row + TOP;
  return {
    height: Math.ceil(count / aside) * row,
    bars: Array.from({ length: count }, (_, bar) => ({ bar, x: left(bar), y: top(bar) })),
    barWidth,
    strings,
    gap: GAP,
    tall,
    place: ({ string, beat }) => {
      const bar = Math.floor(beat / BEATS_A_BAR);
      const within = (beat - bar * BEATS_A_BAR) / CELL;
      return { x: left(bar) + INDENT + (within + 0.25) * step, y: top(bar) + (string - 1) * GAP };
    },
    cellAt: (x, y) => {
      const line = Math.min(Math.ceil(count / aside) - 1, Math.max(0, Math.floor(y / row)));
      const column = Math.min(aside - 1, Math.max(0, Math.floor(x / barWidth)));
      const bar = Math.min(count - 1, line * aside + column);
      const within = Math.round((x - left(bar) - INDENT) / step - 0.25);
      const string = Math.round((y - top(bar)) / GAP) + 1;
      return {
        string: Math.min(strings, Math.max(1, string)),
        beat: bar * BEATS_A_BAR + CELL * Math.min(CELLS - 1, Math.max(0, within)),
      };
    },
  };
}

/** «string 2, bar 1, beat 2 and a half». */
export function cellWords({ string, beat }: Cell): string {
  const bar = Math.floor(beat / BEATS_A_BAR);
  const within = beat - bar * BEATS_A_BAR;
  const parts = ['', ' and a quarter', ' and a half', ' and three quarters'];
  return `string ${string}, bar ${bar + 1}, beat ${Math.floor(within) + 1}${parts[(within % 1) / CELL] ?? ''}`;
}
