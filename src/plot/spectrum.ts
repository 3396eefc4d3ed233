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
  const first = Math.max(1, Math.ceil(lowest / spacing));
  const last = Math.min(levels.length - 1, Math.floor(highest / spacing));
  const pen = new Pen(1);
  let column = NaN;
  let best = first;
  const put = (): void => {
    const px = x.to(best * spacing);
    const py = y.to(held(levels[best] as number, y));
    if (pen.down) pen.line(px, py);
    else pen.move(px, py);
  };
  for (let k = first; k <= last; k++) {
    const at = Math.floor(x.to(k * spacing));
    if (at === column) {
      if ((levels[k] as number) > (levels[best] as number)) best = k;
      continue;
    }
    if (k > first) put();
    column = at;
    best = k;
  }
  if (last >= first) put();
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
