/** How a phrase begins: enough for a picture of its wave and of its spectrum, in a tenth of the time of the whole. */
import type { HeardSheet as Sheet } from '../heard/resolved.ts';
import { fadeIn, highPass, VOLT_GAIN } from './level.ts';
import { renderVolts } from './render.ts';

/** The first pluck and what follows it. */
export interface Beginning {
  /** V at the amplifier's input, or what the loudspeaker makes of it. */
  readonly samples: Float64Array;
  /** Hz. */
  readonly sampleRate: number;
  /** Digital amplitude for one volt of what is not matched, 1/V. */
  readonly voltGain: number;
}

/** s; an analyser's window of 32768 samples at 96 kHz, and six periods of the lowest string, lie within. */
const SECONDS = 0.4;
/** s; where a phrase is cut, its end rings for so long at most. */
const MARGIN = 0.02;

/**
 * The first `SECONDS` of what `render` makes, before its level.
 *
 * Digits: within 1e-4 of its peak; the rest is the direct voltage of the whole phrase, which `render` takes out.
 */
export function beginning(sheet: Sheet): Beginning {
  const { sampleRate } = sheet.listen;
  const samples = renderVolts(sheet, { seconds: SECONDS + MARGIN }).slice(
    0,
    Math.round(SECONDS * sampleRate),
  );
  highPass(samples, sampleRate);
  fadeIn(samples, sampleRate);
  return { samples, sampleRate, voltGain: VOLT_GAIN };
}
