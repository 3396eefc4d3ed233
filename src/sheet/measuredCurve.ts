/** Which columns of a table are a measured curve, and in which units; and the curve itself. */
import { CURVE_WANTED, LEAST_POINTS, type CurveTable } from './measuredTable.ts';

/** What a column holds besides frequency: a level in dB or as an amplitude; |Z| in Ω, kΩ or dB over 1 Ω. */
export type CurveUnit = 'dB' | 'amplitude' | 'ohm' | 'kohm' | 'dBohm';

/** Columns are counted from 0; null where it is to be asked. */
export interface CurveChoice {
  readonly frequency: number | null;
  /** What its unit is in Hz. */
  readonly hertz: 1 | 1000 | null;
  readonly value: number | null;
  readonly unit: CurveUnit | null;
}

/** Frequencies in Hz, rising; a level in dB, or |Z| in dB over 1 Ω. */
export interface MeasuredCurve {
  readonly kind: 'level' | 'impedance';
  readonly frequencies: Float64Array;
  readonly decibels: Float64Array;
  /** What was done to what the file holds, in sentences. */
  readonly notes: readonly string[];
}

/** A curve, or a sentence. */
export type CurveRead =
  | { readonly ok: true; readonly curve: MeasuredCurve }
  | { readonly ok: false; readonly message: string };

/** More are brought down to their means over a 96th of an octave, which no coil has features within. */
const MOST_POINTS = 2000;
const PER_OCTAVE = 96;
/** What can have been measured: Hz, dB, Ω. */
const FREQUENCIES = [0.1, 100e6] as const;
const MOST_DB = 400;
const MOST_OHM = 1e12;
/** A frequency axis that ends below this without a unit may be in kHz. */
const SURELY_HERTZ = 1000;

const fail = (message: string): CurveRead => ({ ok: false, message });

const FREQUENCY = /freq|frequenz|fréq|frecu|\bhz\b|^f$|\bf\s*[[(/]|hertz/i;
/** What is neither frequency nor curve. */
const BESIDE = /phase|\bdeg|°|\brad\b|\barg\b|^vp\(|^(?:index|no|nr|#)\.?$/i;
const IMPEDANCE = /\|\s*z\s*\||impedan|\bz\b|zmag|ohm|Ω|\u2126/i;
const KILO_OHM = /\bkohm|k\s*[Ω\u2126]|kilo-?ohm/i;
const OHM = /ohm|Ω|\u2126/i;
const DECIBEL = /\bd\s?b|^vdb|\(dB|spl/i;
const LEVEL = /level|gain|magnitude|amplitude|pegel|response|\bmag\b|volt/i;

/**
 * What header and figures leave no doubt about; anything else is null. A frequency rises all the way; what is below 0 is in dB.
 */
export function guessChoice({ names, columns }: CurveTable): CurveChoice {
  const indices = columns.map((_, c) => c);
  const named = indices.filter((c) => FREQUENCY.test(names[c] ?? '') && rises(columns[c]!));
  const rising = indices.filter((c) => rises(columns[c]!));
  const frequency = named[0] ?? (rising.length === 1 ? rising[0]! : null);
  const others = indices.filter((c) => c !== frequency && !BESIDE.test(names[c] ?? ''));
  const told = others.filter((c) => unitOf(names[c] ?? '') !== null);
  const likely =
    told.length > 0 ? told : others.filter((c) => IMPEDANCE.test(names[c]!) || LEVEL.test(names[c]!));
  const [first] = others.length === 1 ? others : likely;
  const alone = others.length === 1 || likely.length === 1 || ownCurve(names[first ?? 0] ?? '') !== null;
  const value = frequency === null || first === undefined || !alone ? null : first;
  return {
    frequency,
    hertz: frequency === null ? null : hertzOf(names[frequency] ?? '', columns[frequency]!),
    value,
    unit:
      value === null
        ? null
        : (unitOf(names[value] ?? '') ?? unitByFigures(names[value] ?? '', columns[value]!)),
  };
}

const rises = (values: Float64Array): boolean =>
  values.length > 1 && values.every((v, i) => v >= 0 && (i === 0 || v > values[i - 1]!));

function hertzOf(name: string, values: Float64Array): 1 | 1000 | null {
  if (/khz|kilohertz/i.test(name)) return 1000;
  if (/hz|hertz/i.test(name)) return 1;
  return values.at(-1)! >= SURELY_HERTZ ? 1 : null;
}

/** null where the name says none. */
function unitOf(name: string): CurveUnit | null {
  if (KILO_OHM.test(name)) return 'kohm';
  const impedance = IMPEDANCE.test(name);
  if (DECIBEL.test(name)) return impedance ? 'dBohm' : 'dB';
  return OHM.test(name) ? 'ohm' : null;
}

/** A header that says neither: below 0 only dB can be. */
const unitByFigures = (name: string, values: Float64Array): CurveUnit | null =>
  !IMPEDANCE.test(name) && values.some((v) => v < 0) ? 'dB' : null;

/** What is still to be said of it, in a sentence; empty when nothing is. */
export function missingOf({ frequency, hertz, value, unit }: CurveChoice): string {
  const asked = [
    frequency === null ? 'which column is the frequency' : '',
    frequency !== null && hertz === null ? 'whether it is in Hz or kHz' : '',
    value === null ? 'which column is the curve' : '',
    value !== null && unit === null ? 'what the curve is' : '',
  ].filter((words) => words !== '');
  if (asked.length === 0) return '';
  const last = asked.pop()!;
  return `The file leaves open ${asked.length > 0 ? `${asked.join(', ')} and ` : ''}${last}: choose above.`;
}

/** Never throws. @param choice with nothing left open, else the message says what is */
export function curveOf({ columns, lines, leftOut }: CurveTable, choice: CurveChoice): CurveRead {
  const { frequency, hertz, value, unit } = choice;
  if (frequency === null || hertz === null || value === null || unit === null) return fail(missingOf(choice));
  if (frequency === value) return fail('Frequency and curve must be two columns; got the same one twice.');
  const notes: string[] = [];
  let [hz, values] = [columns[frequency]!.map((f) => f * hertz), columns[value]!];
  let first = 0;
  if (hz[0] === 0) {
    notes.push('The line at 0 Hz is left out.');
    first = 1;
    [hz, values] = [hz.subarray(1), values.subarray(1)];
  }
  if (leftOut > 0)
    notes.push(`${leftOut} ${leftOut > 1 ? 'lines that hold' : 'line that holds'} no figures left out.`);
  const line = (i: number): number => lines[i + first]!;
  if (hz.length < LEAST_POINTS)
    return fail(`${CURVE_WANTED} with ${LEAST_POINTS} points or more; got ${hz.length}.`);
  for (const [i, f] of hz.entries()) {
    if (Number.isNaN(f))
      return fail(`Frequency must be a figure in every line; got none in line ${line(i)}.`);
    if (!(f >= FREQUENCIES[0] && f <= FREQUENCIES[1]))
      return fail(`Frequency must lie between 0.1 Hz and 100 MHz; got ${shown(f)} Hz in line ${line(i)}.`);
    if (i > 0 && f <= hz[i - 1]!)
      return fail(
        `Frequency must rise from line to line; got ${shown(f)} Hz after ${shown(hz[i - 1]!)} Hz in line ${line(i)}. Is it another column?`,
      );
  }
  const decibels = new Float64Array(values.length);
  for (const [i, v] of values.entries()) {
    if (Number.isNaN(v))
      return fail(`The curve must have a figure in every line; got none in line ${line(i)}.`);
    if (unit === 'dB' || unit === 'dBohm') {
      if (Math.abs(v) > MOST_DB)
        return fail(
          `A level must lie within ± ${MOST_DB} dB; got ${shown(v)} dB in line ${line(i)}. Is it a figure in dB?`,
        );
      decibels[i] = v;
    } else {
      if (!(v > 0 && v < MOST_OHM))
        return fail(
          `${unit === 'amplitude' ? 'An amplitude' : 'An impedance'} must be above 0; got ${shown(v)} in line ${line(i)}. Is it a figure in dB?`,
        );
      decibels[i] = 20 * Math.log10(unit === 'kohm' ? 1000 * v : v);
    }
  }
  const kind = unit === 'dB' || unit === 'amplitude' ? 'level' : 'impedance';
  if (hz.length <= MOST_POINTS)
    return { ok: true, curve: { kind, frequencies: Float64Array.from(hz), decibels, notes } };
  const thin = thinned(hz, decibels);
  notes.push(`${hz.length} points are brought down to ${thin.frequencies.length}, means over 1/96 octave.`);
  return { ok: true, curve: { kind, ...thin, notes } };
}

const shown = (value: number): string => String(Number(value.toPrecision(6)));

/** Means over a 96th of an octave; where points lie further apart they stay as they are. */
function thinned(
  hz: Float64Array,
  decibels: Float64Array,
): { frequencies: Float64Array; decibels: Float64Array } {
  const frequencies: number[] = [];
  const levels: number[] = [];
  for (let i = 0; i < hz.length;) {
    const bin = Math.floor(Math.log2(hz[i]!) * PER_OCTAVE);
    let [n, ln, sum] = [0, 0, 0];
    for (; i < hz.length && Math.floor(Math.log2(hz[i]!) * PER_OCTAVE) === bin; i++, n++) {
      ln += Math.log(hz[i]!);
      sum += decibels[i]!;
    }
    frequencies.push(Math.exp(ln / n));
    levels.push(sum / n);
  }
  return { frequencies: Float64Array.from(frequencies), decibels: Float64Array.from(levels) };
}

/** Of which of our own curves a column is, by the header that we write; null for a file of anything else. */
export function ownCurve(name: string): 'circuit' | 'reach' | 'placed' | null {
  const found = /^(circuit|with reach|with reach and place) \/ dB, \d+ /.exec(name)?.[1];
  return found === 'circuit' ? 'circuit' : found === 'with reach' ? 'reach' : found ? 'placed' : null;
}
