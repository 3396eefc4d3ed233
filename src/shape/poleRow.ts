/** Where the poles of a row stand across the strings, m from its middle; pole 0 is the treble one, under string 1. */

/** Poles at equal distances. */
export interface PoleRow {
  /** Between neighbouring poles, m. */
  readonly pitch: number;
  /** As many as there are poles. */
  readonly heights: { readonly length: number };
}

const NONE: readonly number[] = [];

/** Heights of the poles that stand in a row: none where steel or a magnet is in their place. */
export const standingPoles = ({
  kind,
  heights,
}: {
  readonly kind: string;
  readonly heights: readonly number[];
}): readonly number[] => (kind === 'none' ? NONE : heights);

/** @param k which pole, from 0; a number between two whole ones lies between those two poles */
export const polePlace = ({ pitch, heights }: PoleRow, k: number): number =>
  (0.5 * (heights.length - 1) - k) * pitch;

/** Of all poles, the treble one first. */
export const polePlaces = (row: PoleRow): readonly number[] =>
  Array.from({ length: row.heights.length }, (_, k) => polePlace(row, k));
