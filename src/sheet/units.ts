/**
 * How figures are shown to a maker, and the one place where SI meets the units of the trade.
 * Reading what a maker types is in reading.ts; it is passed on from here.
 */
import { FIGURES, type Figure, type FigureKey } from './figures.ts';

export { loadReader, readFigure, type Reading } from './reading.ts';

export type UnitKey =
  | 'mm'
  | 'metre'
  | 'deg'
  | 'ohm'
  | 'henry'
  | 'farad'
  | 'pF/m'
  | 'mV·s/m'
  | 'knob'
  | 's'
  | 'ms'
  | 'g/m'
  | 'count';

/** A unit with its prefix, as shown, as said aloud, and its size in SI. */
export interface ShownUnit {
  readonly symbol: string;
  readonly said: string;
  readonly size: number;
}

export interface Unit {
  /** Smallest first; one for a unit that keeps its prefix. */
  readonly shown: readonly ShownUnit[];
  /** What the figure is, in a sentence: 'a length'. */
  readonly quantity: string;
  /** The symbol of the unit that a bare number takes unless the figure or the shown text says otherwise. */
  readonly bare: string;
  /** For a message. */
  readonly example: string;
}

const one = (symbol: string, said: string, size: number): readonly ShownUnit[] => [{ symbol, said, size }];

export const UNITS: Readonly<Record<UnitKey, Unit>> = {
  mm: {
    shown: one('mm', 'millimetres', 1e-3),
    quantity: 'a length',
    bare: 'mm',
    example: '4.75 mm or 3/16 in',
  },
  metre: { shown: one('m', 'metres', 1), quantity: 'a length', bare: 'm', example: '3 m or 10 ft' },
  deg: { shown: one('°', 'degrees', Math.PI / 180), quantity: 'an angle', bare: '°', example: '9 deg' },
  ohm: {
    shown: [
      { symbol: 'Ω', said: 'ohms', size: 1 },
      { symbol: 'kΩ', said: 'kilohms', size: 1e3 },
      { symbol: 'MΩ', said: 'megohms', size: 1e6 },
    ],
    quantity: 'a resistance',
    bare: 'kΩ',
    example: '7.2 kohm',
  },
  henry: {
    shown: [
      { symbol: 'µH', said: 'microhenries', size: 1e-6 },
      { symbol: 'mH', said: 'millihenries', size: 1e-3 },
      { symbol: 'H', said: 'henries', size: 1 },
    ],
    quantity: 'an inductance',
    bare: 'H',
    example: '2.4 H',
  },
  farad: {
    shown: [
      { symbol: 'pF', said: 'picofarads', size: 1e-12 },
      { symbol: 'nF', said: 'nanofarads', size: 1e-9 },
      { symbol: 'µF', said: 'microfarads', size: 1e-6 },
    ],
    quantity: 'a capacitance',
    bare: 'pF',
    example: '470 pF or 22 nF',
  },
  'pF/m': {
    shown: one('pF/m', 'picofarads per metre', 1e-12),
    quantity: 'a capacitance per length',
    bare: 'pF/m',
    example: '100 pF/m',
  },
  'mV·s/m': {
    shown: one('mV·s/m', 'millivolts for one metre per second', 1e-3),
    quantity: 'a voltage per speed',
    bare: 'mV·s/m',
    example: '80 mV s/m',
  },
  knob: {
    shown: one('', 'of 10', 0.1),
    quantity: 'a position from 0 to 10',
    bare: '',
    example: '7 or 70 %',
  },
  s: { shown: one('s', 'seconds', 1), quantity: 'a time', bare: 's', example: '4 s' },
  ms: { shown: one('ms', 'milliseconds', 1e-3), quantity: 'a time', bare: 'ms', example: '30 ms' },
  'g/m': {
    shown: one('g/m', 'grams per metre', 1e-3),
    quantity: 'a weight per length',
    bare: 'g/m',
    example: '0.3956 g/m',
  },
  count: { shown: one('', '', 1), quantity: 'a whole number', bare: '', example: '12' },
};

/** Capacitors are marked without trailing zeros (22 nF); coils and pots are given to three digits (7.20 kΩ). */
const LEAST_DIGITS: Partial<Record<UnitKey, number>> = { ohm: 3, henry: 3, farad: 1 };
const MOST_DIGITS = 4;

/** Digits after the point so that one step shows; epsilon: a step in a shown unit is exact to about 1e-16. */
function decimalsOf(step: number): number {
  let decimals = 0;
  while (decimals < 6 && Math.abs(step * 10 ** decimals - Math.round(step * 10 ** decimals)) > 1e-9)
    decimals++;
  return decimals;
}

/** Drops trailing zeros of a decimal fraction, but keeps `least` digits after the point. */
function trim(digits: string, least: number): string {
  const point = digits.indexOf('.');
  if (point < 0) return digits;
  let end = digits.length;
  while (end > point + 1 + least && digits[end - 1] === '0') end--;
  return digits.slice(0, end === point + 1 ? point : end);
}

function prefixed(value: number, unit: UnitKey): { digits: string; shown: ShownUnit } {
  const choices = UNITS[unit].shown;
  const magnitude = Math.abs(Number(value.toPrecision(MOST_DIGITS)));
  let shown = choices[0] as ShownUnit;
  // A little slack, so that 1e-9 / 1e-9 counts as 1 whatever the last bit does.
  for (const choice of choices) if (magnitude >= choice.size * (1 - 1e-9)) shown = choice;
  const scaled = value / shown.size;
  const whole = Math.max(1, Math.floor(Math.log10(Math.max(1, magnitude / shown.size) * (1 + 1e-9))) + 1);
  const least = Math.max(0, (LEAST_DIGITS[unit] ?? 1) - whole);
  const most = Math.max(0, MOST_DIGITS - whole);
  return { digits: value === 0 ? '0' : trim(scaled.toFixed(most), least), shown };
}

function fixed(value: number, figure: Figure): { digits: string; shown: ShownUnit } {
  const shown = UNITS[figure.unit].shown[0] as ShownUnit;
  if (figure.unit === 'count') return { digits: String(Math.round(value)), shown };
  const least = decimalsOf(figure.step / shown.size);
  // Up to two digits more than a step needs, so that a typed 11.25 mm does not look like 11.2 mm.
  return { digits: trim((value / shown.size).toFixed(least + 2), least), shown };
}

function parts(value: number, key: FigureKey): { digits: string; shown: ShownUnit } {
  const figure = FIGURES[key];
  const { digits, shown } =
    figure.unit in LEAST_DIGITS ? prefixed(value, figure.unit) : fixed(Number(value.toPrecision(12)), figure);
  const zero = !/[1-9]/.test(digits);
  return { digits: zero ? digits.replace('-', '') : digits.replace('-', '−'), shown };
}

/** '4.75 mm', '7.20 kΩ', '22 nF', '7.0'. `readFigure` reads it back to the digits shown. */
export function formatFigure(value: number, key: FigureKey): string {
  if (!Number.isFinite(value)) return String(value);
  const { digits, shown } = parts(value, key);
  if (shown.symbol === '') return digits;
  return shown.symbol === '°' ? `${digits}°` : `${digits} ${shown.symbol}`;
}

/** The same for a screen reader: '4.75 millimetres', '7.20 kilohms', '7.0 of 10'. */
export function sayFigure(value: number, key: FigureKey): string {
  if (!Number.isFinite(value)) return String(value);
  const { digits, shown } = parts(value, key);
  return `${digits.replace('−', 'minus ')} ${shown.said}`.trim();
}
