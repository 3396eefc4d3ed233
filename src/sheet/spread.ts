/**
 * What a maker can't hold from one piece to the next: 19 pieces in 20 lie within ± these. Shares, and m. Kept with the document,
 * because a maker's own table goes with the trials that are judged by it. Usual figures of the trade where nobody said.
 */
import type { FigureKey } from './figures.ts';

export interface Spread {
  /** Of a coil's turns, as its counter and its wire let go. */
  readonly turns: number;
  /** Of the wire's resistance for each turn: its diameter, and how hard it is pulled. */
  readonly wire: number;
  /** Of a pickup's magnets, all together. */
  readonly magnet: number;
  /** Of a pickup's distance from its strings, both sides together, m. */
  readonly gap: number;
  readonly pot: number;
  readonly capacitor: number;
  /** Of the cable's capacitance. */
  readonly cable: number;
  /** Of the place at which the strings are plucked, m. */
  readonly pluck: number;
}

export type SpreadKey = keyof Spread;

export const DEFAULT_SPREAD: Spread = {
  turns: 0.02,
  wire: 0.05,
  magnet: 0.1,
  gap: 0.3e-3,
  pot: 0.2,
  capacitor: 0.1,
  cable: 0.1,
  pluck: 5e-3,
};

/** In the table's order: which figure each is, and what it is called. */
export const SPREADS: readonly (readonly [key: SpreadKey, figure: FigureKey, name: string])[] = [
  ['turns', 'spreadShare', 'turns'],
  ['wire', 'spreadShare', 'wire resistance'],
  ['magnet', 'spreadShare', 'magnets'],
  ['gap', 'spreadGap', 'gap'],
  ['pot', 'spreadShare', 'pots'],
  ['capacitor', 'spreadShare', 'capacitors'],
  ['cable', 'spreadShare', 'cable'],
  ['pluck', 'spreadPluck', 'pluck place'],
];

/** Whether it is what holds where nobody said. */
export const isDefaultSpread = (spread: Spread): boolean =>
  SPREADS.every(([key]) => spread[key] === DEFAULT_SPREAD[key]);
