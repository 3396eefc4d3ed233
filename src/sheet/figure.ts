import type { UnitKey } from './unitTable.ts';

/** One number of the sheet; limits and steps in SI. */
export interface Figure {
  /** What a maker calls it; begins a sentence. */
  readonly label: string;
  readonly unit: UnitKey;
  readonly min: number;
  readonly max: number;
  /** One arrow key; a ratio on a log scale, otherwise an amount. */
  readonly step: number;
  /** Page up or page down; as `step`. */
  readonly page: number;
  /** Whether the sheet may hold null in its place. */
  readonly optional?: boolean;
  /** Linear unless told. */
  readonly scale?: 'linear' | 'log';
  /** The symbol of the unit that a bare number takes when none is shown; the unit's own unless told. */
  readonly bare?: string;
}

/** A length of some hundredths of a millimetre to some centimetres, all in m. */
export const length = (label: string, min: number, max: number, step = 1e-4, page = 1e-3): Figure => ({
  label,
  unit: 'mm',
  min,
  max,
  step,
  page,
});
