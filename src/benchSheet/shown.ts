/** The sheet's figures in words of a page. */
import type { FigureKey } from '../sheet/figures.ts';
import { formatFigure } from '../sheet/format.ts';

/** Of metres; two decimals, or as many as a wire needs, and no zeros that say nothing: «4.75», «17», «0.0633». */
export const mm = (metres: number): string => {
  const size = metres * 1e3;
  const digits = Math.abs(size) < 0.3 ? 4 : 2;
  return String(Number(size.toFixed(digits))).replace('-', '−');
};

/** Of what is computed: more than the windings of one batch agree in. */
export const computed = (value: number, key: FigureKey): string =>
  formatFigure(Number(value.toPrecision(3)), key);

/** Where there is no figure. */
export const NONE = '—';
