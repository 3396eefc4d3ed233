/** How figures are shown to a maker, on the screen and aloud. */
import { FIGURES, type Figure, type FigureKey } from './figures.ts';
import { noteName } from '../shape/noteNames.ts';
import { UNITS, type ShownUnit, type UnitKey } from './unitTable.ts';
import { gaugeOf, WIRE_DECIMALS } from './wireGauge.ts';

/** Capacitors are marked without trailing zeros (22 nF); coils and pots are given to three digits (7.20 kΩ). */
const LEAST_DIGITS: Partial<Record<UnitKey, number>> = { ohm: 3, henry: 3, farad: 1, hertz: 1 };
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
  if (figure.unit === 'note') return { digits: noteName(value), shown };
  if (figure.unit === 'wire') return { digits: (value / shown.size).toFixed(WIRE_DECIMALS), shown };
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

const gaugeName = (value: number, key: FigureKey): string | null => {
  const gauge = FIGURES[key].unit === 'wire' ? gaugeOf(value) : null;
  return gauge === null ? null : `AWG ${gauge}`;
};

/** '4.75 mm', '7.20 kΩ', '22 nF', '7.0', '0.0633 mm (AWG 42)'. `readFigure` reads it back to the digits shown. */
export function formatFigure(value: number, key: FigureKey): string {
  if (!Number.isFinite(value)) return String(value);
  const { digits, shown } = parts(value, key);
  if (shown.symbol === '') return digits;
  if (shown.symbol === '°') return `${digits}°`;
  const gauge = gaugeName(value, key);
  return `${digits} ${shown.symbol}${gauge === null ? '' : ` (${gauge})`}`;
}

/** The same for a screen reader: '4.75 millimetres', '7.20 kilohms', '7.0 of 10'. */
export function sayFigure(value: number, key: FigureKey): string {
  if (!Number.isFinite(value)) return String(value);
  const { digits, shown } = parts(value, key);
  const gauge = gaugeName(value, key);
  return `${digits.replace('−', 'minus ').replace('♯', ' sharp ').replace('♭', ' flat ')} ${shown.said}${gauge === null ? '' : `, ${gauge}`}`.trim();
}
