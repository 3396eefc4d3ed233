/** How loud a string is by the metal in it, where no field is known that tells more. */
import { roundSection, wrapSection, type WrapMetal } from './wrap.ts';

/** m; a reach's sensitivity is given for a plain steel string of this diameter. */
export const REFERENCE_DIAMETER = 0.432e-3;

/**
 * Share of the wrap's metal that counts beside the core's where no field is known: the middle of what the field engine
 * gives for the wound strings of all sets over rods and over two rows, 1.5 to 4 mm above them. It is 0.3 to 0.6 for
 * steel: the more, the further the core is saturated.
 */
export const WRAP_SHARE: Readonly<Record<WrapMetal, number>> = {
  'nickel-plated steel': 0.4,
  nickel: 0.22,
  'ferritic stainless steel': 0.33,
  'austenitic stainless steel': 0,
  bronze: 0,
};

/** What of a string its level depends on; diameters in m, `core` within `diameter`. */
export interface LevelString {
  readonly construction: 'plain' | 'wound';
  readonly diameter: number;
  readonly core: number;
  /** Without meaning for a plain string. */
  readonly wrap: WrapMetal;
}

/**
 * Level of a string against the reference string: the ratio of magnetic cross-sections, for plain strings that of
 * the steel. Source: [Lotton2017] (plain strings: level ∝ cross-section area). For a wound string the core counts fully
 * and the metal of the close-wound wrap by `WRAP_SHARE`.
 */
export function stringLevel({ construction, diameter, core, wrap }: LevelString): number {
  const layer = construction === 'wound' ? WRAP_SHARE[wrap] * wrapSection(diameter, core) : 0;
  return (roundSection(core) + layer) / roundSection(REFERENCE_DIAMETER);
}
