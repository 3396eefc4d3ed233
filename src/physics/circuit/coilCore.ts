/** A coil's core as the circuit has it. */
import type { CoreFit, PoleMetal } from '../magnetics/coil/eddy.ts';
import type { PlateLoops } from './plateLoops.ts';

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
  readonly plates?: PlateLoops;
}
