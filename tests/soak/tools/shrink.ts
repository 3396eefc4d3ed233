/**
 * Shortens a list for as long as it still fails: ever smaller parts are left out, beginning with halves.
 * @param fails whether a list still does
 * @param budget how often it may be asked
 */
export async function shrink<T>(
  items: readonly T[],
  fails: (shorter: readonly T[]) => Promise<boolean>,
  budget: number,
): Promise<readonly T[]> {
  let kept = items;
  let left = budget;
  for (
    let size = Math.ceil(kept.length / 2);
    size >= 1 && left > 0;
    size = size === 1 ? 0 : Math.ceil(size / 2)
  ) {
    for (let at = 0; at < kept.length && left > 0;) {
      const without = [...kept.slice(0, at), ...kept.slice(at + size)];
      left--;
      if (without.length > 0 && (await fails(without))) kept = without;
      else at += size;
    }
  }
  return kept;
}
