/** Where curves are sampled. */
import { HIGHEST } from './listening.ts';

/** Hz; start of the curves. */
const LOWEST = 20;
const CURVE_POINTS = 512;

/** Logarithmic from `LOWEST` to `HIGHEST`, both ends included exactly, Hz. */
export function curveFrequencies(): Float64Array {
  const ratio = Math.log(HIGHEST / LOWEST);
  const last = CURVE_POINTS - 1;
  return Float64Array.from({ length: CURVE_POINTS }, (_, i) =>
    i === last ? HIGHEST : LOWEST * Math.exp((ratio * i) / last),
  );
}
