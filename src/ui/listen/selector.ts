/** The positions of a selector: every pickup alone and neighbours together, from neck to bridge; then the rest. */
export interface Position {
  /** Names may be alike, also one and two joined by a plus. */
  readonly key: string;
  readonly pickups: readonly number[];
  readonly label: string;
}

/** @param wound which of them have a coil; all unless given */
export function selectorPositions(
  names: readonly string[],
  wound: readonly number[] = names.map((_, i) => i),
): readonly Position[] {
  const sets = SETS[wound.length] ?? [];
  return sets
    .map((set) => set.map((k) => wound[k]!))
    .map((pickups) => ({
      key: pickups.join(' '),
      pickups,
      label: pickups.length === 3 ? 'all three' : pickups.map((i) => names[i] ?? '').join(' + '),
    }));
}

/** Of so many pickups. */
const SETS: readonly (readonly (readonly number[])[])[] = [
  [],
  [[0]],
  [[0], [0, 1], [1]],
  [[0], [0, 1], [1], [1, 2], [2], [0, 2], [0, 1, 2]],
];

export const sameSet = (a: readonly number[], b: readonly number[]): boolean =>
  a.length === b.length && a.every((v, i) => v === b[i]);
