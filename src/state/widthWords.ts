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

interface Opposite {
  readonly key: 'tipWidth' | 'fieldWidth';
  readonly where: string;
  readonly field: string;
  readonly reach: string;
}

/** Over the tip it is looked for first; null where they go the same way, or one of them stays. */
function oppositeOf(before: Widths, after: Widths): Opposite | null {
  const reach = change(before.reach, after.reach);
  if (reach === 0) return null;
  const way = (sense: number): string => (sense > 0 ? 'wider' : 'tighter');
  for (const [key, where] of [
    ['tipWidth', 'over the tip'],
    ['fieldWidth', 'at the string'],
  ] as const) {
    const field = change(before[key], after[key]);
    if (field === -reach) return { key, where, field: way(field), reach: way(reach) };
  }
  return null;
}

/**
 * «The field over the tip grows tighter, 6.0 → 5.2 mm, but the reach wider, 16.5 → 17.6 mm: filings show the one, the string
 * says the other.» Empty where they don't go opposite ways.
 */
export function oppositeWords(before: Widths, after: Widths): string {
  const found = oppositeOf(before, after);
  if (!found) return '';
  const { key, where, field, reach } = found;
  const fromTo = (of: keyof Widths): string => `${tenths(before[of]!)} → ${tenths(after[of]!)} mm`;
  return `The field ${where} grows ${field}, ${fromTo(key)}, but the reach ${reach}, ${fromTo('reach')}: filings show the one, the string says the other.`;
}

/** The same while a hand is on it: «field over the tip tighter, reach wider». */
export function oppositeInShort(before: Widths, after: Widths): string {
  const found = oppositeOf(before, after);
  return found ? `field ${found.where} ${found.field}, reach ${found.reach}` : '';
}
