/** Scales between values and pixels, and the ticks that belong to them. No DOM: numbers in, numbers and labels out. */

export interface Scale {
  readonly kind: 'linear' | 'log';
  /** Values at the two ends; the first may be the greater. */
  readonly domain: readonly [number, number];
  /** Pixels at the two ends; the first may be the greater (y axes, and strings drawn with the nut on the left). */
  readonly range: readonly [number, number];
  /** Value → pixel; values outside the domain are extrapolated. */
  to(value: number): number;
  /** Pixel → value. */
  from(pixel: number): number;
  /** The value, held inside the domain. */
  clamp(value: number): number;
}

/** Throws RangeError when the domain is empty or not finite. */
export function linearScale(domain: readonly [number, number], range: readonly [number, number]): Scale {
  checkSpan(domain);
  const [d0, d1] = domain;
  const [r0, r1] = range;
  const slope = (r1 - r0) / (d1 - d0);
  return {
    kind: 'linear',
    domain,
    range,
    to: (value) => r0 + (value - d0) * slope,
    from: (pixel) => d0 + (pixel - r0) / slope,
    clamp: (value) => hold(value, d0, d1),
  };
}

/** Throws RangeError when the domain is empty, not finite or not positive. Values ≤ 0 map to NaN or −∞. */
export function logScale(domain: readonly [number, number], range: readonly [number, number]): Scale {
  checkSpan(domain);
  const [d0, d1] = domain;
  const [r0, r1] = range;
  if (!(d0 > 0 && d1 > 0)) {
    throw new RangeError(`Both ends of a logarithmic scale must be positive; got ${d0} and ${d1}.`);
  }
  const slope = (r1 - r0) / Math.log(d1 / d0);
  return {
    kind: 'log',
    domain,
    range,
    to: (value) => r0 + Math.log(value / d0) * slope,
    from: (pixel) => d0 * Math.exp((pixel - r0) / slope),
    clamp: (value) => hold(value, d0, d1),
  };
}

export interface Tick {
  readonly value: number;
  /** Empty for a minor tick. Negative figures carry the minus sign U+2212. */
  readonly label: string;
  readonly major: boolean;
}

// Ticks are compared with the ends after a multiplication by a power of ten: a few ulp, far below what is drawn.
const EDGE = 1e-9;

/** Ticks at 1 … 9 of every decade from lo to hi (both > 0); 1, 2 and 5 are major: 20, 50, 100, … 20 k. */
export function logTicks(lo: number, hi: number): Tick[] {
  if (!(lo > 0 && hi >= lo && hi < Infinity)) {
    throw new RangeError(`A logarithmic axis must run upwards between positive ends; got ${lo} to ${hi}.`);
  }
  const ticks: Tick[] = [];
  for (let decade = Math.floor(Math.log10(lo)) - 1; decade <= Math.ceil(Math.log10(hi)); decade++) {
    for (let digit = 1; digit <= 9; digit++) {
      const value = decade < 0 ? digit / 10 ** -decade : digit * 10 ** decade;
      if (value < lo * (1 - EDGE) || value > hi * (1 + EDGE)) continue;
      const major = digit === 1 || digit === 2 || digit === 5;
      ticks.push({ value, label: major ? siLabel(value) : '', major });
    }
  }
  return ticks;
}

/** The step of 1, 2 or 5 times a power of ten that divides the span into about `count` parts. */
export function niceStep(span: number, count: number): number {
  if (!(span > 0 && span < Infinity && count > 0)) {
    throw new RangeError(`A span to be divided must be positive and finite; got ${span} in ${count} parts.`);
  }
  const rough = span / count;
  const decade = Math.floor(Math.log10(rough));
  const mantissa = rough / 10 ** decade;
  // The geometric means of 1, 2, 5 and 10: the nearest nice step on a logarithmic measure.
  const digit = mantissa < Math.SQRT2 ? 1 : mantissa < Math.sqrt(10) ? 2 : mantissa < Math.sqrt(50) ? 5 : 10;
  return decade < 0 ? digit / 10 ** -decade : digit * 10 ** decade;
}

export interface LinearTickOptions {
  /** Distance of the ticks; a nice step for about five of them when left out. */
  readonly step?: number;
  /** Write a plus sign before positive figures, as levels in decibels have it. */
  readonly signed?: boolean;
}

/** Ticks at the multiples of the step from lo to hi; all are major. */
export function linearTicks(lo: number, hi: number, options: LinearTickOptions = {}): Tick[] {
  const step = options.step ?? niceStep(hi - lo, 5);
  if (!(step > 0)) throw new RangeError(`The step of an axis must be positive; got ${step}.`);
  const digits = decimals(step);
  const ticks: Tick[] = [];
  const last = Math.floor(hi / step + EDGE);
  for (let i = Math.ceil(lo / step - EDGE); i <= last; i++) {
    // `+ 0` turns −0 into 0.
    const value = Number((i * step).toPrecision(12)) + 0;
    const figure = Math.abs(value).toFixed(digits);
    const sign = value < 0 ? '\u2212' : value > 0 && options.signed ? '+' : '';
    ticks.push({ value, label: sign + figure, major: true });
  }
  return ticks;
}

/** How many decimals the figure has: 2 for 0.25. Twelve at most, for steps that are no decimal fraction. */
function decimals(step: number): number {
  let digits = 0;
  while (digits < 12 && Math.abs(Math.round(step * 10 ** digits) / 10 ** digits - step) > EDGE * step)
    digits++;
  return digits;
}

function siLabel(value: number): string {
  if (value >= 1e6) return `${trim(value / 1e6)} M`;
  if (value >= 1e3) return `${trim(value / 1e3)} k`;
  return trim(value);
}

function trim(value: number): string {
  return String(Number(value.toPrecision(6)));
}

function hold(value: number, a: number, b: number): number {
  const lo = Math.min(a, b);
  const hi = Math.max(a, b);
  return value < lo ? lo : value > hi ? hi : value;
}

function checkSpan([a, b]: readonly [number, number]): void {
  if (!Number.isFinite(a) || !Number.isFinite(b) || a === b) {
    throw new RangeError(`The ends of a scale must be finite and different; got ${a} and ${b}.`);
  }
}
