/** Wire as it is shown: by its gauge where it is one. */
import { gaugeDiameter, gaugeNumber } from '../shape/gauges.ts';

/** Digits after the point of a millimetre in which wire is shown: a tenth of a micrometre, finer than it is drawn. */
export const WIRE_DECIMALS = 4;

const shown = (diameter: number): string => (diameter * 1e3).toFixed(WIRE_DECIMALS);

/** The gauge that a bare diameter (m) is, to the digits in which wire is shown; null when it is none. */
export function gaugeOf(diameter: number): number | null {
  const gauge = Math.round(gaugeNumber(diameter));
  return shown(gaugeDiameter(gauge)) === shown(diameter) ? gauge : null;
}
