/**
 * String sets in usual gauges, string 1 first, in the tuning that they are made for (ISO 16 pitch: 69 = A4 = 440 Hz).
 *
 * Gauges and steel cores are common practice, in thousandths of an inch. Linear densities of 0.026, 0.036 and
 * 0.046 wound are those printed in string makers' tension tables (from memory); the others follow from
 * `plainDensity` and `woundDensity`.
 */
import { roundSection, wrapSection } from '../shape/wrap.ts';
import { DEFAULT_WRAP } from './defaults.ts';
import type { StringSpec, WrapMetal } from './sheet.ts';
import { tuningNamed } from './tunings.ts';

/** What a set is made for. */
export type Family = 'guitar' | 'bass';

/** Four to eight strings, string 1 first. */
export interface StringSet {
  readonly name: string;
  readonly family: Family;
  readonly strings: readonly StringSpec[];
}

/** E4 B3 G3 D3 A2 E2. */
export const STANDARD_TUNING = tuningNamed('standard, six strings');

const THOU = 25.4e-6;

/**
 * kg/m³. What the tension tables imply for plain steel: with this one value all three printed plain strings come
 * out in their printed digits. Handbooks give music wire 7850, 0.5 % more.
 */
export const STEEL_DENSITY = 7808;

/** kg/m³ of wrap wire: the plating of steel is thin; the others from memory of [CRC]. */
const WRAP_DENSITY: Readonly<Record<WrapMetal, number>> = {
  'nickel-plated steel': STEEL_DENSITY,
  nickel: 8900,
  'ferritic stainless steel': 7700,
  'austenitic stainless steel': 7930,
  bronze: 8800,
};

const toDigits = (value: number, digits: number): number => Number(value.toPrecision(digits));

/** kg/m of a plain string. @param diameter m */
export function plainDensity(diameter: number): number {
  return STEEL_DENSITY * roundSection(diameter);
}

/**
 * kg/m of a round-wound string, core and wrap both of steel's density (nickel plating is thin).
 * @param diameter outer diameter, m
 * @param core m
 */
export function woundDensity(diameter: number, core: number): number {
  return plainDensity(core) + STEEL_DENSITY * wrapSection(diameter, core);
}

/** Wound gauge → core, both in thousandths of an inch. Common practice. */
const CORES: Readonly<Record<number, number>> = {
  17: 11,
  20: 12,
  24: 13,
  26: 13,
  28: 14,
  30: 14,
  32: 15,
  36: 16,
  38: 16,
  42: 16,
  46: 16,
  49: 17,
  52: 18,
  54: 18,
  59: 18,
  62: 19,
  65: 20,
  74: 21,
  80: 22,
  85: 22,
  100: 24,
  105: 24,
  130: 26,
};
/** The lighter strings of a bass set, pulled as hard as the heavy ones, have thicker cores than a guitar's. */
const BASS_CORES: Readonly<Record<number, number>> = { 32: 16, 40: 17, 45: 18, 60: 20 };

/** Wound gauge → kg/m, printed. */
const PRINTED: Readonly<Record<number, number>> = { 26: 2.263e-3, 36: 4.279e-3, 46: 6.825e-3 };

/** The steel core that a wound string of a diameter usually has, straight between the gauges of the table, m. */
export function usualCore(diameter: number): number {
  const gauge = diameter / THOU;
  const gauges = Object.keys(CORES).map(Number);
  const next = gauges.findIndex((g) => g >= gauge);
  const [low, high] =
    next < 0 ? [gauges.at(-1)!, gauges.at(-1)!] : [gauges[Math.max(0, next - 1)]!, gauges[next]!];
  const share = high > low ? (gauge - low) / (high - low) : 1;
  const core = CORES[low]! + share * (CORES[high]! - CORES[low]!);
  // Beyond the table's ends in the proportion of the last gauge there.
  const beyond = gauge < low || gauge > high ? gauge / high : 1;
  return toDigits(core * beyond * THOU, 6);
}

/** A plain string of a diameter, m. */
export function plainString(midi: number, thick: number): StringSpec {
  const diameter = toDigits(thick, 6);
  const linearDensity = toDigits(plainDensity(diameter), 4);
  return { midi, construction: 'plain', diameter, core: diameter, wrap: DEFAULT_WRAP, linearDensity };
}

/** A wound string of an outer diameter and a core, m, wound of nickel-plated steel. */
export function woundString(midi: number, thick: number, thin = usualCore(thick)): StringSpec {
  const diameter = toDigits(thick, 6);
  const core = toDigits(thin, 6);
  const gauge = Math.round(diameter / THOU);
  const printed = diameter === toDigits(gauge * THOU, 6) && core === usualCore(diameter);
  const linearDensity = (printed ? PRINTED[gauge] : undefined) ?? toDigits(woundDensity(diameter, core), 4);
  return { midi, construction: 'wound', diameter, core, wrap: DEFAULT_WRAP, linearDensity };
}

/** @param gauges thousandths of an inch, string 1 first; the last `wounds` of them wound */
function set(name: string, tuning: string, gauges: readonly number[], wounds: number): StringSet {
  const notes = tuningNamed(tuning);
  const strings = gauges.map((gauge, i) =>
    i < gauges.length - wounds ? plainString(notes[i]!, gauge * THOU) : woundString(notes[i]!, gauge * THOU),
  );
  return { name, family: 'guitar', strings };
}

function bass(name: string, tuning: string, gauges: readonly number[]): StringSet {
  const notes = tuningNamed(tuning);
  const strings = gauges.map((gauge, i) => {
    const core = BASS_CORES[gauge];
    return woundString(notes[i]!, gauge * THOU, core === undefined ? undefined : core * THOU);
  });
  return { name, family: 'bass', strings };
}

const SIX = 'standard, six strings';

/** In the order in which they are offered. */
export const STRING_SETS: readonly StringSet[] = [
  set('0.009 to 0.042, plain third', SIX, [9, 11, 16, 24, 32, 42], 3),
  set('0.010 to 0.046, plain third', SIX, [10, 13, 17, 26, 36, 46], 3),
  set('0.010 to 0.052, plain third', SIX, [10, 13, 17, 30, 42, 52], 3),
  set('0.011 to 0.049, plain third', SIX, [11, 14, 18, 28, 38, 49], 3),
  set('0.012 to 0.052, wound third', SIX, [12, 16, 24, 32, 42, 52], 4),
  set('baritone, 0.013 to 0.062', 'baritone, B to B', [13, 17, 26, 36, 46, 62], 4),
  set('seven strings, 0.009 to 0.054', 'standard, seven strings', [9, 11, 16, 24, 32, 42, 54], 4),
  set('seven strings, 0.010 to 0.059', 'standard, seven strings', [10, 13, 17, 26, 36, 46, 59], 4),
  set('eight strings, 0.009 to 0.065', 'standard, eight strings', [9, 11, 16, 24, 32, 42, 54, 65], 5),
  set('eight strings, 0.010 to 0.074', 'standard, eight strings', [10, 13, 17, 26, 36, 46, 59, 74], 5),
  bass('bass, four strings, 0.040 to 0.100', 'bass, four strings', [40, 60, 80, 100]),
  bass('bass, four strings, 0.045 to 0.105', 'bass, four strings', [45, 65, 85, 105]),
  bass('bass, five strings, 0.045 to 0.130', 'bass, five strings', [45, 65, 85, 105, 130]),
  bass('bass, six strings, 0.032 to 0.130', 'bass, six strings', [32, 45, 65, 85, 105, 130]),
];

/** A bass's thinnest string is thicker than this, a guitar's thinner, m: 0.025 in. */
const BETWEEN_FAMILIES = 0.635e-3;

/** What strings are made for, by the thinnest of them. */
export const familyOf = (strings: readonly StringSpec[]): Family =>
  Math.min(...strings.map(({ diameter }) => diameter)) > BETWEEN_FAMILIES ? 'bass' : 'guitar';

/** The string wound of another metal, and as much heavier or lighter; a plain one stays as heavy as it was. */
export function wrappedIn(spec: StringSpec, wrap: WrapMetal): StringSpec {
  if (spec.construction === 'plain' || spec.wrap === wrap) return { ...spec, wrap };
  const core = plainDensity(spec.core);
  const more = (WRAP_DENSITY[wrap] / WRAP_DENSITY[spec.wrap] - 1) * Math.max(0, spec.linearDensity - core);
  return { ...spec, wrap, linearDensity: toDigits(spec.linearDensity + more, 4) };
}

const sameString = (a: StringSpec, b: StringSpec): boolean =>
  a.construction === b.construction &&
  a.diameter === b.diameter &&
  a.core === b.core &&
  a.linearDensity === b.linearDensity;

const setOf = (strings: readonly StringSpec[]): StringSet | undefined =>
  STRING_SETS.find(
    (candidate) =>
      candidate.strings.length === strings.length &&
      candidate.strings.every((string, i) => {
        const other = strings[i]!;
        return sameString(wrappedIn(string, other.wrap), other);
      }),
  );

/** The name of the set that these strings are, whatever they are tuned to and wound of; 'own strings' when none. */
export const nameStringSet = (strings: readonly StringSpec[]): string =>
  setOf(strings)?.name ?? 'own strings';

/** What the wound strings are wound of; 'several' when they differ, null when none is wound. */
export function wrapOf(strings: readonly StringSpec[]): WrapMetal | 'several' | null {
  const metals = new Set(strings.filter((s) => s.construction === 'wound').map((s) => s.wrap));
  const [first = null] = metals;
  return metals.size > 1 ? 'several' : first;
}

/** The same strings, tuned as they were, wound of another metal; those of a set weigh what that set of it does. */
export function rewound(strings: readonly StringSpec[], wrap: WrapMetal): readonly StringSpec[] {
  const set = setOf(strings);
  return strings.map((spec, i) => ({ ...wrappedIn(set?.strings[i] ?? spec, wrap), midi: spec.midi }));
}
