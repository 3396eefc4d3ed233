/**
 * Changing a figure by hand, in value space, so that pointer and keyboard share one path. Keys follow the slider
 * pattern of the WAI-ARIA Authoring Practices: arrows a step, Page keys a larger one, Home and End the limits.
 */

/** A figure's limits and steps. */
export interface Figure {
  readonly min: number;
  readonly max: number;
  /** Linear: in the value's unit. Log: as a fraction of the value (0.01 = 1 %), below 1. */
  readonly step: number;
  /** What Page Up and Page Down change, in the same measure as `step`. */
  readonly page: number;
  readonly scale: 'linear' | 'log';
}

/** A tenth, for Shift or a fine mode. */
const FINE = 0.1;

/**
 * The value after the pointer has moved by `pixels`, snapped and held within the limits.
 *
 * @param pixelsPerUnit linear: pixels for one unit of the value; log: pixels for one decade. Negative when the value
 *   grows against the pixel axis.
 */
export function dragValue(
  figure: Figure,
  start: number,
  pixels: number,
  pixelsPerUnit: number,
  fine = false,
): number {
  return moveGrip(figure, grip(start), pixels, pixelsPerUnit, fine).value;
}

/** A drag under way. `exact` is neither snapped nor held, so that the handle waits for a pointer beyond its limit. */
export interface Grip {
  readonly exact: number;
  readonly value: number;
}

/** A drag that begins at a value. */
export function grip(value: number): Grip {
  return { exact: value, value };
}

/**
 * The drag after the pointer's next movement of `pixels` (since the last call). Fine moves go a tenth as far and may
 * be switched on and off in mid-drag without a jump.
 */
export function moveGrip(
  figure: Figure,
  from: Grip,
  pixels: number,
  pixelsPerUnit: number,
  fine = false,
): Grip {
  const units = ((fine ? FINE : 1) * pixels) / pixelsPerUnit;
  if (!Number.isFinite(units)) return from;
  const exact = figure.scale === 'log' ? from.exact * 10 ** units : from.exact + units;
  return { exact, value: units === 0 ? from.value : settle(figure, exact, fine) };
}

/** The new value for a key, or null for a key that means nothing here. */
export function keyStep(key: string, value: number, figure: Figure, fine = false): number | null {
  switch (key) {
    case 'ArrowRight':
    case 'ArrowUp':
      return stepBy(figure, value, figure.step, 1, fine);
    case 'ArrowLeft':
    case 'ArrowDown':
      return stepBy(figure, value, figure.step, -1, fine);
    case 'PageUp':
      return stepBy(figure, value, figure.page, 1, fine);
    case 'PageDown':
      return stepBy(figure, value, figure.page, -1, fine);
    case 'Home':
      return figure.min;
    case 'End':
      return figure.max;
    default:
      return null;
  }
}

function stepBy(figure: Figure, value: number, step: number, sign: 1 | -1, fine: boolean): number {
  const amount = fine ? step * FINE : step;
  const next = figure.scale === 'log' ? value * (1 + amount) ** sign : value + sign * amount;
  return settle(figure, next, fine);
}

/** Snaps to the step (a tenth of it when fine) and holds within the limits, which need not lie on a step. */
export function settle(figure: Figure, value: number, fine = false): number {
  if (value >= figure.max) return figure.max;
  if (value <= figure.min) return figure.min;
  const step = fine ? figure.step * FINE : figure.step;
  const snapped = figure.scale === 'log' ? snapDecimal(value, step) : snapLinear(value, step);
  return Math.min(Math.max(snapped, figure.min), figure.max);
}

/** Multiples of the step counted from zero, so that the figure reads round whatever the limits are. */
function snapLinear(value: number, step: number): number {
  if (!(step > 0)) return value;
  const count = Math.round(value / step);
  const perUnit = Math.round(1 / step);
  // 112 / 10000 is the double that «0.0112» names; 112 × 0.0001 may be its neighbour. The margin
  // covers the rounding of 1/step when the step is a decimal fraction.
  const decimal = perUnit >= 1 && Math.abs(1 / step - perUnit) < 1e-9 * perUnit;
  return (decimal ? count / perUnit : count * step) + 0;
}

/** To the decimal grid whose unit is the largest power of ten within one step: 7272 → 7270 at 1 %. */
function snapDecimal(value: number, fraction: number): number {
  if (!(value > 0 && value < Infinity && fraction > 0)) return value;
  // The margin keeps a step of exactly a power of ten (1 % of 100) from falling to the next lower one.
  const exponent = Math.floor(Math.log10(value * fraction) + 1e-9);
  return exponent < 0
    ? Math.round(value * 10 ** -exponent) / 10 ** -exponent
    : Math.round(value / 10 ** exponent) * 10 ** exponent;
}
