/** A figure with its unit, as a file gives it: "4.2 kHz", "AWG 42", "0.3 mm". */
import { gaugeDiameter } from '../shape/gauges.ts';
import { FIGURES, type FigureKey } from './figures.ts';
import { faultOf } from './reading.ts';
import { UNITS } from './unitTable.ts';

/** Digits kept, so that 4.75 mm is 0.00475. */
const DIGITS = 12;

/** As they are typed where a keyboard lacks the letter. */
const plain = (symbol: string): string =>
  symbol.replace('Ω', 'ohm').replace('µ', 'u').replace('−', '-').toLowerCase();

/**
 * In SI; a bare number is refused where the figure has a unit.
 *
 * @param where «want»’s «resonance»
 * @param refuse is told a sentence, and never returns
 */
export function quantity(
  value: unknown,
  key: FigureKey,
  where: string,
  refuse: (message: string) => never,
): number {
  const { unit } = FIGURES[key];
  const { shown, quantity: what, example } = UNITS[unit];
  const got = value === undefined ? 'none' : JSON.stringify(value);
  const bad = (): never =>
    refuse(`${where} must be ${what} with its unit, such as "${example}"; got ${got}.`);
  if (unit === 'count' || unit === 'ratio') {
    if (typeof value !== 'number') return refuse(`${where} must be ${what}, such as ${example}; got ${got}.`);
    const fault = faultOf(value, key, got);
    return fault ? refuse(`${where}: ${fault}`) : value;
  }
  if (typeof value !== 'string') return bad();
  const gauge = unit === 'wire' ? /^\s*AWG ?(\d{1,2})\s*$/i.exec(value)?.[1] : undefined;
  const [, number, symbol = ''] = /^\s*([-−]?\d+(?:\.\d+)?(?:e[-+]?\d+)?)\s*(\S+)\s*$/i.exec(value) ?? [];
  const size = shown.find((one) => plain(one.symbol) === plain(symbol))?.size;
  if (gauge === undefined && (number === undefined || size === undefined)) return bad();
  const si =
    gauge === undefined
      ? Number((Number(number!.replace('−', '-')) * size!).toPrecision(DIGITS))
      : gaugeDiameter(Number(gauge));
  const fault = faultOf(si, key, got);
  return fault ? refuse(`${where}: ${fault}`) : si;
}
