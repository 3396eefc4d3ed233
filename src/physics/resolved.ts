/** A sheet on which nothing is left open: what the circuit, the sound and the curves work on. */
import type { Coil, Pickup, Row, Sheet } from '../sheet/sheet.ts';
import type { FieldAnswer } from './fieldAnswer.ts';
import type { SheetLoops } from './circuit/plateLoops.ts';
import type { CoreFit, PoleMetal } from './magnetics/coil/eddy.ts';

/**
 * Every coil has its figures, and a pickup with a build has its field. A sheet with all figures whose reaches are set by
 * hand is one as it stands.
 */
export interface HeardSheet extends Sheet<Coil> {
  readonly pickups: readonly HeardPickup[];
}

/** A pickup with all figures of its coils. */
export interface HeardPickup extends Pickup<Coil> {
  readonly rows: readonly HeardRow[];
  /** null or absent without a build. */
  readonly field?: FieldAnswer | null;
}

/** A row with all figures of its coil. */
export interface HeardRow extends Row<Coil> {
  /** Absent where the coil's inductance is the same at all frequencies. */
  readonly core?: CoilCore;
}

/** What makes a coil's inductance and its sensitivity fall with frequency. */
export interface CoilCore {
  /** Without the poles, H. */
  readonly air: number;
  /** The poles' share for each turn². */
  readonly fit: CoreFit;
  readonly metal: PoleMetal;
  readonly turns: number;
  /** Inductance in the circuit over that of the build: a typed one, or the other coil's share, stretches the whole. */
  readonly scale: number;
  /** Share of the sensitivity that the cores bring at low frequency. */
  readonly share: number;
  /** Eddy currents in a cover and a base plate; absent where there is none. */
  readonly sheets?: SheetLoops;
}
