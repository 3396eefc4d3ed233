/** Numbers at random that are the same again from the same seed. */
export interface Random {
  /** 0 ≤ number < 1 */
  next(): number;
  /** A whole number, 0 ≤ number < count. */
  below(count: number): number;
  /** One of them. @param items at least one */
  of<T>(items: readonly T[]): T;
  /** Whether something that happens once in so many times does. */
  once(inSoMany: number): boolean;
}

/** A linear congruential generator modulo 2³² [Numerical Recipes' constants], of whose states the upper bits are used. */
export function generator(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    // The lower bits of such a generator have short periods.
    const upper = state >>> 8;
    return upper / 2 ** 24;
  };
  for (let i = 0; i < 8; i++) next(); // seeds that lie side by side begin alike
  const below = (count: number): number => Math.floor(next() * count);
  return { next, below, of: (items) => items[below(items.length)]!, once: (many) => below(many) === 0 };
}
