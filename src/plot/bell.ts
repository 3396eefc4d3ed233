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

/** The bell as path texts, px. */
export function bell({ x, value, scale, baseline, height, reference }: BellInput): Bell {
  const n = Math.min(x.length, value.length);
  const top = reference ?? greatest(value);
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

/** Greatest magnitude. */
function greatest(value: ArrayLike<number>): number {
  let most = 0;
  for (let i = 0; i < value.length; i++) {
    const magnitude = Math.abs(value[i] as number);
    if (magnitude > most) most = magnitude;
  }
  return most;
}
