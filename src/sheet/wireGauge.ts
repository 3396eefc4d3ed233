/** American wire gauge. */

/** Bare diameter of a gauge, m: 0.127 mm · 92^((36 − n)/39). Source: [ASTMB258]. */
export function gaugeDiameter(gauge: number): number {
  return Number((0.127e-3 * 92 ** ((36 - gauge) / 39)).toPrecision(12));
}

/** Digits after the point of a millimetre in which wire is shown: a tenth of a micrometre, finer than it is drawn. */
export const WIRE_DECIMALS = 4;

const shown = (diameter: number): string => (diameter * 1e3).toFixed(WIRE_DECIMALS);

/** The gauge that a bare diameter (m) is, to the digits in which wire is shown; null when it is none. */
export function gaugeOf(diameter: number): number | null {
  const gauge = Math.round(36 - (39 * Math.log(diameter / 0.127e-3)) / Math.log(92));
  return shown(gaugeDiameter(gauge)) === shown(diameter) ? gauge : null;
}
