/** What is said where the field and the reach go opposite ways. Pure. */

/** Full width at half maximum of Bz at the string and 1 mm over the tip, and width of the reach, m; null where there is none. */
export interface Widths {
  readonly reach: number | null;
  readonly fieldWidth: number | null;
  readonly tipWidth: number | null;
}

/** As it is written: a tenth of a millimetre. */
const tenths = (width: number): string => (1e3 * width).toFixed(1);

/** What can't be read off the figures is no change. */
const change = (from: number | null, to: number | null): number =>
  from === null || to === null || tenths(from) === tenths(to) ? 0 : Math.sign(to - from);

/**
 * «The field over the tip grows tighter, 6.0 → 5.2 mm, but the reach wider, 16.5 → 17.6 mm: filings show the one, the string
 * says the other.» Empty where they go the same way, or one of them stays. Over the tip it is looked for first.
 */
export function oppositeWords(before: Widths, after: Widths): string {
  const reach = change(before.reach, after.reach);
  if (reach === 0) return '';
  const way = (sense: number): string => (sense > 0 ? 'wider' : 'tighter');
  for (const [key, where] of [
    ['tipWidth', 'over the tip'],
    ['fieldWidth', 'at the string'],
  ] as const) {
    const field = change(before[key], after[key]);
    if (field !== -reach) continue;
    const fromTo = (of: keyof Widths): string => `${tenths(before[of]!)} → ${tenths(after[of]!)} mm`;
    return `The field ${where} grows ${way(field)}, ${fromTo(key)}, but the reach ${way(reach)}, ${fromTo('reach')}: filings show the one, the string says the other.`;
  }
  return '';
}
