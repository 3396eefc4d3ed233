/** A sound's samples as a line for the scope. */
import { Pen } from './pen.ts';

export interface WaveInput {
  readonly samples: ArrayLike<number>;
  /** First sample shown; 0 unless given. May be a fraction. */
  readonly from?: number;
  /** One past the last sample shown; all of them unless given. */
  readonly to?: number;
  /** Left edge and width of the picture, px. */
  readonly left?: number;
  readonly width: number;
  /** y of silence, px. */
  readonly centre: number;
  /** Height of `fullScale` above silence, px; louder samples are cut there. */
  readonly halfHeight: number;
  /** 1 unless given. */
  readonly fullScale?: number;
}

/**
 * A line through the samples when there are fewer than two a pixel; otherwise each pixel column's least and greatest
 * sample at their places, so that no peak is lost. Samples that are not finite are drawn as silence.
 */
export function wavePath(input: WaveInput): string {
  const { samples, left = 0, width, centre, halfHeight, fullScale = 1 } = input;
  const from = Math.max(0, input.from ?? 0);
  const to = Math.min(samples.length, input.to ?? samples.length);
  if (!(to - from >= 1 && width > 0)) return '';
  const y = (v: number): number => centre - halfHeight * Math.min(1, Math.max(-1, v / fullScale));
  const first = Math.ceil(from);
  const last = Math.ceil(to) - 1;
  const stride = width / (to - from);
  const pen = new Pen(2);
  const put = (x: number, v: number): void => {
    const py = y(v - v === 0 ? v : 0);
    if (pen.down) pen.line(x, py);
    else pen.move(x, py);
  };
  if (stride > 0.5) {
    for (let i = first; i <= last; i++) put(left + (i - from) * stride, samples[i] as number);
    return pen.text;
  }
  const columns = Math.floor(width);
  const perColumn = (to - from) / columns;
  for (let c = 0; c < columns; c++) {
    const start = Math.max(first, Math.ceil(from + c * perColumn));
    const end = Math.min(last, Math.ceil(from + (c + 1) * perColumn) - 1);
    let low = start;
    let high = start;
    for (let i = start + 1; i <= end; i++) {
      const v = samples[i] as number;
      if (v < (samples[low] as number)) low = i;
      if (v > (samples[high] as number)) high = i;
    }
    const [one, other] = [Math.min(low, high), Math.max(low, high)];
    put(left + (one - from) * stride, samples[one] as number);
    if (low !== high) put(left + (other - from) * stride, samples[other] as number);
  }
  return pen.text;
}
