/** American wire gauge, of magnet wire. */

/** m; bare diameter of gauge 36, and the ratio of gauge 0000's to it, 39 gauges apart. Source: [ASTMB258]. */
const GAUGE_36 = 0.127e-3;
const RATIO = 92;
const BETWEEN = 39;

/**
 * Bare diameter of a gauge, m: 0.127 mm · 92^((36 − n)/39), to twelve digits, so that it reads the same wherever it has been
 * written down. Source: [ASTMB258]. Example: 42 → 63.34 µm.
 */
export function gaugeDiameter(gauge: number): number {
  return Number((GAUGE_36 * RATIO ** ((36 - gauge) / BETWEEN)).toPrecision(12));
}

/** The other way round, not rounded. @param diameter bare, m, above 0 */
export function gaugeNumber(diameter: number): number {
  return 36 - (BETWEEN * Math.log(diameter / GAUGE_36)) / Math.log(RATIO);
}
