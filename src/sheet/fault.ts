/**
 * Reading data that nobody vouches for, field by field. Each function takes one own field of a record, tests it
 * and returns a fresh plain value, or throws a Fault with a sentence for the maker.
 */
import { FIGURES, type FigureKey } from './figures.ts';
import { plainText } from './plainText.ts';
import { faultOf } from './reading.ts';

/** Something that a maker can read and mend; anything else that is thrown is a mistake of ours. */
export class Fault extends Error {}

/** A record of which nothing else is known. */
export type Fields = Readonly<Record<string, unknown>>;

/** What a reader asks of a field, as data; one of the kinds, and whether null will do as well. */
export interface Demand {
  /** The field may be left out. */
  readonly optional?: true;
  readonly none?: true;
  readonly group?: true;
  /** Least and most things in a list. */
  readonly list?: readonly [number, number];
  readonly figure?: FigureKey;
  /** Of which a figure is to be a multiple. */
  readonly step?: number;
  readonly choice?: readonly (string | number)[];
  readonly flag?: true;
  /** Most UTF-16 units of a text, whether it may have several lines, and how it is written. */
  readonly text?: number;
  readonly lines?: boolean;
  readonly form?: RegExp | undefined;
  /** What begins a sentence about it. */
  readonly what?: string;
}

/** Told what every reader asks of which field, before it looks. */
export type Listener = (fields: object, name: string | number, demand: Demand) => void;

let told: Listener | null = null;

/** Runs `act` while somebody listens: so the check's rules become a schema (schema.ts) without being written twice. */
export function listening(listener: Listener, act: () => void): void {
  told = listener;
  try {
    act();
  } finally {
    told = null;
  }
}

const lower = (sentence: string): string => sentence.charAt(0).toLowerCase() + sentence.slice(1);

/** @param where 'Pickup 2, row 1', or '' for the sheet itself */
export function refuse(where: string, sentence: string): never {
  throw new Fault(where === '' ? sentence : `${where}: ${lower(sentence)}`);
}

/** What stands there, in few words. */
function describe(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (value === null) return 'none';
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'object') return 'a group of fields';
  if (typeof value === 'string') return `"${value.length > 40 ? `${value.slice(0, 40)}…` : value}"`;
  return typeof value === 'number' || typeof value === 'boolean' ? String(value) : `a ${typeof value}`;
}

/** An own field; what a prototype might add does not count. */
const own = (fields: Fields, name: string): unknown =>
  Object.hasOwn(fields, name) ? fields[name] : undefined;

/** @param what begins the sentence, as everywhere here; @throws Fault unless it is a record */
export function asFields(value: unknown, where: string, what: string): Fields {
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    refuse(where, `${what} must be a group of fields; got ${describe(value)}.`);
  return value as Fields;
}

/** A field that is a record. @throws Fault */
export function group(fields: Fields, name: string, where: string, what: string): Fields {
  told?.(fields, name, { group: true, what });
  return asFields(own(fields, name), where, what);
}

/** The field as `read` finds it; `otherwise` where there is no such field, as in sheets from before it was. */
export function orDefault<T>(fields: Fields, name: string, otherwise: T, read: () => T): T {
  told?.(fields, name, { optional: true });
  return own(fields, name) === undefined ? otherwise : read();
}

/** null where the group may be left out. */
export function groupOrNone(fields: Fields, name: string, where: string, what: string): Fields | null {
  told?.(fields, name, { none: true });
  return own(fields, name) === null ? null : group(fields, name, where, what);
}

/** The same, one of a list. */
export const groupOrNoneIn = (
  items: readonly unknown[],
  index: number,
  where: string,
  what: string,
): Fields | null => groupOrNone(items as unknown as Fields, String(index), where, what);

/** A field that is a list of `min` to `max` things, the very one. @throws Fault */
export function list(
  fields: Fields,
  name: string,
  where: string,
  what: string,
  min: number,
  max: number,
): unknown[] {
  told?.(fields, name, { list: [min, max], what });
  const value = own(fields, name);
  const count = min === max ? String(min) : `${min} to ${max}`;
  if (!Array.isArray(value) || value.length < min || value.length > max)
    refuse(
      where,
      `${what} must be ${count} in number; got ${Array.isArray(value) ? value.length : describe(value)}.`,
    );
  return value;
}

/** A value within its figure's limits, SI. @throws Fault */
function quantity(value: unknown, key: FigureKey, where: string): number {
  if (typeof value !== 'number')
    refuse(where, `${FIGURES[key].label} must be a number; got ${describe(value)}.`);
  const fault = faultOf(value, key);
  if (fault !== null) refuse(where, fault);
  // JSON has no −0; adding zero keeps a sheet equal to itself after a round trip.
  return value + 0;
}

/** A field that is a figure within its limits, SI, and if told a multiple of a step. @throws Fault */
export function figure(fields: Fields, name: string, key: FigureKey, where: string, step?: Step): number {
  told?.(fields, name, { figure: key, ...(step && { step: step.size }) });
  const value = quantity(own(fields, name), key, where);
  if (step && !Number.isInteger(value / step.size))
    refuse(where, `${FIGURES[key].label} must be a multiple of ${step.name}; got ${value}.`);
  return value;
}

/** What a figure is to be a multiple of. */
interface Step {
  readonly size: number;
  readonly name: string;
}

/** The same, one of a list. */
export const figureIn = (items: readonly unknown[], index: number, key: FigureKey, where: string): number =>
  figure(items as unknown as Fields, String(index), key, where);

/** The same; null where it may be left out. */
export const figureOrNoneIn = (
  items: readonly unknown[],
  index: number,
  key: FigureKey,
  where: string,
): number | null => figureOrNone(items as unknown as Fields, String(index), key, where);

/** The same; null where it may be left out. */
export function figureOrNone(fields: Fields, name: string, key: FigureKey, where: string): number | null {
  told?.(fields, name, { none: true });
  return own(fields, name) === null ? null : figure(fields, name, key, where);
}

/** A field that is one of the options. @throws Fault */
export function choice<const T extends string | number>(
  fields: Fields,
  name: string,
  options: readonly T[],
  where: string,
  what: string,
): T {
  told?.(fields, name, { choice: options, what });
  const value = own(fields, name);
  const found = options.find((option) => option === value);
  if (found === undefined)
    refuse(where, `${what} must be one of ${options.join(', ')}; got ${describe(value)}.`);
  return found;
}

/** The same; null where it may be left out. */
export function choiceOrNone<const T extends string | number>(
  fields: Fields,
  name: string,
  options: readonly T[],
  where: string,
  what: string,
): T | null {
  told?.(fields, name, { none: true });
  return own(fields, name) === null ? null : choice(fields, name, options, where, what);
}

/** The same, one of a list. */
export const choiceIn = <const T extends string | number>(
  items: readonly unknown[],
  index: number,
  options: readonly T[],
  where: string,
  what: string,
): T => choice(items as unknown as Fields, String(index), options, where, what);

/** A field that is true or false. @throws Fault */
export function flag(fields: Fields, name: string, where: string, what: string): boolean {
  told?.(fields, name, { flag: true, what });
  const value = own(fields, name);
  if (typeof value !== 'boolean') refuse(where, `${what} must be yes or no; got ${describe(value)}.`);
  return value;
}

/** Text of at most `most` UTF-16 units, as `plainText` leaves it; one line of it unless `lines`. `form` is for the schema. @throws Fault */
export function text(
  fields: Fields,
  name: string,
  most: number,
  where: string,
  what: string,
  lines = false,
  form?: RegExp,
): string {
  told?.(fields, name, { text: most, lines, form, what });
  const given = own(fields, name);
  if (typeof given !== 'string') refuse(where, `${what} must be text; got ${describe(given)}.`);
  const value = plainText(given);
  if (value.length > most)
    refuse(where, `${what} must be at most ${most} characters long; got ${value.length}.`);
  const unprintable = lines ? /[^\P{Cc}\n\t]/u : /\p{Cc}/u;
  if (unprintable.test(value)) refuse(where, `${what} must be plain text; got control characters in it.`);
  return value;
}

/** @throws Fault unless its format is `known`, or back to `oldest`. The two words: 'its' and 'it', or 'their' and 'them' */
export function checkFormat(
  fields: Fields,
  known: number,
  what: string,
  [whose, whom]: readonly [string, string],
  oldest = known,
): void {
  const formats = Array.from({ length: known - oldest + 1 }, (_, i) => oldest + i);
  told?.(fields, 'format', { choice: formats, what: `${what}: format` });
  const format = own(fields, 'format');
  if (typeof format !== 'number') refuse('', `${what} must say ${whose} format, a number; got none.`);
  if (!formats.includes(format))
    refuse(
      '',
      `${what} must be of format ${formats.join(' or ')}; got ${format}. A newer Lodetone made ${whom}: reload the page, or update.`,
    );
}
