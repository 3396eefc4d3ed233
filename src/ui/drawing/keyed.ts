/** Keys for lists on the screen whose items are told apart by a text that may stand twice. Pure. */
export interface Keyed<T> {
  readonly key: string;
  readonly item: T;
}

/** Every item with a key that no other has: its name, and how many of that name came before it. */
export function keyed<T>(items: readonly T[], nameOf: (item: T) => string): readonly Keyed<T>[] {
  const met = new Map<string, number>();
  return items.map((item) => {
    const name = nameOf(item);
    const before = met.get(name) ?? 0;
    met.set(name, before + 1);
    return { key: `${before} ${name}`, item };
  });
}
