/** Changes to the sheet: always a new sheet, which shares with the old one all that did not change. */
import type { Sheet } from './sheet.ts';

type Step<K extends string | number, T> = readonly [K] | readonly [K, ...PathOf<T>];

/** Every way down from T: keys of objects, indices of arrays. */
export type PathOf<T> =
  NonNullable<T> extends readonly (infer U)[]
    ? Step<number, U>
    : NonNullable<T> extends object
      ? { [K in keyof NonNullable<T> & string]: Step<K, NonNullable<T>[K]> }[keyof NonNullable<T> & string]
      : never;

/** What stands at the end of a path. */
export type ValueAt<T, P> = P extends readonly [infer K, ...infer Rest]
  ? NonNullable<T> extends readonly (infer U)[]
    ? Rest extends readonly []
      ? U
      : ValueAt<U, Rest>
    : K extends keyof NonNullable<T>
      ? Rest extends readonly []
        ? NonNullable<T>[K]
        : ValueAt<NonNullable<T>[K], Rest>
      : never
  : never;

/** Into a sheet; written as const: ['pickups', 0, 'rows', 0, 'reach', 'width']. */
export type SheetPath = PathOf<Sheet>;

type Keys = readonly (string | number)[];

function child(node: unknown, path: Keys, depth: number): unknown {
  const key = path[depth] as string | number;
  if (typeof node !== 'object' || node === null || !Object.hasOwn(node, key))
    throw new RangeError(`Path must lead to a part of the sheet; got ${path.slice(0, depth + 1).join('.')}.`);
  return (node as Record<string | number, unknown>)[key];
}

/** @throws RangeError when the path leads nowhere, which is a mistake of ours and never a maker's */
export function getAt<const P extends SheetPath>(sheet: Sheet, path: P): ValueAt<Sheet, P> {
  let node: unknown = sheet;
  for (let depth = 0; depth < path.length; depth++) node = child(node, path, depth);
  return node as ValueAt<Sheet, P>;
}

/** Parts that a sheet may be without; setting them to undefined takes them away. */
export const OPTIONAL: ReadonlySet<string | number> = new Set([
  'own',
  'magnets',
  'coils',
  'steel',
  'coilSteel',
  'ownSteel',
]);

/** Whether there is something at the end of a path: a figure may be typed on while its part is taken away. */
export function leadsSomewhere(sheet: Sheet, path: Keys): boolean {
  let node: unknown = sheet;
  for (const [depth, key] of path.entries()) {
    if (typeof node !== 'object' || node === null) return false;
    if (!Object.hasOwn(node, key)) return depth === path.length - 1 && OPTIONAL.has(key);
    node = (node as Record<string | number, unknown>)[key];
  }
  return true;
}

function replaced(node: unknown, path: Keys, depth: number, value: unknown): unknown {
  if (depth === path.length) return value;
  const last = depth === path.length - 1 && OPTIONAL.has(path[depth]!) && typeof node === 'object';
  const before = last ? (node as Record<string, unknown>)[path[depth]!] : child(node, path, depth);
  const after = replaced(before, path, depth + 1, value);
  if (Object.is(before, after)) return node;
  const copy = (Array.isArray(node) ? node.slice() : { ...(node as object) }) as Record<
    string | number,
    unknown
  >;
  const key = path[depth] as string | number;
  if (after === undefined) return Object.fromEntries(Object.entries(copy).filter(([name]) => name !== key));
  copy[key] = after;
  return copy;
}

/**
 * The sheet with `value` at `path`; the very same sheet when that is what stood there.
 * @throws RangeError when the path leads nowhere, which is a mistake of ours and never a maker's
 */
export function setAt<const P extends SheetPath>(sheet: Sheet, path: P, value: ValueAt<Sheet, P>): Sheet {
  return replaced(sheet, path, 0, value) as Sheet;
}

/** Whether two sheets (or parts of them: plain data without cycles) say the same. */
export function sameData(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  const keys = Object.keys(a);
  if (keys.length !== Object.keys(b).length || Array.isArray(a) !== Array.isArray(b)) return false;
  return keys.every(
    (key) =>
      Object.hasOwn(b, key) &&
      sameData((a as Record<string, unknown>)[key], (b as Record<string, unknown>)[key]),
  );
}
