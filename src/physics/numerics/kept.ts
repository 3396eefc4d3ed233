/** What took long to compute, for as long as it is likely to be asked for again. */

/** At most so many values by key; the one that was not used for the longest gives way. Putting in and reading are uses. */
export class Kept<T, K = string> {
  private readonly values = new Map<K, T>();

  /** @param most values kept, 1 or more; @throws RangeError otherwise */
  constructor(readonly most: number) {
    if (!Number.isInteger(most) || most < 1) {
      throw new RangeError(`Values kept must be a whole number, 1 or more; got ${most}.`);
    }
  }

  get size(): number {
    return this.values.size;
  }

  /** All of them, the one that was not used for the longest first; looking at them all uses none. */
  all(): readonly T[] {
    return [...this.values.values()];
  }

  get(key: K): T | undefined {
    const value = this.values.get(key);
    if (value !== undefined || this.values.has(key)) this.put(key, value as T);
    return value;
  }

  put(key: K, value: T): void {
    this.values.delete(key);
    this.values.set(key, value);
    // A Map keeps the order in which keys were set.
    if (this.values.size > this.most) this.values.delete(this.values.keys().next().value!);
  }

  /** The value under a key, made when it is not there; nothing is kept of a `make` that throws. */
  of(key: K, make: () => T): T {
    if (this.values.has(key)) return this.get(key)!;
    const value = make();
    this.put(key, value);
    return value;
  }
}
