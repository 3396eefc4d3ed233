/** A spectrum as a line, and where a waveform is cut so that its picture stands still. */
import { Pen } from './pen.ts';
import type { Scale } from './scale.ts';

export interface SpectrumInput {
  /** dB at 0, 1, 2 … times `spacing`; −∞ and NaN count as below the picture. */
  readonly levels: ArrayLike<number>;
  /** Hz. */
  readonly spacing: number;
  /** Hz to px; px to the right. */
  readonly x: Scale;
  /** dB to px. */
  readonly y: Scale;
}

/** One point a pixel column, its loudest; where lines lie farther apart than a pixel, each of them. */
export function spectrumPath({ levels, spacing, x, y }: SpectrumInput): string {
  const [lowest, highest] = x.domain;
  const last = Math.min(levels.length - 1, Math.floor(highest / spacing));
  const pen = new Pen(1);
  let k = Math.max(1, Math.ceil(lowest / spacing));
  while (k <= last) {
    // Its right edge; at least this line, whatever rounding makes of an edge that falls on it.
    const end = Math.max(k, Math.ceil(x.from(Math.floor(x.to(k * spacing)) + 1) / spacing) - 1);
    let best = k;
    for (k++; k <= Math.min(end, last); k++) if ((levels[k] as number) > (levels[best] as number)) best = k;
    const px = x.to(best * spacing);
    const py = y.to(held(levels[best] as number, y));
    if (pen.down) pen.line(px, py);
    else pen.move(px, py);
  }
  return pen.text;
}

/** The greatest of the samples in a range: there each period of a tone looks the same. Not finite ones don't count. */
export function crest(samples: ArrayLike<number>, from: number, to: number): number {
  let at = Math.max(0, Math.round(from));
  const end = Math.min(samples.length, Math.round(to));
  for (let i = at + 1; i < end; i++) if ((samples[i] as number) > (samples[at] as number)) at = i;
  return at;
}

/** Within the picture; what isn't a number at its lower edge. */
function held(level: number, y: Scale): number {
  return level - level === 0 ? y.clamp(level) : Math.min(...y.domain);
}
