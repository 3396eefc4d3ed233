/** What pickups are called where several stand beside one another. */
import type { Pickup } from './sheet.ts';

/** Their names; where two bear the same, each with its number before it, as lists of them have it: «1 twin». */
export function calledApart(pickups: readonly Pick<Pickup, 'name'>[]): readonly string[] {
  const names = pickups.map(({ name }) => name);
  return new Set(names).size === names.length ? names : names.map((name, i) => `${i + 1} ${name}`);
}
