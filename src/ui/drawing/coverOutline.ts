/** A cover as it is cut through the middles of its holes, px; y downwards. */
import type { Point } from '../../plot/drawing.ts';

/** Thinner than this a sheet would be no more than its outline, px. */
export const LEAST_METAL = 2.5;

/** From here to there, px. */
export type Span = readonly [from: number, to: number];

/** What is left of a sheet between holes, which don't overlap. */
export function between([from, to]: Span, holes: readonly Span[]): readonly Span[] {
  const edges = [from, ...holes.flat().toSorted((a, b) => a - b), to];
  return edges.flatMap((edge, i): Span[] => (i % 2 === 0 ? [[edge, edges[i + 1]!]] : []));
}

export interface CoverCut {
  /** From the outside of one wall to that of the other. */
  readonly whole: Span;
  readonly holes: readonly Span[];
  /** Of the top's underside, and of the walls' lower edge. */
  readonly under: number;
  readonly foot: number;
  readonly thick: number;
}

/** One outline for every part of the cut. */
export function coverOutlines({ whole, holes, under, foot, thick }: CoverCut): Point[][] {
  return between(whole, holes).map(([from, to]) => {
    /** Down the wall's outside and up its inside, or straight through at a hole. */
    const end = (x: number, inwards: 1 | -1): Point[] => {
      if (x !== whole[0] && x !== whole[1]) return [{ x, y: under }];
      const inner = x + inwards * thick;
      return [
        { x, y: foot },
        { x: inner, y: foot },
        { x: inner, y: under },
      ];
    };
    const top = under - thick;
    return [{ x: from, y: top }, { x: to, y: top }, ...end(to, -1), ...end(from, 1).toReversed()];
  });
}
