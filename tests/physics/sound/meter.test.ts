/** Loudness and true peak against a general-purpose meter's printed figures. */
import { describe, expect, it } from 'vitest';
import { truePeak } from '../../../src/physics/sound/live/truePeak.ts';
import { render } from '../../../src/physics/sound/render.ts';
import { measureByFfmpeg, versionOfFfmpeg } from '../../reference/ffmpeg/measure.ts';
import stored from '../../reference/ffmpeg/ebur128.json' with { type: 'json' };
import { signals } from '../../reference/ffmpeg/signals.ts';
import { sheetWith } from './live/sheets.ts';
import { integratedLoudness } from '../../fixtures/integratedLoudness.ts';

/** LU; half of it is the rounding of what is printed. */
const LOUDNESS = 0.1;
/** dB; two interpolators of different length between the samples, and the rounding. */
const TRUE_PEAK = 0.3;

const SIGNALS = signals();

describe(`against ffmpeg ${stored.version}`, () => {
  it.each(SIGNALS)('the loudness of the $name is the printed one [tool]', ({ name, samples, sampleRate }) => {
    const printed = stored.measured.find((one) => one.name === name)!;
    expect(Math.abs(integratedLoudness(samples, sampleRate) - printed.loudness)).toBeLessThanOrEqual(
      LOUDNESS,
    );
  });

  it.each(SIGNALS)('the true peak of the $name is the printed one [tool]', ({ name, samples }) => {
    const printed = stored.measured.find((one) => one.name === name)!;
    expect(Math.abs(20 * Math.log10(truePeak(samples)) - printed.truePeak)).toBeLessThanOrEqual(TRUE_PEAK);
  });
});

describe.runIf(versionOfFfmpeg())('a rendered phrase measured by ffmpeg', () => {
  it.each(['as it is', 'matched'] as const)(
    'has the loudness that it is given out with, %s [tool]',
    (level) => {
      const { samples, sampleRate, loudness } = render(
        sheetWith({ fade: 5e-3, listen: { level, seconds: 3 } }),
      );
      expect(Math.abs(measureByFfmpeg(samples, sampleRate).loudness - loudness)).toBeLessThanOrEqual(
        LOUDNESS,
      );
    },
  );
});
