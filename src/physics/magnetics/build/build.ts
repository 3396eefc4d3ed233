/**
 * A pickup as its maker describes it. SI units. Frame: the pickup's centre, x along the strings towards the nut, y
 * across to the treble side, z up; z = 0 is the plane that pole heights are counted from.
 */
import type { Tip } from '../../../shape/pole.ts';
import type { Tops } from '../../../shape/poleRow.ts';
import type { RowOfPoles } from '../../../shape/singlePole.ts';
import type { GivenGrade, GivenSteel } from '../materials/materials.ts';
import type { Vector } from '../../numerics/vector.ts';
import type { Enamel } from '../coil/wire.ts';

/** The whole pickup, as checkBuild passes it. */
export interface BuiltPickup {
  /** One or two rows, the one nearest the neck first. */
  readonly rows: readonly BuiltRow[];
  readonly bars: readonly BuiltBar[];
  /** Absent for none. */
  readonly steel?: readonly BuiltSteel[];
  /** Plates of non-magnetic metal over and under it; null or absent for none. */
  readonly cover?: BuiltCover | null;
  readonly basePlate?: BuiltPlate | null;
  /** From z = 0 to the underside of the outermost strings, m. */
  readonly gapBass: number;
  readonly gapTreble: number;
  /** Of the arc on which the strings lie, m; Infinity when flat. */
  readonly fretboardRadius: number;
}

/** A row of poles, equal but for single ones, with its coil. */
export interface BuiltRow extends RowOfPoles<BuiltPole> {
  /** Row centre along the strings, m. */
  readonly offset: number;
  /** Between neighbouring poles, m. */
  readonly pitch: number;
  /** Without meaning where no poles stand. */
  readonly pole: BuiltPole;
  /** Those that are unlike it, as the heights; null: as it. Absent where all are alike. */
  readonly own?: readonly (BuiltPole | null)[];
  /** Index 0 faces string 1, the treble end (largest y). */
  readonly heights: Tops;
  /** null of magnets and steel on the bench without a coil: then no row has one, and there is no cover or base plate. */
  readonly winding: BuiltWinding | null;
}

/** A row with its coil. */
export type WoundRow = BuiltRow & { readonly winding: BuiltWinding };

/** Whether a row has one. */
export const isWound = (row: BuiltRow): row is WoundRow => row.winding !== null;

/** A row's pole; lengths and diameters in m. */
export type BuiltPole = RodPole | SteelPole;

/** A rod magnet, magnetised along its length. */
export interface RodPole {
  readonly kind: 'rod';
  readonly grade: GivenGrade;
  /** Share of full magnetisation, above 0 to 1. */
  readonly strength: number;
  /** Pole that faces the strings. */
  readonly facing: 'north' | 'south';
  readonly diameter: number;
  readonly length: number;
  readonly tip: Tip;
}

/** A slug or a screw. */
export interface SteelPole {
  readonly kind: 'steel';
  readonly steel: GivenSteel;
  readonly diameter: number;
  /** Over all, m; trimming a screw shortens it from below. */
  readonly length: number;
  /** A wider head at the top; null for none. */
  readonly head: { readonly diameter: number; readonly height: number } | null;
  /** A narrower part at the bottom; null for none. */
  readonly shank: { readonly diameter: number; readonly length: number } | null;
  readonly tip: Tip;
}

/** A bar magnet. `strength`: share of full magnetisation, above 0 to 1. */
export interface BuiltBar {
  readonly grade: GivenGrade;
  readonly strength: number;
  /** Full edges, m. */
  readonly size: Readonly<Vector>;
  readonly centre: Readonly<Vector>;
  /** Direction of magnetisation, from its south to its north face. */
  readonly axis: 'x' | 'y' | 'z';
  readonly sign: 1 | -1;
}

/** A piece of steel: a plate, a wall, a blade. */
export interface BuiltSteel {
  readonly grade: GivenSteel;
  /** Full edges, m. */
  readonly size: Readonly<Vector>;
  readonly centre: Readonly<Vector>;
}

/** A coil and its room on the bobbin; heights from z = 0, m. */
export interface BuiltWinding {
  /** Straight sides along y, m; 0 for a round coil. */
  readonly straight: number;
  /** From the centre line to the innermost turn, and to the edge of the bobbin, m. */
  readonly inner: number;
  readonly edge: number;
  readonly bottom: number;
  readonly top: number;
  readonly turns: number;
  /** Bare diameter, m. */
  readonly wire: number;
  readonly enamel: Enamel;
  /** Turns per square of the overall diameter; see turnsThatFit. */
  readonly packing: number;
  /** 1: the start goes anticlockwise seen from the strings. */
  readonly direction: 1 | -1;
}

/** A flat piece of non-magnetic metal. */
export interface BuiltPlate {
  /** Ω m. */
  readonly resistivity: number;
  /** m. */
  readonly thickness: number;
}

/** A drawn box, open below. */
export interface BuiltCover extends BuiltPlate {
  /** Height of the underside of its top above z = 0, m. */
  readonly clearance: number;
  /** For each row, whether there are holes over its poles. */
  readonly holed: readonly boolean[];
}
