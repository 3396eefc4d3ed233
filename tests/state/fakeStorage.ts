/** A browser's storage that several windows share: with its events, its limit, and windows that are killed. */

/** What one window's write does to the others. */
export interface Change {
  readonly key: string;
  readonly value: string | null;
}

export class FakeStorage implements Storage {
  readonly all = new Map<string, string>();
  /** Letters that it holds, keys and values together. */
  room = Infinity;
  /** Told of every change. */
  onchange: (change: Change) => void = () => {};

  get length(): number {
    return this.all.size;
  }

  clear(): void {
    this.all.clear();
  }

  key(index: number): string | null {
    return [...this.all.keys()][index] ?? null;
  }

  getItem(key: string): string | null {
    return this.all.get(key) ?? null;
  }

  setItem(key: string, value: string): void {
    const others = [...this.all].filter(([other]) => other !== key);
    const letters = others.reduce((sum, [k, v]) => sum + k.length + v.length, key.length + value.length);
    if (letters > this.room) throw new DOMException('The quota has been exceeded.', 'QuotaExceededError');
    if (this.all.get(key) === value) return;
    this.all.set(key, value);
    this.onchange({ key, value });
  }

  removeItem(key: string): void {
    if (this.all.delete(key)) this.onchange({ key, value: null });
  }
}
