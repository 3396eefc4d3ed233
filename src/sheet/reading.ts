/**
 * What a maker types into a figure, as a value in SI, or a sentence that says what is wrong with it.
 *
 * A bare number takes the unit that the field now shows (`7.2` over `6.00 kΩ` is 7.2 kΩ), and where nothing is
 * shown mm, m, °, kΩ, H, pF (nF for a tone capacitor), pF/m, mV·s/m, s, ms or g/m, as the figure's kind asks.
 */
import { noteNumber } from '../shape/noteNames.ts';
import { FIGURES, isWhole, type FigureKey } from './figures.ts';
import { formatFigure } from './format.ts';
import { UNITS, type ShownUnit, type UnitKey } from './unitTable.ts';

/** A value in SI, or a sentence about what is wrong. */
export type Reading =
  | { readonly ok: true; readonly value: number }
  | { readonly ok: false; readonly message: string };

/** Longer than any figure in earnest, and short enough that nothing typed can take long. */
const LONGEST = 80;

/** Digits kept, so that 4.75 mm is 0.00475 and not 0.0047499999999999999. */
const DIGITS = 12;

/** The SI unit of each kind in mathjs's spelling; null where there is none. */
const BASES: Readonly<Record<UnitKey, string | null>> = {
  mm: 'm',
  metre: 'm',
  deg: 'rad',
  ohm: 'ohm',
  henry: 'H',
  farad: 'F',
  'pF/m': 'F/m',
  'mV·s/m': 'V*s/m',
  knob: null,
  hertz: 'Hz',
  tesla: 'T',
  remanence: 'T',
  coercivity: 'A/m',
  energy: 'J/m^3',
  conductivity: 'S/m',
  celsius: null,
  ratio: null,
  s: 's',
  ms: 's',
  'g/m': 'kg/m',
  bpm: null,
  beat: null,
  share: null,
  cent: null,
  decibel: null,
  wire: 'm',
  note: null,
  count: null,
};

/** The SI unit of a figure as it stands in the sheet; empty where it has none. */
export const baseUnit = (key: FigureKey): string => BASES[FIGURES[key].unit] ?? '';

const fail = (message: string): Reading => ({ ok: false, message });

/** What turns the ways in which makers write a figure into one, and what reads that. */
const reader = () => Promise.all([import('./spelling.ts'), import('./unitsExpression.ts')]);

/** Begins to fetch the reader, so that the first typed figure need not wait for it. */
export async function loadReader(): Promise<void> {
  await reader().catch(() => undefined);
}

function bareUnit(key: FigureKey, shown: string | undefined): ShownUnit {
  const figure = FIGURES[key];
  const { shown: choices, bare } = UNITS[figure.unit];
  const symbol = shown?.trim().replace(/^[−-]?[\d.]+\s*/, '');
  const wanted = symbol || (figure.bare ?? bare);
  return choices.find((choice) => choice.symbol === wanted) ?? (choices[0] as ShownUnit);
}

/** The rule that a value in SI must obey by itself; null when it does. */
export function faultOf(value: number, key: FigureKey, typed?: string): string | null {
  const { label, unit, min, max } = FIGURES[key];
  if (!Number.isFinite(value)) return `${label} must be a finite figure; got ${typed ?? String(value)}.`;
  if (isWhole(key) && !Number.isInteger(value)) return `${label} must be a whole number; got ${value}.`;
  if (value >= min && value <= max) return null;
  const limits = [formatFigure(min, key), formatFigure(max, key)];
  const got = formatFigure(value, key);
  const { symbol, size } = UNITS[unit].shown[0] as ShownUnit;
  // Just beyond a limit the shown digits would deny what is wrong; all the digits there are do not.
  const plain = limits.includes(got) ? (typed ?? `${value / size} ${symbol}`.trim()) : got;
  return `${label} must be between ${limits[0]} and ${limits[1]}; got ${plain}.`;
}

/** @param shown the text that the field shows now; its unit is what a bare number takes. null: it takes none, and is refused where there are several */
export async function readFigure(text: string, key: FigureKey, shown?: string | null): Promise<Reading> {
  const { label, unit } = FIGURES[key];
  const { quantity, example } = UNITS[unit];
  const base = BASES[unit];
  const wanted =
    base === null ? `${quantity}, such as ${example}` : `a figure with a unit, such as ${example}`;
  const typed = text.trim();
  if (typed === '') return fail(`${label} must be ${wanted}; got nothing.`);
  if (typed.length > LONGEST)
    return fail(`${label} must be written in at most ${LONGEST} characters; got ${typed.length}.`);
  const note = unit === 'note' ? noteNumber(typed) : null;
  if (note !== null) {
    const fault = faultOf(note, key, typed);
    return fault === null ? { ok: true, value: note } : fail(fault);
  }
  const loaded = await reader().catch(() => null);
  if (!loaded)
    return fail('The reader for typed figures must be loaded first; it did not arrive. Try once more.');
  const [{ respell }, { evaluate }] = loaded;
  const spelled = respell(typed, unit);
  if (spelled === null)
    return fail(
      `${label} must be written with a point as its decimal sign; got "${typed}". Leave out thousands marks.`,
    );
  const result = evaluate(spelled, base);
  const unitless = shown === null && base !== null && result.kind === 'number';
  if (unitless || result.kind === 'not an expression')
    return fail(`${label} must be ${wanted}; got "${typed}".`);
  if (result.kind === 'other unit')
    return fail(`${label} must be ${quantity}${base === null ? ' without a unit' : ''}; got ${typed}.`);
  const scaled =
    result.kind === 'number' ? result.value * bareUnit(key, shown ?? undefined).size : result.value;
  // Adding zero turns −0 into 0.
  const value = Number(scaled.toPrecision(DIGITS)) + 0;
  const fault = faultOf(value, key, typed);
  return fault === null ? { ok: true, value } : fail(fault);
}
