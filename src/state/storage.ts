/** What the browser remembers for us. A browser may refuse (private windows, full disks); then nothing is kept. */
/** @returns whether it is kept */
export function remember(key: string, value: string): boolean {
  try {
    localStorage.setItem(key, value);
    return true;
  } catch {
    // The sheet stays open and its link still works; only the next visit starts afresh.
    return false;
  }
}

/** null for what was never kept, or can't be read. */
export function recall(key: string): string | null {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

/** Never throws. */
export function forget(key: string): void {
  try {
    localStorage.removeItem(key);
  } catch {
    // Nothing was kept in the first place.
  }
}
