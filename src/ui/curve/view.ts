/** Where the curve's axes stand, px. */
import { linearScale, logScale, type Scale } from '../../plot/scale.ts';
import type { Prediction } from '../../state/types.ts';

export interface CurveView {
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly f: Scale;
  readonly db: Scale;
  /** Lowest level drawn, dB. */
  readonly low: number;
  /** Where a curve's letter stands: just above it, each a little further along than the last. */
  tag(frequencies: Float64Array, db: Float64Array, index: number): { readonly x: number; readonly y: number };
}

/** Highest level drawn unless a curve goes higher; steps of 12 dB keep the axis still while a part is changed. */
const USUAL_TOP = 12;
const SPAN = 60;

export function curveView(prediction: Prediction | null, width: number): CurveView {
  const left = 40;
  const right = Math.max(left + 60, width - 10);
  const top = 20;
  const height = width < 560 ? 270 : 300;
  const bottom = height - 30;
  let most = 0;
  for (const voice of prediction?.voices ?? []) {
    for (const level of voice.circuitDb) most = Math.max(most, level);
  }
  const high = Math.max(USUAL_TOP, Math.ceil(most / 12) * 12);
  const f = logScale([20, 20000], [left, right]);
  const db = linearScale([high - SPAN, high], [bottom, top]);
  return {
    height,
    left,
    right,
    top,
    bottom,
    f,
    db,
    low: high - SPAN,
    tag: (frequencies, levels, index) => {
      const at = 60 * 1.7 ** index;
      const i = frequencies.findIndex((v) => v >= at);
      return { x: f.to(at), y: db.to(levels[Math.max(0, i)] ?? 0) - 5 };
    },
  };
}

/** «N» for the neck, «N+B» for neck and bridge. */
export function letter(label: string): string {
  return label
    .split(' + ')
    .map((word) => word.charAt(0).toUpperCase())
    .join('+');
}
