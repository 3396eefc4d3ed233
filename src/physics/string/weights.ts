/** What each coil hears of every partial of a stopped string. */
import type { SampledReach } from './sampled.ts';
import { transformReach } from './sampled.ts';

/**
 * Weights w_n = ∫ S(x) sin(nπx/L) dx for n = 1 … `partials` (V·s/m; index 0 is the fundamental), L the sounding length in
 * m. The mode shape is that of an ideal string between fixed ends; stiffness changes it only close to the ends.
 * The reach must have been cut to the moving string.
 */
export function partialWeights(reach: SampledReach, length: number, partials: number): Float64Array {
  const wavenumbers = Float64Array.from({ length: partials }, (_, i) => ((i + 1) * Math.PI) / length);
  const cosine = new Float64Array(partials);
  const sine = new Float64Array(partials);
  transformReach(reach, wavenumbers, cosine, sine);
  return sine;
}
