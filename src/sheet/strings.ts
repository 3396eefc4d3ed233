/**
 * Six-string sets in usual gauges, string 1 first, in standard tuning (ISO 16 pitch: 69 = A4 = 440 Hz).
 *
 * Gauges and steel cores are common practice, in thousandths of an inch. Linear densities of 0.026, 0.036 and
 * 0.046 wound are those printed in string makers' tension tables (from memory); the others follow from
 * `plainDensity` and `woundDensity`.
 */
import { roundSection, wrapSection } from '../shape/wrap.ts';
import { DEFAULT_WRAP } from './defaults.ts';
import type { StringSpec, WrapMetal } from './sheet.ts';

/** Six strings, string 1 first. */
export interface StringSet {
  readonly name: string;
  readonly strings: readonly StringSpec[];
}

/** Standard tuning, string 1 to 6: E4 B3 G3 D3 A2 E2. */
export const STANDARD_TUNING: readonly number[] = [64, 59, 55, 50, 45, 40];

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

/** In the order in which they are offered. */
export const WRAP_METALS = Object.keys(WRAP_DENSITY) as readonly WrapMetal[];

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
};

/** Wound gauge → kg/m, printed. */
const PRINTED: Readonly<Record<number, number>> = { 26: 2.263e-3, 36: 4.279e-3, 46: 6.825e-3 };

function plain(midi: number, gauge: number): StringSpec {
  const diameter = toDigits(gauge * THOU, 6);
  const linearDensity = toDigits(plainDensity(diameter), 4);
  return { midi, construction: 'plain', diameter, core: diameter, wrap: DEFAULT_WRAP, linearDensity };
}

function wound(midi: number, gauge: number): StringSpec {
  const diameter = toDigits(gauge * THOU, 6);
  const core = toDigits((CORES[gauge] as number) * THOU, 6);
  const linearDensity = PRINTED[gauge] ?? toDigits(woundDensity(diameter, core), 4);
  return { midi, construction: 'wound', diameter, core, wrap: DEFAULT_WRAP, linearDensity };
}

/** @param gauges thousandths of an inch, string 1 first; the last `wounds` of them wound */
function set(name: string, gauges: readonly number[], wounds: number): StringSet {
  const strings = gauges.map((gauge, i) =>
    (i < gauges.length - wounds ? plain : wound)(STANDARD_TUNING[i] as number, gauge),
  );
  return { name, strings };
}

/** In the order in which they are offered. */
export const STRING_SETS: readonly StringSet[] = [
  set('0.009 to 0.042, plain third', [9, 11, 16, 24, 32, 42], 3),
  set('0.010 to 0.046, plain third', [10, 13, 17, 26, 36, 46], 3),
  set('0.010 to 0.052, plain third', [10, 13, 17, 30, 42, 52], 3),
  set('0.011 to 0.049, plain third', [11, 14, 18, 28, 38, 49], 3),
  set('0.012 to 0.052, wound third', [12, 16, 24, 32, 42, 52], 4),
];

/** The string wound of another metal, and as much heavier or lighter; a plain one stays as heavy as it was. */
function wrappedIn(spec: StringSpec, wrap: WrapMetal): StringSpec {
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
  STRING_SETS.find((candidate) =>
    candidate.strings.every((string, i) => {
      const other = strings[i];
      return other !== undefined && sameString(wrappedIn(string, other.wrap), other);
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
