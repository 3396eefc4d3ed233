/** How far something may be moved before its range ends, or something is in its way. */

/** Which end it is: of what the document takes, or where the parts leave no room. */
export type End = 'range' | 'room';

/** m, from where it is. */
export interface Lever {
  readonly least: number;
  readonly most: number;
  readonly ends: readonly [least: End, most: End];
}

/** m: what is turned or shimmed on a bench, and what a dimension is rounded to. */
export const STEP = 1e-5;
const HALVINGS = 12;

/** Towards where it is now. */
const inward = (by: number): number => Math.sign(by) * Math.floor(Math.abs(by) / STEP + 1e-6) * STEP;

/**
 * @param range m, from where it is: the least below 0 and the most above it, else there is no lever on that side
 * @param allowed whether it may be moved so far, m; where it may, it may be moved less far too
 */
export function leverOf(range: readonly [number, number], allowed: (by: number) => boolean): Lever {
  const end = (by: number): readonly [number, End] => {
    if (by === 0 || allowed(by)) return [by, 'range'];
    let [free, blocked] = [0, by];
    for (let i = 0; i < HALVINGS; i++) {
      const middle = 0.5 * (free + blocked);
      if (allowed(middle)) free = middle;
      else blocked = middle;
    }
    return [inward(free), 'room'];
  };
  const [[least, low], [most, high]] = [end(Math.min(0, range[0])), end(Math.max(0, range[1]))];
  return { least, most, ends: [low, high] };
}

/** Held between the lever's ends, m. */
export const held = (by: number, { least, most }: Lever): number => Math.min(most, Math.max(least, by));

/** To a hundredth of a millimetre, m. */
export const rounded = (by: number): number => Number((Math.round(by / STEP) * STEP).toFixed(5));

/** «2.35 mm». @param length m */
export const mm = (length: number): string => `${(1e3 * length).toFixed(2).replace('-', '−')} mm`;
