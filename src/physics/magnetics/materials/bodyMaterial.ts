/** What a body is made of, and where on its curve it ended. */
import type { LinearLaw } from './demagnetisation.ts';
import type { MagnetMaterial } from './materials.ts';
import type { SaturatingSteel } from './zoneLaw.ts';

/** What a body is made of; a magnet lies along one axis. */
export type BodyMaterial =
  | {
      readonly kind: 'magnet';
      readonly material: MagnetMaterial;
      readonly strength: number;
      readonly axis: 'x' | 'y' | 'z';
      readonly sign: 1 | -1;
    }
  | {
      /** A round pole of steel that saturates, or an upright box in zones. */
      readonly kind: 'steel';
      readonly steel: SaturatingSteel;
      readonly axis: 'z';
      readonly sign: 1;
    }
  | {
      readonly kind: 'linear';
      readonly law: LinearLaw;
      /** Where the law ends, of a round pole of steel and of an upright box; see solveStatic. */
      readonly steel?: SaturatingSteel;
      readonly axis: 'x' | 'y' | 'z';
      readonly sign: 1 | -1;
    };

/** Mean B (T) and H (A/m) of a body along its axis of magnetisation. */
export interface WorkingPoint {
  readonly B: number;
  readonly H: number;
}
