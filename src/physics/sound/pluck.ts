/** The shape of the plucked string at the moment it is let go, as amplitudes of its partials. */
import type { Pluck } from '../../sheet/sheet.ts';
import type { Polarisation } from '../string/damping.ts';

/**
 * Amplitudes (m) of partials n = 1 … `partials` of an ideal string of length L (m), pulled aside by `depth` at the pluck's
 * place and let go from rest: a_n = 2d sin(nπp)/(n²π²p(1−p)), p = place/L. Source: textbook [Fletcher1998].
 *
 * A plectrum of finite width spreads the corner: its force is taken as a raised cosine over the width of the contact,
 * which multiplies a_n by that shape's transform. The place is kept on the string, at least 1 mm (or half of a shorter
 * string) from either end. Returned without regard to direction; see `pluckShare`.
 */
export function pluckAmplitudes(pluck: Pluck, length: number, partials: number): Float64Array {
  const p = pluckPlace(pluck, length) / length;
  const scale = (2 * pluck.depth) / (Math.PI ** 2 * p * (1 - p));
  return Float64Array.from({ length: partials }, (_, i) => {
    const n = i + 1;
    return (scale / n ** 2) * Math.sin(n * Math.PI * p) * contactResponse((n * pluck.width) / (2 * length));
  });
}

/** Where the pluck falls on a string of this length, m: the place set, or the nearest one on the string. */
export function pluckPlace(pluck: Pluck, length: number): number {
  // A pluck right at an end would need an infinite force; 1 mm is about as near as a plectrum gets.
  const margin = Math.min(1e-3, length / 2);
  return Math.min(Math.max(pluck.place, margin), length - margin);
}

/** Share of the pluck that goes towards the pickup and across it. */
export function pluckShare(pluck: Pluck, polarisation: Polarisation): number {
  return polarisation === 'towards' ? Math.sin(pluck.angle) : Math.cos(pluck.angle);
}

/**
 * Fourier transform of a raised cosine of full width b and unit area at wavenumber k, with u = k b/(2π):
 * sinc(u)/(1 − u²), sinc(u) = sin(πu)/(πu). Case 1: u near 0; case 2: u near 1, where it is ½.
 */
export function contactResponse(u: number): number {
  // Below 1e-4 the series 1 − u²(π²/6 − 1) is exact to a double; within 1e-6 of 1 the slope costs less than 1e-6.
  if (Math.abs(u) < 1e-4) return 1 - u * u * (Math.PI ** 2 / 6 - 1);
  if (Math.abs(Math.abs(u) - 1) < 1e-6) return 0.5;
  return Math.sin(Math.PI * u) / (Math.PI * u * (1 - u * u));
}
