/**
 * How the reach changes as the string moves towards the pole and away from it: why a pickup distorts a little.
 *
 * With u the displacement towards the pickup (m, averaged over the reach) a coil's flux is area · φ(u), and
 *
 *     φ'(u) = S(u)/S(0) = exp(r1 u + r2 u² + r3 u³),   φ(0) = 0.
 *
 * The logarithm of a field is close to a straight line in the distance from its pole, so that three coefficients go far
 * and the reach can't turn its sign. By hand only r1 = 1/fade is set: S falls to 1/e over the distance `fade`, and
 * φ = fade (e^(u/fade) − 1). A movement across the pickup counts in u by the share by which it is heard at all.
 */

/** r1 (1/m), r2 (1/m²), r3 (1/m³). */
export type FluxCurve = readonly [r1: number, r2: number, r3: number];

/** The same reach at every distance. */
export const STRAIGHT: FluxCurve = [0, 0, 0];

/**
 * The curve holds up to e^KNEE (twelve times the reach at rest) and bends from there to its end at e^3.5, 33 times: the
 * string then lies on the pole. Slope and value are continuous at both ends of the bend.
 */
const KNEE = 2.5;
const BEND = 2;

/** The curve of a reach set by hand. @param fade m; null for a reach that is the same at every distance */
export function fadeCurve(fade: number | null): FluxCurve {
  return fade !== null && fade > 0 ? [1 / fade, 0, 0] : STRAIGHT;
}

/** Whether the reach is the same at every distance, so that nothing is bent. */
export function isStraight([r1, r2, r3]: FluxCurve): boolean {
  return r1 === 0 && r2 === 0 && r3 === 0;
}

/** φ'(u), without unit, > 0. @param u m, positive towards the pickup */
export function fluxSlope(curve: FluxCurve, u: number): number {
  return Math.exp(boundedExponent(u * (curve[0] + u * (curve[1] + u * curve[2]))));
}

/** x, without unit, up to the knee, and bent to at most KNEE + BEND/2 beyond it. */
function boundedExponent(x: number): number {
  if (x <= KNEE) return x;
  const over = Math.min(x - KNEE, BEND);
  return KNEE + over - (over * over) / (2 * BEND);
}
