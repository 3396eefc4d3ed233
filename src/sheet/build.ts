/**
 * How a pickup is built, as plain data in SI units (m, T, rad): what the field engine computes the reach from.
 *
 * Frame of one pickup: x along the strings, positive towards the nut, zero at the pickup's centre; y across them from
 * the bass to the treble side, zero on the centre line; z up towards the strings, zero in the plane of the nominal
 * pole tops. A row's parts are symmetric about its centre line, which lies where the pickup's row of the same number
 * says (`Row.offset`). Index 0 of anything that is counted by string is string 1 (treble side).
 */
import type { ChosenGrade, ChosenSteel, MagnetGrade, PlateMetal, SteelGrade } from '../shape/materials.ts';
import type { OwnGrade } from '../shape/ownGrade.ts';
import type { CoilSteel, OwnSteel } from '../shape/ownSteel.ts';
import type { OwnPole } from '../shape/singlePole.ts';

export type {
  ChosenGrade,
  ChosenSteel,
  CoilSteel,
  MagnetGrade,
  OwnGrade,
  OwnPole,
  OwnSteel,
  PlateMetal,
  SteelGrade,
};

/** What all magnets and all steel of a sheet share. */
export interface Magnets {
  /** At which they stand, °C. */
  readonly temperature: number;
  /** The maker's own grade, as it is at that temperature; null: none has been given, see STARTING_GRADE. */
  readonly own: OwnGrade | null;
  /** The maker's own steel; absent: none has been given, see STARTING_STEEL. */
  readonly ownSteel?: OwnSteel;
}

/** What a rod or a bar is made of, and how far it is magnetised. */
export interface Magnet {
  readonly grade: ChosenGrade;
  /** Share of full magnetisation, 0–1; 1 is saturated. */
  readonly charge: number;
}

/** How a pole ends below the string. */
export interface PoleTip {
  readonly shape: 'flat' | 'chamfered' | 'coned' | 'domed';
  /** Leg of the 45° chamfer, depth of the cone, rise of the dome, m; without meaning for flat. */
  readonly size: number;
}

/** The poles of a row, all alike but for their heights and for what single ones have of their own; diameters and lengths in m. */
export interface Pole {
  /** 'rod' is itself the magnet; slugs and screws are steel; 'none': a blade or a bar stands in their place. */
  readonly kind: 'rod' | 'slug' | 'screw' | 'none';
  /** For rods; kept but without meaning for steel. */
  readonly magnet: Magnet;
  /** For slugs and screws; absent: drawn low-carbon steel. */
  readonly steel?: ChosenSteel;
  readonly diameter: number;
  /** From its top to its bottom; for a screw with its head, after trimming. */
  readonly length: number;
  readonly tip: PoleTip;
  /** For screws; kept but without meaning otherwise. */
  readonly head: { readonly diameter: number; readonly height: number };
  /** Top of each pole above z = 0, m; one under every string, string 1 first. */
  readonly heights: readonly number[];
  /** As the heights; null for a pole that is as the row. Absent where all are. */
  readonly own?: readonly (OwnPole | null)[];
}

/** A block with edges along x, y and z, m. */
export interface Block {
  /** Along x. */
  readonly width: number;
  /** Along y. */
  readonly length: number;
  /** Along z. */
  readonly thickness: number;
  /** Its centre from the pickup's centre, along x. */
  readonly offset: number;
  /** Its centre from the centre line, along y; positive on the treble side. */
  readonly across: number;
  /** z of its upper face. */
  readonly top: number;
}

/** A bar magnet: under, between or beside the rows. */
export interface BarMagnet extends Block {
  readonly magnet: Magnet;
  /** Magnetised through its width (between two rows, beside one), through its thickness (under a row) or along its length. */
  readonly direction: 'across the width' | 'through the thickness' | 'along the length';
  /** Whether it is turned over: north stands where south was. Not turned, north is towards the nut, up, or on the treble side. */
  readonly turned: boolean;
}

/** A piece of steel that sends the field where it is wanted: a keeper plate, a wall, a blade. */
export interface SteelBox extends Block {
  readonly steel: ChosenSteel;
}

/** A drawn box over the whole pickup, open below; its sides follow from the coils. */
export interface Cover {
  readonly metal: PlateMetal;
  /** m. */
  readonly thickness: number;
  /** z of the underside of its top, m; below 0 the poles stand through it. */
  readonly clearance: number;
  /** Over which poles its top has holes; of one row, «row 1» is every row. */
  readonly holes: 'none' | 'row 1' | 'row 2' | 'every row';
}

/** A plate under the whole pickup; where it lies follows from the parts on it. */
export interface BasePlate {
  readonly metal: PlateMetal;
  /** m. */
  readonly thickness: number;
}

/** The winding window: a racetrack of two straight sides and two half circles round the row of poles. */
export interface Window {
  /** Between the centres of the half circles, m; 0 for a round coil. */
  readonly straight: number;
  /** Half the inner width: radius of the innermost turn at the ends, m. */
  readonly inner: number;
  /** The same for the outermost turn, m. */
  readonly outer: number;
  /** z of its upper and lower edge, m; both negative. */
  readonly top: number;
  readonly bottom: number;
}

/** What a coil is wound of. */
export interface Wire {
  /** Bare copper diameter, m. */
  readonly conductor: number;
  readonly enamel: 'single' | 'heavy';
}

/** One row of poles with its coil. */
export interface RowBuild {
  readonly pole: Pole;
  /** Which pole of a rod is up; a row of steel takes what the bars give it. */
  readonly up: 'north' | 'south';
  readonly window: Window;
  readonly turns: number;
  readonly wire: Wire;
  /** Seen from above, from the start of the winding. */
  readonly wound: 'clockwise' | 'anticlockwise';
}

/** A whole pickup; the strings lie on the arc of the instrument's radius between its two gaps. */
export interface PickupBuild {
  /** Between neighbouring poles, m. */
  readonly pitch: number;
  /** From z = 0 to the underside of the lowest string and of string 1, m. */
  readonly gapBass: number;
  readonly gapTreble: number;
  /** At most MOST_BLOCKS of each; they may touch poles and each other, not overlap. */
  readonly bars: readonly BarMagnet[];
  readonly steel: readonly SteelBox[];
  /** Absent: all of its steel is to the coils what its grade says. */
  readonly coilSteel?: CoilSteel;
  readonly cover: Cover | null;
  readonly basePlate: BasePlate | null;
  /** One or two, in the order of the pickup's rows (nearest the neck first). */
  readonly rows: readonly RowBuild[];
  /**
   * 'off': its poles, bars and steel lie on the bench by themselves, without coils, bobbins, cover and base plate; what the rows
   * say of their windings waits. Absent where the coils are there.
   */
  readonly coils?: 'on' | 'off';
}
