/** Flux lines around a pickup, ready to cross to another thread. The pickup's own frame, SI units. */
import type { Solid } from '../../shape/solid.ts';

/** Flux lines in space, and the bodies that they leave and enter. */
export interface SpacePicture {
  /** Of every line, x, y, z in turn in the direction of B, m; `ends` are indices of points: where each line is over. */
  readonly points: Float32Array;
  readonly ends: Uint32Array;
  /** Flux for which each line stands, Wb. */
  readonly share: number;
  readonly solids: readonly Solid[];
  /** Place across of the section under the chosen string, m. */
  readonly plane: number;
}

/** Of which of the sheet's pickups, counted from 0. */
export interface SpaceWish {
  readonly pickup: number;
}
