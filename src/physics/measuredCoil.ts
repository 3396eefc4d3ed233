/** What meters would have read of a coil, from a measured curve of it. */
import { Alone, leadCapacitance, leadResistance, UNLOADED, type Load } from './alone.ts';
import { changed } from './follow.ts';
import type { HeardPickup } from './heard/resolved.ts';
import { peakOf, widths } from './measuredShape.ts';
import { denseLu, denseSolve } from './numerics/denseLu.ts';

/** At the leads: Ω at the pickup's own temperature, H as a bridge reads it, F with nothing there; the level's peak in Hz. null: not said. */
export interface CoilRead {
  readonly resistance: number | null;
  readonly inductance: number | null;
  readonly capacitance: number | null;
  readonly peak: number | null;
}

/** A measured curve of a pickup by itself: Hz, rising; dB of |Z| over 1 Ω, or of a level. */
export interface CoilMeasured {
  readonly of: 'impedance' | 'alone';
  readonly frequencies: Float64Array;
  readonly measured: Float64Array;
  readonly probe: Load;
  /** Hz. */
  readonly bridge: number;
}

/** Points that are enough to find three figures. */
const POINTS = 240;
const ROUNDS = 25;
/** Steps in ln of a figure: for a slope; and at which the search ends. */
const STEP = 1e-4;
const CLOSE = 1e-7;
/** No step is longer: a factor of e^0.5. */
const LONGEST = 0.5;
/** What a curve is taken to be good for at best, dB; and the spread of a figure, in ln, beyond which it is not said. */
const BEST = 0.1;
const SPREAD = 0.04;
/** Share of |Z| from which on it is R's. */
const MOST_OF = 0.7;
/** Of the figures before anything is measured, in ln: so wide that it holds only what a curve says nothing of. */
const BEFOREHAND = 1;

/**
 * R, L and C with which the pickup's |Z| lies on the measured one, by least squares of dB (Levenberg–Marquardt) over ln R, ln L
 * and ln C; several coils are taken to differ alike, and cores to scale with L. Only a figure that the curve determines is said:
 * its spread, from the normal equations and what is left between the curves, is below 4 %; and it shows by itself, not only in
 * how high the peak is, which all losses bend: R is most of |Z| at the lowest frequency, the peak lies in the band for C, and
 * above its beginning for L. Of a level only the peak is read: by itself it does not tell L from C.
 *
 * @param weights as Alone has them @param curve units stand at the type
 */
export function coilRead(heard: HeardPickup, weights: readonly number[], curve: CoilMeasured): CoilRead {
  const { of, probe, bridge } = curve;
  if (of === 'alone') {
    const level = new Alone(heard, probe, weights);
    const [measured, predicted] = [
      peakOf(curve.frequencies, curve.measured),
      peakOf(curve.frequencies, curve.frequencies.map(level.levelDb)),
    ];
    const peak = level.features().resonance?.frequency;
    return {
      resistance: null,
      inductance: null,
      capacitance: null,
      // Both by the same points: what those miss of a peak is missed in both.
      peak: !measured || !peak ? null : predicted ? (peak * measured) / predicted : measured,
    };
  }
  const { figures, determined } = fitted(heard, weights, thinned(curve), probe);
  const found = scaled(heard, figures);
  const top = curve.measured.reduce((t, level, i) => (level > curve.measured[t]! ? i : t), 0);
  const R = leadResistance(found);
  const plain = R > MOST_OF * 10 ** (curve.measured[0]! / 20);
  return {
    resistance: determined[0] && plain ? R : null,
    inductance: determined[1] && top > 0 ? new Alone(found, UNLOADED, weights).readInductance(bridge) : null,
    capacitance: determined[2] && top < curve.measured.length - 1 ? leadCapacitance(found) : null,
    peak: null,
  };
}

/** ln of what R, L and C are over those reckoned. */
type Figures = readonly [r: number, l: number, c: number];

function scaled(heard: HeardPickup, [r, l, c]: Figures): HeardPickup {
  const C =
    (heard.rows.reduce((sum, { coil }) => sum + coil.capacitance, 0) / heard.rows.length) * Math.exp(c);
  const { rows, ...rest } = changed(heard, Math.exp(l), C);
  return {
    ...rest,
    rows: rows.map((row) => ({
      ...row,
      coil: { ...row.coil, resistance: row.coil.resistance * Math.exp(r) },
    })),
  };
}

interface Points {
  readonly frequencies: Float64Array;
  readonly measured: Float64Array;
}

/** Of many points as many as are needed, evenly by their place in ln f. */
function thinned({ frequencies, measured }: Points): Points {
  const n = frequencies.length;
  if (n <= POINTS) return { frequencies, measured };
  const span = Math.log(frequencies[n - 1]! / frequencies[0]!);
  const kept: number[] = [];
  let next = 0;
  for (let i = 0; i < n; i++) {
    if (Math.log(frequencies[i]! / frequencies[0]!) < next - 1e-12) continue;
    kept.push(i);
    next = (span * kept.length) / POINTS;
  }
  return {
    frequencies: Float64Array.from(kept, (i) => frequencies[i]!),
    measured: Float64Array.from(kept, (i) => measured[i]!),
  };
}

function fitted(
  heard: HeardPickup,
  weights: readonly number[],
  { frequencies, measured }: Points,
  probe: Load,
): { figures: Figures; determined: readonly boolean[] } {
  const n = frequencies.length;
  const share = widths(frequencies).map((width) => Math.sqrt(width * n));
  const residuals = (figures: Figures): Float64Array => {
    const alone = new Alone(scaled(heard, figures), probe, weights);
    return frequencies.map((f, i) => share[i]! * (measured[i]! - alone.impedanceDb(f)));
  };
  const cost = (r: Float64Array): number => r.reduce((sum, v) => sum + v * v, 0);
  let figures: Figures = [0, 0, startOfC(heard, weights, { frequencies, measured }, probe)];
  let rest = residuals(figures);
  let damping = 1e-3;
  let normal = normalOf(figures, rest, residuals);
  for (let round = 0; round < ROUNDS; round++) {
    const step = solved(normal, damping);
    const next = figures.map(
      (v, k) => v + Math.max(-LONGEST, Math.min(LONGEST, step[k]!)),
    ) as unknown as Figures;
    const tried = residuals(next);
    if (cost(tried) < cost(rest)) {
      const moved = Math.max(...next.map((v, k) => Math.abs(v - figures[k]!)));
      figures = next;
      rest = tried;
      damping /= 5;
      normal = normalOf(figures, rest, residuals);
      if (moved < CLOSE) break;
    } else {
      damping *= 8;
      if (damping > 1e6) break;
    }
  }
  const noise = Math.max(BEST, Math.sqrt(cost(rest) / n));
  return { figures, determined: [0, 1, 2].map((k) => spreadOf(normal, k, noise) < SPREAD) };
}

interface Normal {
  /** JᵀJ, row by row, and Jᵀr. */
  readonly matrix: Float64Array;
  readonly right: Float64Array;
}

function normalOf(figures: Figures, rest: Float64Array, residuals: (f: Figures) => Float64Array): Normal {
  const slopes = [0, 1, 2].map((k) => {
    const moved = residuals(figures.map((v, j) => (j === k ? v + STEP : v)) as unknown as Figures);
    return moved.map((v, i) => (rest[i]! - v) / STEP);
  });
  const dot = (a: Float64Array, b: Float64Array): number => a.reduce((sum, v, i) => sum + v * b[i]!, 0);
  const matrix = Float64Array.from({ length: 9 }, (_, at) =>
    dot(slopes[Math.floor(at / 3)]!, slopes[at % 3]!),
  );
  return { matrix, right: Float64Array.from(slopes, (slope) => dot(slope, rest)) };
}

function solved({ matrix, right }: Normal, damping: number): Float64Array {
  const damped = matrix.map((v, at) => (at % 4 === 0 ? v * (1 + damping) + 1e-9 : v));
  const step = Float64Array.from(right);
  denseSolve(denseLu(damped, 3), step);
  return step;
}

/** Of a figure, in ln: the square root of its place in the inverse of the normal equations. @param noise dB a point */
function spreadOf({ matrix }: Normal, k: number, noise: number): number {
  const held = matrix.map((v, at) => v / noise ** 2 + (at % 4 === 0 ? 1 / BEFOREHAND ** 2 : 0));
  const unit = Float64Array.from({ length: 3 }, (_, j) => (j === k ? 1 : 0));
  denseSolve(denseLu(held, 3), unit);
  return Math.sqrt(Math.max(0, unit[k]!));
}

/** ln of C's ratio with which the peaks lie about one above the other: near enough for the search to find down. */
function startOfC(heard: HeardPickup, weights: readonly number[], points: Points, probe: Load): number {
  const alone = new Alone(heard, probe, weights);
  const there = peakOf(points.frequencies, points.measured);
  const own = peakOf(points.frequencies, points.frequencies.map(alone.impedanceDb));
  if (!there || !own) return 0;
  const C = leadCapacitance(heard);
  const wanted = (C + probe.capacitance) * (own / there) ** 2 - probe.capacitance;
  return Math.log(Math.max(wanted, C / 5) / C);
}
