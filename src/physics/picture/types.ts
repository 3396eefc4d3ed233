/** Pictures of a pickup's field, ready to cross to another thread. SI units; Float32 is more than a picture shows. */
import type { Lattice } from '../../shape/lattice.ts';

/**
 * B in the upright plane through the poles that stand nearest to a string, along the pickup's own x (for a slanted pickup
 * that is not quite along the string). B across the plane is left out: it vanishes where neighbours are alike.
 */
export interface SectionPicture extends Lattice {
  /** Place of u = 0 on the string, from the saddle, m. u runs towards the nut, v upwards from the nominal pole tops. */
  readonly origin: number;
  /** Components at the nodes, row by row upwards, T; in bodies NaN, but continued by a node across their surfaces. */
  readonly bu: Float32Array;
  readonly bv: Float32Array;
  /** Outlines of the poles and bars that the plane cuts, u and v of every corner in turn, m. */
  readonly outlines: readonly Float64Array[];
  /**
   * Where flux lines meet the bodies: u, v (m) and 1 where the line leaves, −1 where it enters, in turn. Neighbours enclose
   * equal shares of flux.
   */
  readonly starts: Float64Array;
}

/**
 * |B| on the surface on which the strings' axes lie, over the pickup, T; in the pickup's own frame, x towards the nut
 * and y towards the treble side.
 */
export interface PlanPicture {
  readonly x0: number;
  readonly y0: number;
  readonly step: number;
  readonly nx: number;
  readonly ny: number;
  /** Row by row towards the treble side, T. */
  readonly values: Float32Array;
}

/** B at one place, T, and the height above the nominal pole tops at which it was taken, m. */
export interface ProbeReading {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  readonly bx: number;
  readonly by: number;
  readonly bz: number;
}

/** Which pictures are asked for. */
export interface PictureWish {
  /** Index into the sheet's pickups. */
  readonly pickup: number;
  readonly section: boolean;
  readonly plan: boolean;
  /** In the pickup's own frame, m; read at the strings' height and at `height` above the nominal pole tops. */
  readonly probe: { readonly x: number; readonly y: number; readonly height: number } | null;
}

/** What was wished for; null where it was not, and everywhere when the pickup has no build. */
export interface Pictures {
  readonly section: SectionPicture | null;
  readonly plan: PlanPicture | null;
  readonly probe: { readonly strings: ProbeReading; readonly height: ProbeReading } | null;
}
