/**
 * What has to be done to one piece of plain data to make another of it, as plain data: so that two hundred states of a
 * document take hardly more room than one. Pure.
 */
import { sameData } from './edit.ts';

/**
 * `s`: set to this. `i`: the same but for what stands under these keys or numbers. `l`: a list of these, where a number is
 * one that stood there before, counted from 0. null: the same.
 */
export type Patch =
  | null
  | { readonly s: unknown }
  | { readonly i: Readonly<Record<string, Patch>> }
  | { readonly l: readonly (number | { readonly s: unknown })[] };

type Parts = Readonly<Record<string, unknown>>;

const isParts = (value: unknown): value is Parts => typeof value === 'object' && value !== null;

/** From one to the other: both plain data as JSON has it, without cycles. */
export function patch(from: unknown, to: unknown): Patch {
  if (Object.is(from, to)) return null;
  if (!isParts(from) || !isParts(to) || Array.isArray(from) !== Array.isArray(to)) return { s: to };
  if (Array.isArray(from) && Array.isArray(to) && from.length !== to.length)
    return { l: to.map((item: unknown) => place(from, item)) };
  const keys = Object.keys(to);
  if (keys.length !== Object.keys(from).length || !keys.every((key) => Object.hasOwn(from, key)))
    return { s: to };
  const inside: Record<string, Patch> = {};
  for (const key of keys) {
    const part = patch(from[key], to[key]);
    if (part) inside[key] = part;
  }
  if (Object.keys(inside).length === 0) return null;
  // Where most of it is another, the whole is shorter than its differences.
  const differences = { i: inside };
  return JSON.stringify(differences).length < JSON.stringify(to).length ? differences : { s: to };
}

function place(from: readonly unknown[], item: unknown): number | { readonly s: unknown } {
  const at = from.findIndex((other) => sameData(other, item));
  return at < 0 ? { s: item } : at;
}

/**
 * What the patch makes of `from`: what did not change is shared with it. It may come from anywhere: what comes out is to be
 * checked like anything from outside.
 * @throws RangeError when it does not fit
 */
export function patched(from: unknown, by: unknown): unknown {
  if (by === null) return from;
  if (!isParts(by)) throw new RangeError('Patch must be a group of fields.');
  if (Object.hasOwn(by, 's')) return by['s'];
  if (Object.hasOwn(by, 'l')) return relisted(from, by['l']);
  const inside = Object.hasOwn(by, 'i') ? by['i'] : null;
  if (!isParts(from) || !isParts(inside)) throw new RangeError('Patch must fit what it is laid on.');
  const copy: Record<string, unknown> = Array.isArray(from)
    ? (from.slice() as unknown as Record<string, unknown>)
    : { ...from };
  for (const key of Object.keys(inside)) {
    if (!Object.hasOwn(from, key)) throw new RangeError('Patch must lead to a part that is there.');
    copy[key] = patched(from[key], inside[key]);
  }
  return copy;
}

function relisted(from: unknown, items: unknown): unknown[] {
  if (!Array.isArray(from) || !Array.isArray(items)) throw new RangeError('Patch must fit a list.');
  return items.map((item: unknown) => {
    if (isParts(item) && Object.hasOwn(item, 's')) return item['s'];
    if (typeof item !== 'number' || !Object.hasOwn(from, item))
      throw new RangeError('Patch must name an item that is there.');
    return from[item] as unknown;
  });
}
