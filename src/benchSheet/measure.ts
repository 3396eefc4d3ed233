/** Dimension lines of a drawing on paper. */
import { dimension, linesPath } from '../plot/drawing.ts';
import { LETTER, path, text, type Mark } from './page.ts';

/** mm from one dimension line to the next: a line of letters and some air. */
export const LANE = 4.6;
/** mm; arrows, and what an extension line leaves free at the outline and runs past. */
const ARROW = 2;
const GAP = 0.6;
const OVERRUN = 1;
/** Below a figure, and what a digit takes of a letter's size. */
const UNDER = 0.8;

export interface Measured {
  readonly from: { readonly x: number; readonly y: number };
  readonly to: { readonly x: number; readonly y: number };
  readonly along: 'x' | 'y';
  /** Where the dimension line runs, mm. */
  readonly at: number;
  readonly figure: string;
}

/** A dimension line with its figure above it, read from below or from the right (ISO 129-1). */
export function measured({ from, to, along, at, figure }: Measured): Mark[] {
  const drawn = dimension({ from, to, along, at, arrow: ARROW, gap: GAP, overrun: OVERRUN });
  const mid = { x: 0.5 * (drawn.start.x + drawn.end.x), y: 0.5 * (drawn.start.y + drawn.end.y) };
  const upright = along === 'y';
  return [
    path(linesPath([drawn.line, ...drawn.extensions]), 'thin'),
    path(drawn.arrows.join(''), 'arrow'),
    upright ? text(mid.x - UNDER, mid.y, figure, 'middle', true) : text(mid.x, mid.y - UNDER, figure),
  ];
}

/** y of letters whose middle is at a height, mm. */
export const middled = (y: number): number => y + 0.35 * LETTER;
