/** A box of steel in zones one above the other, each with a permeability of its own, and sheets of charge between them. */
import type { PlacedBox } from './facings.ts';
import type { CutFace } from './boxCuts.ts';
import { evened, stepped } from './steps.ts';

/** Which zone every rectangle of a mesh is of; zones count from the lowest. */
export interface BoxZones {
  readonly count: number;
  /** The first rectangle of a sheet; all before it lie on the surface. */
  readonly sheets: number;
  /** Of every rectangle: its zone, of a sheet the one below; and what lies beyond, of a sheet the one above, −1 for outside. */
  readonly zone: Int8Array;
  readonly beyond: Int8Array;
  /** Lower ends of all zones and the upper end of the highest, from the box's centre, m. */
  readonly ends: Float64Array;
}

/** A zone is no lower than this share of the box. */
const LOWEST = 0.09;

/**
 * Where an upright box is cut into zones: at cuts that its broader upright faces have already, none lower than LOWEST of its height.
 *
 * @param cuts of such a face along z, from −½ to ½
 * @returns inner ends, ascending, as shares of the height from its middle
 */
export function zoneEnds(cuts: Float64Array): readonly number[] {
  const ends: number[] = [];
  let last = -0.5;
  for (const at of cuts) {
    if (at - last < LOWEST || 0.5 - at < LOWEST) continue;
    ends.push(at);
    last = at;
  }
  return ends;
}

/**
 * Sheets are cut in steps of so many thicknesses at the ends of their longer edge, growing by a share of what lies behind them up to a
 * share of the edge.
 */
const SHEET_END = 0.6;
const SHEET_GROWTH = 0.5;
const SHEET_MOST = 0.14;
const COUNTED = 256;

/** The sheets of a box, from the lowest up. @param inner where its zones meet, as shares of its height from its middle; @param fineness multiplies their divisions */
export function sheets(
  { size }: Pick<PlacedBox, 'size'>,
  inner: readonly number[],
  fineness: number,
): readonly CutFace[] {
  const thickness = Math.min(size.x, size.y);
  const cuts = (length: number): Float64Array => {
    if (length === thickness) return Float64Array.of(-0.5, 0.5);
    const step = (at: number): number =>
      Math.min(SHEET_MOST * length, SHEET_END * thickness + SHEET_GROWTH * Math.min(at, length - at)) /
      fineness;
    return evened(
      Float64Array.of(-0.5, ...stepped(0, length, step, COUNTED).map((share) => share - 0.5), 0.5),
      1e-2,
    );
  };
  const [u, v] = [cuts(size.x), cuts(size.y)];
  return inner.map((at) => ({ normal: 2, side: 1, u, v, at }));
}

/** Whether flux can only go upwards in it for long: a blade, or a wall that stands. */
export const isUpright = ({ size }: Pick<PlacedBox, 'size'>): boolean =>
  size.z > UPRIGHT * Math.min(size.x, size.y);
const UPRIGHT = 2;
