/** A sheet on which nothing is left open: what the circuit, the sound and the curves work on. */
import type { Coil, Sheet } from '../../sheet/sheet.ts';
import type { WiredPickup } from '../circuit/harness.ts';
import type { FieldAnswer } from './fieldAnswer.ts';

/**
 * Every coil has its figures, and a pickup with a build has its field. A sheet with all figures whose reaches are set by
 * hand is one as it stands.
 */
export interface HeardSheet extends Sheet<Coil> {
  readonly pickups: readonly HeardPickup[];
}

/** A pickup with all figures of its coils, and its field. */
export interface HeardPickup extends WiredPickup {
  /** null or absent without a build. */
  readonly field?: FieldAnswer | null;
}
