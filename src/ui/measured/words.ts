/** What may be chosen of a measured curve, in words. */
import type { CurveUnit } from '../../sheet/measuredCurve.ts';
import type { CurveTable } from '../../sheet/measuredTable.ts';
import type { Of } from '../../state/measured.svelte.ts';

/** Stands in a choice that is still open. */
export const OPEN = 'choose …';

export const HERTZ: readonly (readonly [1 | 1000, string])[] = [
  [1, 'Hz'],
  [1000, 'kHz'],
];

export const UNITS: readonly (readonly [CurveUnit, string])[] = [
  ['dB', 'level, dB'],
  ['amplitude', 'amplitude, linear'],
  ['ohm', '|Z|, Ω'],
  ['kohm', '|Z|, kΩ'],
  ['dBohm', '|Z|, dB over 1 Ω'],
];

/** Of what a level was measured. */
export const LEVELS: readonly (readonly [Exclude<Of, 'impedance'>, string])[] = [
  ['circuit', 'in the guitar, circuit alone'],
  ['reach', 'in the guitar, with reach'],
  ['placed', 'in the guitar, at its place'],
  ['alone', 'of the pickup by itself'],
];

/** Of the columns, each once: «1 frequency / Hz». */
export const columnNames = ({ names }: CurveTable): readonly (readonly [number, string])[] =>
  names.map((name, c) => [c, `${c + 1}${name ? ` ${name}` : ''}`]);

type Pairs<T> = readonly (readonly [T, string])[];

export const wordOf = <T>(pairs: Pairs<T>, value: T | null): string =>
  pairs.find(([one]) => one === value)?.[1] ?? OPEN;

/** All words; while it is open that as well. */
export const wordsOf = <T>(pairs: Pairs<T>, value: T | null): string[] => [
  ...(value === null ? [OPEN] : []),
  ...pairs.map(([, word]) => word),
];

/** undefined for what is still open. */
export const byWord = <T>(pairs: Pairs<T>, word: string): T | undefined =>
  pairs.find(([, one]) => one === word)?.[0];
