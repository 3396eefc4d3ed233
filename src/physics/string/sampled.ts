/**
 * A reach as samples along the string, and its transform: the one integral behind placement, aperture and the
 * two-coil comb. Any engine may supply the samples.
 */

/** Uniform samples; the function is zero before the first and after the last one, where it may jump. */
export interface SampledReach {
  /** Saddle to the first sample, m. */
  readonly start: number;
  /** Distance between samples, m. */
  readonly step: number;
  /** V·s/m per metre of string; an odd number of samples, at least 3 (Filon's rule takes them in pairs of steps). */
  readonly values: Float64Array;
}

/**
 * ∫ S(x) cos(kx) dx into `cosine` and ∫ S(x) sin(kx) dx into `sine` (V·s/m), for every wavenumber k (rad/m, ≥ 0).
 *
 * Filon's rule: parabolas through the samples, their products with cos and sin integrated exactly, so that the
 * error is that of the parabolas whatever k is, also beyond two samples to a wave. Source: [Filon1928]; coefficients [AbramowitzStegun] 25.4.47–55.
 * Digits: a Gaussian with 25 samples to its standard deviation, or a raised cosine with 100 to its full width, comes out
 * within 1e-6 of its area at any k; the error falls with the fourth power of the step.
 */
export function transformReach(
  reach: SampledReach,
  wavenumbers: Float64Array,
  cosine: Float64Array,
  sine: Float64Array,
): void {
  const { start, step: h, values } = reach;
  const last = values.length - 1;
  if (last < 2 || last % 2 !== 0) {
    throw new RangeError(
      `A sampled reach must have an odd number of samples, 3 or more; got ${values.length}.`,
    );
  }
  const first = values[0]!;
  const final = values[last]!;
  for (let i = 0; i < wavenumbers.length; i++) {
    const k = wavenumbers[i]!;
    const theta = k * h;
    const cosTheta = Math.cos(theta);
    const sinTheta = Math.sin(theta);
    // Goertzel sums Σ v e^{imφ} over the even and the odd samples, φ = 2θ; two chains keep the processor busy.
    const turn = 2 * (2 * cosTheta * cosTheta - 1);
    let e1 = final;
    let e2 = 0;
    let o1 = 0;
    let o2 = 0;
    for (let j = last - 1; j > 1; j -= 2) {
      const o = values[j]! + turn * o1 - o2;
      const e = values[j - 1]! + turn * e1 - e2;
      o2 = o1;
      o1 = o;
      e2 = e1;
      e1 = e;
    }
    const cosTurn = turn / 2;
    const sinTurn = 2 * sinTheta * cosTheta;
    // Close the recurrences on samples 0 and 1: Σ = v + e^{iφ} s1 − s2.
    let evenRe = first + cosTurn * e1 - e2;
    let evenIm = sinTurn * e1;
    const oddClosedRe = values[1]! + cosTurn * o1 - o2;
    const oddClosedIm = sinTurn * o1;
    const oddRe = oddClosedRe * cosTheta - oddClosedIm * sinTheta;
    const oddIm = oddClosedRe * sinTheta + oddClosedIm * cosTheta;
    const endCos = Math.cos(theta * last);
    const endSin = Math.sin(theta * last);
    // The end samples count half in Filon's even sum.
    evenRe -= 0.5 * (first + final * endCos);
    evenIm -= 0.5 * final * endSin;

    const t2 = theta * theta;
    let alpha: number;
    let beta: number;
    let gamma: number;
    if (theta < 0.25) {
      // Below 0.25 the closed forms lose digits as ε/θ³; the first term left out here is below 1e-11.
      alpha = t2 * theta * (2 / 45 - t2 * (2 / 315 - (t2 * 2) / 4725));
      beta = 2 / 3 + t2 * (2 / 15 - t2 * (4 / 105 - (t2 * 2) / 567));
      gamma = 4 / 3 - t2 * (2 / 15 - t2 * (1 / 210 - t2 / 11340));
    } else {
      const t3 = t2 * theta;
      const sin2 = 2 * sinTheta * cosTheta;
      alpha = (t2 + (theta * sin2) / 2 - 2 * sinTheta * sinTheta) / t3;
      beta = (2 * (theta * (1 + cosTheta * cosTheta) - sin2)) / t3;
      gamma = (4 * (sinTheta - theta * cosTheta)) / t3;
    }
    const re = h * (alpha * final * endSin + beta * evenRe + gamma * oddRe);
    const im = h * (alpha * (first - final * endCos) + beta * evenIm + gamma * oddIm);
    // Up to here x counts from the first sample; turn to the saddle.
    const c = Math.cos(k * start);
    const s = Math.sin(k * start);
    cosine[i] = re * c - im * s;
    sine[i] = re * s + im * c;
  }
}

/**
 * Sample `shape` (V·s/m per metre, at a place in m) from `from` to `to` (m) with steps of at most `step`.
 * The end samples lie exactly on the ends, so that a cut there is an edge and not a slope. An empty interval
 * gives an all-zero reach.
 */
export function sampleReach(
  shape: (x: number) => number,
  from: number,
  to: number,
  step: number,
): SampledReach {
  if (!(to > from)) return { start: from, step: 1e-3, values: new Float64Array(3) };
  const pairs = Math.max(1, Math.ceil((to - from) / (2 * step)));
  const h = (to - from) / (2 * pairs);
  const values = new Float64Array(2 * pairs + 1);
  for (let j = 0; j < values.length; j++) values[j] = shape(from + j * h);
  return { start: from, step: h, values };
}

/**
 * The part of a reach over the moving string, `from` to `to` (m): what lies past the saddle or the stopping fret
 * is not heard. Between samples the cut is placed with a cubic through the four nearest of them.
 */
export function cutReach(reach: SampledReach, from: number, to: number): SampledReach {
  const end = reach.start + reach.step * (reach.values.length - 1);
  if (from <= reach.start && to >= end) return reach;
  const lower = Math.max(from, reach.start);
  const upper = Math.min(to, end);
  return sampleReach((x) => interpolate(reach, x), lower, upper, reach.step);
}

/** A reach's value at x (m from the saddle), V·s/m per metre; 0 outside its samples. */
export function readReach(reach: SampledReach, x: number): number {
  const end = reach.start + reach.step * (reach.values.length - 1);
  return x < reach.start || x > end ? 0 : interpolate(reach, x);
}

/** Cubic (with three samples quadratic) Lagrange interpolation within the samples. */
function interpolate({ start, step, values }: SampledReach, x: number): number {
  const count = Math.min(4, values.length);
  const place = (x - start) / step;
  const base = Math.min(Math.max(Math.floor(place) - 1, 0), values.length - count);
  let sum = 0;
  for (let i = 0; i < count; i++) {
    let weight = 1;
    for (let j = 0; j < count; j++) if (j !== i) weight *= (place - base - j) / (i - j);
    sum += weight * values[base + i]!;
  }
  return sum;
}
