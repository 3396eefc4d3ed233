/** A dimension of the section: what it measures, where its line, its handle and its figure stand, and what it moves. */
import type { PickupBuild } from '../../sheet/build.ts';
import type { FigureKey } from '../../sheet/figures.ts';
import type { Pickup } from '../../sheet/sheet.ts';
import type { Built } from './built.ts';
import type { SectionView } from './view.ts';

export type Path = readonly (string | number)[];

export interface Change {
  readonly path: Path;
  readonly value: unknown;
}

export interface Measure {
  readonly key: string;
  /** For the ear. */
  readonly label: string;
  /** What it is in a word, for the table; and what is written before the figure on the drawing. */
  readonly word: string;
  readonly before: string;
  readonly after: string;
  readonly figure: FigureKey;
  readonly value: number;
  /** Where faults of it are reported. */
  readonly paths: readonly Path[];
  readonly change: (value: number) => Change;
  readonly along: 'x' | 'y';
  /** Where the ring stands, px, and how far it moves for one unit. */
  readonly handle: { readonly x: number; readonly y: number };
  readonly pixelsPerUnit: number;
  /** Measured points and the place of the dimension line, px; null where the handle stands on the part itself. */
  readonly line: {
    readonly from: { readonly x: number; readonly y: number };
    readonly to: { readonly x: number; readonly y: number };
    readonly at: number;
  } | null;
  /** A thin line from the ring to a figure that stands apart, px. */
  readonly leader?: readonly { readonly x: number; readonly y: number }[];
  /** Null where there is nothing to say yet. */
  readonly place: {
    readonly x: number;
    readonly y: number;
    readonly anchor: 'start' | 'middle' | 'end';
  } | null;
}

export interface MeasureInput {
  readonly pickup: Pickup;
  readonly build: PickupBuild;
  readonly index: number;
  /** 1 is the highest. */
  readonly string: number;
  /** From z = 0 to the underside of the string, m. */
  readonly under: number;
  readonly view: SectionView;
  readonly built: Built;
}

/** From a flange to the column of vertical dimensions, and from a ring to its figure, px. */
export const COLUMN = 30;
export const CLEAR = 15;

/** What a ring is called in the table; without the letters that look like a figure or like each other. */
export const LETTERS = 'abcdefghjkmnpqrstuvwxyz';
