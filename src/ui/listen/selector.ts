/** The positions of a selector: every pickup alone and neighbours together, from neck to bridge; then the rest. */
export interface Position {
  /** Names may be alike, also one and two joined by a plus. */
  readonly key: string;
  readonly pickups: readonly number[];
  readonly label: string;
}

export function selectorPositions(names: readonly string[]): readonly Position[] {
  const sets =
    names.length === 1
      ? [[0]]
      : names.length === 2
        ? [[0], [0, 1], [1]]
        : [[0], [0, 1], [1], [1, 2], [2], [0, 2], [0, 1, 2]];
  return sets.map((pickups) => ({
    key: pickups.join(' '),
    pickups,
    label: pickups.length === 3 ? 'all three' : pickups.map((i) => names[i] ?? '').join(' + '),
  }));
}

export const sameSet = (a: readonly number[], b: readonly number[]): boolean =>
  a.length === b.length && a.every((v, i) => v === b[i]);
