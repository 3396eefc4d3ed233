/** Where the poles of a row stand across the strings, m from its middle; pole 0 is the treble one, under string 1. */

import type { OwnPole } from './singlePole.ts';

/** Places at equal distances. */
export interface PoleRow {
  /** Between neighbouring ones, m. */
  readonly pitch: number;
  /** As many as there are places. */
  readonly heights: { readonly length: number };
}

/** z of every pole's top, m, one a place; null where a pole is left out. Empty where none stands at all. */
export type Tops = readonly (number | null)[];

const NONE: Tops = [];

/** Of a row as a maker gives it: none where steel or a magnet is in the poles' place. */
export function standingPoles({
  kind,
  heights,
  own,
}: {
  readonly kind: string;
  readonly heights: readonly number[];
  readonly own?: readonly (Pick<OwnPole, 'fitted'> | null)[];
}): Tops {
  if (kind === 'none') return NONE;
  const tops = own ? heights.map((top, k) => (own[k]?.fitted === false ? null : top)) : heights;
  return tops.every((top) => top === null) ? NONE : tops;
}

/** Heights of those that stand, m. */
export const topsOf = (tops: Tops): readonly number[] => tops.filter((top) => top !== null);

/** A pole that stands. */
export interface Standing {
  /** Under which string, from 0. */
  readonly k: number;
  /** From the row's middle, m. */
  readonly y: number;
  /** z of its top, m. */
  readonly top: number;
}

/** The poles that stand, the treble one first. */
export const polesStanding = (row: { readonly pitch: number; readonly heights: Tops }): readonly Standing[] =>
  row.heights.flatMap((top, k) => (top === null ? [] : [{ k, y: polePlace(row, k), top }]));

/** @param k which pole, from 0; a number between two whole ones lies between those two poles */
export const polePlace = ({ pitch, heights }: PoleRow, k: number): number =>
  (0.5 * (heights.length - 1) - k) * pitch;

/** Of all places, the treble one first. */
export const polePlaces = (row: PoleRow): readonly number[] =>
  Array.from({ length: row.heights.length }, (_, k) => polePlace(row, k));
