/** The reach drawn as a bell that stands on the string. */
import { areaPath, linePath } from './path.ts';
import type { Scale } from './scale.ts';

export interface BellInput {
  /** Distance from the saddle, m (or any unit that `scale` takes), increasing. */
  readonly x: ArrayLike<number>;
  /** Any unit; zero stands on the string. */
  readonly value: ArrayLike<number>;
  readonly scale: Scale;
  /** y of the string, px. */
  readonly baseline: number;
  /** Height of `reference`, px. */
  readonly height: number;
  /** Value that is drawn `height` high; the greatest magnitude of `value` unless given. */
  readonly reference?: number;
}

export interface Bell {
  /** Closed, for the fill. */
  readonly area: string;
  /** Open, for the outline. */
  readonly line: string;
}

export function bell({ x, value, scale, baseline, height, reference }: BellInput): Bell {
  const n = Math.min(x.length, value.length);
  const top = reference ?? Math.abs(maximum(value).value);
  const px = new Float64Array(n);
  const py = new Float64Array(n);
  // A bell of zeros lies flat on the string instead of becoming NaN.
  const unit = top > 0 ? height / top : 0;
  for (let i = 0; i < n; i++) {
    px[i] = scale.to(x[i] as number);
    py[i] = baseline - (value[i] as number) * unit;
  }
  return { area: areaPath(px, py, baseline), line: linePath(px, py) };
}

export interface HalfMaximum {
  /** Where the outermost crossings of half the greatest magnitude lie; null where the samples end above it. */
  readonly left: number | null;
  readonly right: number | null;
  /** Place and signed value of the greatest magnitude. */
  readonly at: number;
  readonly peak: number;
}

/** Crossings by linear interpolation between samples. Throws RangeError when there are no samples. */
export function halfMaximum(x: ArrayLike<number>, value: ArrayLike<number>): HalfMaximum {
  const n = Math.min(x.length, value.length);
  if (n === 0) throw new RangeError('A bell must have at least one sample; got none.');
  const top = maximum(value);
  const sign = top.value < 0 ? -1 : 1;
  const half = Math.abs(top.value) / 2;
  const level = (i: number): number => sign * (value[i] as number) - half;
  const crossing = (from: number, step: 1 | -1): number | null => {
    for (let i = from; i + step >= 0 && i + step < n; i += step) {
      const a = level(i);
      const b = level(i + step);
      if (a < 0 && b >= 0) {
        const t = a / (a - b);
        return (x[i] as number) * (1 - t) + (x[i + step] as number) * t;
      }
      if (a >= 0) return null;
    }
    return null;
  };
  return { left: crossing(0, 1), right: crossing(n - 1, -1), at: x[top.index] as number, peak: top.value };
}

/** Greatest magnitude, with its sign. */
function maximum(value: ArrayLike<number>): { index: number; value: number } {
  let index = 0;
  for (let i = 1; i < value.length; i++) {
    if (Math.abs(value[i] as number) > Math.abs(value[index] as number)) index = i;
  }
  return { index, value: value[index] ?? 0 };
}
