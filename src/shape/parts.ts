/**
 * A pickup's parts as they stand: what a maker's figures mean in the pickup's own frame. x runs along the strings towards
 * the nut, y across them to the treble side, z up, zero at the pickup's centre and in the plane of the nominal pole tops; m.
 */
import { poleForm, type GivenPole, type PoleForm } from './pole.ts';
import { standingPoles, type Tops } from './poleRow.ts';
import { sizedAt, type OwnPole, type RowOfPoles } from './singlePole.ts';

/** A row of poles, equal but for single ones, with the room for its coil. */
export interface RowPart extends RowOfPoles<PoleForm> {
  /** Row centre. */
  readonly offset: number;
  /** The treble one first. */
  readonly heights: Tops;
  /** null on the bench without a coil. */
  readonly winding: WindingRoom | null;
}

/** A racetrack of two straight sides along y and two half circles, `inner` to `edge` from the centre line. */
export interface WindingRoom {
  readonly straight: number;
  readonly inner: number;
  readonly edge: number;
  readonly top: number;
  readonly bottom: number;
}

/** A block with edges along x, y and z. */
export interface BlockPart {
  readonly size: { readonly x: number; readonly y: number; readonly z: number };
  readonly centre: { readonly x: number; readonly y: number; readonly z: number };
}

/** A drawn box, open below. */
export interface CoverPart {
  readonly thickness: number;
  /** z of the underside of its top. */
  readonly clearance: number;
  /** For each row, whether there are holes over its poles. */
  readonly holed: readonly boolean[];
}

export interface PickupParts {
  readonly rows: readonly RowPart[];
  readonly bars: readonly BlockPart[];
  /** Pieces of steel; absent for none. */
  readonly steel?: readonly BlockPart[];
  /** null or absent for none. */
  readonly cover?: CoverPart | null;
}

/** A block as a maker gives it: a bar magnet, or a piece of steel. */
export interface GivenBlock {
  /** Along x, y and z. */
  readonly width: number;
  readonly length: number;
  readonly thickness: number;
  /** x and y of its centre, z of its upper face. */
  readonly offset: number;
  readonly across: number;
  readonly top: number;
}

/** A cover as a maker gives it; of one row, «row 1» is every row. */
export interface GivenCover {
  readonly thickness: number;
  readonly clearance: number;
  readonly holes: 'none' | 'row 1' | 'row 2' | 'every row';
}

/** A pickup as a maker gives it. */
export interface GivenPickup {
  readonly rows: readonly {
    readonly pole: GivenPole & {
      readonly heights: readonly number[];
      readonly own?: readonly (Pick<OwnPole, 'diameter' | 'length' | 'fitted'> | null)[];
    };
    readonly window: {
      readonly straight: number;
      readonly inner: number;
      readonly outer: number;
      readonly top: number;
      readonly bottom: number;
    };
  }[];
  readonly bars: readonly GivenBlock[];
  readonly steel: readonly GivenBlock[];
  readonly cover: GivenCover | null;
  readonly coils?: 'on' | 'off';
}

export const blockPart = ({ width, length, thickness, offset, across, top }: GivenBlock): BlockPart => ({
  size: { x: width, y: length, z: thickness },
  centre: { x: offset, y: across, z: top - thickness / 2 },
});

/** Bars, then steel. */
export const blocksOf = ({ bars, steel = [] }: Pick<PickupParts, 'bars' | 'steel'>): readonly BlockPart[] => [
  ...bars,
  ...steel,
];

/** @param rows how many rows of poles there are below it */
export const coverPart = ({ thickness, clearance, holes }: GivenCover, rows: number): CoverPart => ({
  thickness,
  clearance,
  holed: Array.from({ length: rows }, (_, r) => holes === 'every row' || holes === `row ${r + 1}`),
});

/** @param offsets of the rows' centres; 0 for those left out */
export const pickupParts = (
  { rows, bars, steel, cover, coils }: GivenPickup,
  offsets: readonly number[],
): PickupParts => ({
  rows: rows.map(({ pole, window }, r) => ({
    offset: offsets[r] ?? 0,
    pole: poleForm(pole),
    ...(pole.own && { own: pole.own.map((own, k) => own && poleForm(sizedAt(pole, k))) }),
    heights: standingPoles(pole),
    winding:
      coils !== 'off'
        ? {
            straight: window.straight,
            inner: window.inner,
            edge: window.outer,
            top: window.top,
            bottom: window.bottom,
          }
        : null,
  })),
  bars: bars.map(blockPart),
  steel: steel.map(blockPart),
  cover: cover && coverPart(cover, rows.length),
});
