/** What the browser remembers for us. A browser may refuse (private windows, full disks); then nothing is kept. */
export function remember(key: string, value: string): void {
  try {
    localStorage.setItem(key, value);
  } catch {
    // The sheet stays open and its link still works; only the next visit starts afresh.
  }
}

export function recall(key: string): string | null {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

export function forget(key: string): void {
  try {
    localStorage.removeItem(key);
  } catch {
    // Nothing was kept in the first place.
  }
}
