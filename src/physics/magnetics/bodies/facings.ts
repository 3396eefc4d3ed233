/** Which boxes lie against steel, or nearly. */
import type { Vector } from '../../numerics/vector.ts';

/** A box in the pickup's frame, m. */
export interface PlacedBox {
  /** Full edges. */
  readonly size: Readonly<Vector>;
  readonly centre: Readonly<Vector>;
  /** Whether it is of steel. */
  readonly joins?: boolean;
  /** Whether its charge hardly answers to what is around it, as a ferrite's: one rectangle a stretch then says all. */
  readonly stiff?: boolean;
  /** Whether it is of steel that saturates, in zones one above the other. */
  readonly zoned?: boolean;
}

/** Two boxes that face each other: their numbers, the axis across, and on which side of `a` it is that `b` lies. */
export interface Facing {
  readonly a: number;
  readonly b: number;
  readonly axis: 0 | 1 | 2;
  readonly side: 1 | -1;
  /** m; 0 or a rounding where they touch. */
  readonly gap: number;
}

/** x, y, z by number, in m. */
export const three = ({ x, y, z }: Readonly<Vector>): readonly [number, number, number] => [x, y, z];

/** Lengths that differ by less are equal, m. */
export const SAME = 1e-9;
/** Faces nearer to each other than this share of the thinner box face each other. */
const CLOSE = 0.5;

/** Every pair of boxes, one at least of steel, of which a face covers part of a face of the other at less than CLOSE of a thickness. */
export function facings(boxes: readonly PlacedBox[]): readonly Facing[] {
  const found: Facing[] = [];
  boxes.forEach((first, a) => {
    for (let b = a + 1; b < boxes.length; b++) {
      const other = boxes[b]!;
      if (!first.joins && !other.joins) continue;
      const least = Math.min(...three(first.size), ...three(other.size));
      for (const axis of [0, 1, 2] as const) {
        const apart = three(other.centre)[axis] - three(first.centre)[axis];
        const gap = Math.abs(apart) - 0.5 * (three(first.size)[axis] + three(other.size)[axis]);
        if (gap < -SAME || gap > CLOSE * least) continue;
        if (![1, 2].every((k) => overlap(first, other, (axis + k) % 3))) continue;
        found.push({ a, b, axis, side: apart > 0 ? 1 : -1, gap });
      }
    }
  });
  return found;
}

/** Where both lie along an axis, m; null when nowhere. */
export function overlap(a: PlacedBox, b: PlacedBox, axis: number): readonly [number, number] | null {
  const [lowA, highA] = extent(a, axis);
  const [lowB, highB] = extent(b, axis);
  const low = Math.max(lowA, lowB);
  const high = Math.min(highA, highB);
  return high - low > SAME ? [low, high] : null;
}

/** From where to where a box lies along an axis, m. */
export function extent({ size, centre }: PlacedBox, axis: number): readonly [number, number] {
  const half = 0.5 * three(size)[axis]!;
  return [three(centre)[axis]! - half, three(centre)[axis]! + half];
}
