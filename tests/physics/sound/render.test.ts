/**
 * What is heard against what is predicted: a rendered note, written as a WAV file, read back and measured by Fourier
 * analysis [exact: the same quantities by another road].
 *
 * | quantity | within |
 * | --- | --- |
 * | frequency of every partial | 0.1 cent |
 * | its level at the pluck | 0.05 dB |
 * | its decay | 1 % |
 */
import { describe, expect, it } from 'vitest';
import { predict } from '../../../src/physics/predict.ts';
import { render } from '../../../src/physics/rendered.ts';
import { LEAD_IN } from '../../../src/physics/sound/level.ts';
import { strumOnsets } from '../../../src/physics/sound/score.ts';
import { renderVolts } from '../../../src/physics/sound/render.ts';
import { encodeWav } from '../../../src/physics/sound/wav.ts';
import { decayRate } from '../../../src/physics/string/damping.ts';
import { stopString } from '../../../src/physics/string/note.ts';
import type { Listen, ResolvedSheet as Sheet } from '../../../src/sheet/sheet.ts';
import { furthest } from '../../fixtures/furthest.ts';
import { exampleSheet } from '../../fixtures/sheet.ts';
import { measurePartial, readWav, spectrumPeaks } from './analysis.ts';

const CENTS = 0.1;
const LEVEL_DB = 0.05;
const DECAY = 0.01;

function sheetWith(listen: Partial<Listen>, angle: number): Sheet {
  const sheet = exampleSheet();
  return {
    ...sheet,
    listen: { ...sheet.listen, play: 'string', ...listen, pluck: { ...sheet.listen.pluck, angle } },
  };
}

interface Stretch {
  readonly start: number;
  readonly length: number;
  readonly shift: number;
}

/**
 * Where a partial is measured: those that ring on over a third of a second, those that die fast right after the pluck
 * over at least twelve periods of the fundamental, which is what it takes to tell neighbours apart.
 */
function stretchFor(sampleRate: number, fundamental: number, decay: number): Stretch {
  const seconds = decay < 10 ? 0.34 : 12 / fundamental;
  return {
    start: Math.round((LEAD_IN + 0.006) * sampleRate),
    length: 2 ** Math.round(Math.log2(seconds * sampleRate)),
    shift: Math.round((decay < 10 ? 0.1 : 0.02) * sampleRate),
  };
}

/** How far a partial has fallen, dB, in the middle of the later one of the two stretches. */
function fallDb({ start, length, shift }: Stretch, sampleRate: number, decay: number): number {
  return (20 / Math.LN10) * decay * ((start + shift + length / 2) / sampleRate - LEAD_IN);
}

interface Case {
  readonly string: number;
  readonly fret: number;
  readonly sampleRate: Listen['sampleRate'];
  readonly towards: boolean;
}
const cases: Case[] = [
  { string: 3, fret: 0, sampleRate: 48000, towards: true },
  { string: 1, fret: 5, sampleRate: 44100, towards: true },
  { string: 6, fret: 0, sampleRate: 96000, towards: true },
  { string: 4, fret: 2, sampleRate: 48000, towards: false },
];

describe.each(cases)('string $string at fret $fret, $sampleRate Hz, towards: $towards', (one) => {
  const sheet = sheetWith({ ...one, seconds: 1.5 }, one.towards ? Math.PI / 2 : 0);
  const { partials } = predict(sheet).voices[0]!;
  const sound = render(sheet);
  const wav = readWav(encodeWav(sound.samples, sound.sampleRate, 'float'));
  const note = stopString(sheet.instrument, one.string, one.fret);
  const strongest = Math.max(...partials.map(({ pluckedDb }) => pluckedDb));
  const expected = partials.map((partial) => {
    const decay = (3 * Math.LN10) / partial.t60.asPlucked;
    return { ...partial, decay, stretch: stretchFor(one.sampleRate, note.frequency, decay) };
  });
  // What has fallen 110 dB below the strongest start drowns in the rounding of 32-bit samples and in the window's skirts.
  const loud = expected.filter(
    ({ pluckedDb, decay, stretch }) => pluckedDb - fallDb(stretch, one.sampleRate, decay) > strongest - 110,
  );

  it('has most of the predicted partials loud enough to measure', () => {
    expect(loud.length).toBeGreaterThan(30);
    expect(loud.length / partials.length).toBeGreaterThan(0.4);
  });

  it('has every one of them at its frequency, level and decay', () => {
    const spectra = new Map<number, number[]>();
    for (const partial of loud) {
      const { stretch } = partial;
      const peaks = spectra.get(stretch.length) ?? spectrumPeaks(wav, stretch.start, stretch.length);
      spectra.set(stretch.length, peaks);
      const near = peaks.reduce((best, peak) =>
        Math.abs(peak - partial.frequency) < Math.abs(best - partial.frequency) ? peak : best,
      );
      const found = measurePartial(wav, near, stretch, LEAD_IN);
      const label = `partial ${partial.n}`;
      expect(Math.abs(1200 * Math.log2(found.frequency / partial.frequency)), label).toBeLessThan(CENTS);
      const levelDb = 20 * Math.log10(found.amplitude / sound.gain / 0.1);
      expect(Math.abs(levelDb - partial.pluckedDb), label).toBeLessThan(LEVEL_DB);
      expect(Math.abs(found.decay / partial.decay - 1), label).toBeLessThan(DECAY);
    }
  });
});

describe('the two-stage decay', () => {
  it('of an oblique pluck is fast first and slow later [practice]', () => {
    const sheet = sheetWith({ string: 5, seconds: 20 }, 0.15);
    const volts = { samples: renderVolts(sheet), sampleRate: 48000 };
    const f = predict({ ...sheet, listen: { ...sheet.listen } }).voices[0]!.partials[0]!.frequency;
    const at = (seconds: number) =>
      measurePartial(volts, f, { start: seconds * 48000, length: 24000, shift: 24000 }, 0).decay;
    expect(at(0.5)).toBeGreaterThan(1.2 * at(17));
  });
});

describe('superposition [exact]', () => {
  const sheet = exampleSheet();
  const listen: Listen = { ...sheet.listen, strum: 0, seconds: 0.5 };

  it('a chord is the sum of its strings', () => {
    const chord = renderVolts({ ...sheet, listen });
    const sum = new Float64Array(chord.length);
    for (let s = 0; s < 6; s++) {
      const alone = listen.chord.map((fret, i) => (i === s ? fret : null));
      renderVolts({ ...sheet, listen: { ...listen, chord: alone } }).forEach((v, i) => (sum[i]! += v));
    }
    const peak = chord.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
    // Modes are left out at −144 dB of the loudest, up to a thousand of them at different times.
    expect(furthest(0, chord.length, (i) => chord[i]! - sum[i]!)).toBeLessThan(2e-6 * peak);
  });

  it('twice the depth is twice the voltage', () => {
    const once = renderVolts({ ...sheet, listen });
    const pluck = { ...listen.pluck, depth: 2 * listen.pluck.depth };
    const twice = renderVolts({ ...sheet, listen: { ...listen, pluck } });
    expect(furthest(0, once.length, (i) => 2 * once[i]! - twice[i]!)).toBeLessThan(1e-12);
  });
});

describe('sample rates', () => {
  it('give the same partials within 0.01 dB and 0.01 cent [exact]', () => {
    const measure = (sampleRate: Listen['sampleRate']) => {
      const sheet = sheetWith({ string: 2, fret: 3, sampleRate, seconds: 1 }, Math.PI / 2);
      const volts = { samples: renderVolts(sheet), sampleRate };
      const note = stopString(sheet.instrument, 2, 3);
      return predict(sheet)
        .voices[0]!.partials.filter(({ pluckedDb }) => pluckedDb > -90)
        .map(({ frequency }) => ({ frequency, decay: decayRate(note, frequency, 'towards') }))
        .filter(({ decay }) => decay < 40)
        .map(({ frequency, decay }) =>
          measurePartial(volts, frequency, stretchFor(sampleRate, note.frequency, decay), LEAD_IN),
        );
    };
    const [low, middle, high] = [measure(44100), measure(48000), measure(96000)];
    expect(low.length).toBeGreaterThan(20);
    for (const other of [middle, high]) {
      low.forEach((partial, i) => {
        expect(Math.abs(20 * Math.log10(partial.amplitude / other[i]!.amplitude))).toBeLessThan(0.01);
        expect(Math.abs(1200 * Math.log2(partial.frequency / other[i]!.frequency))).toBeLessThan(0.01);
      });
    }
  });
});

describe('a strum', () => {
  it('starts with the lowest string and ends with the highest, evenly', () => {
    const { instrument } = exampleSheet();
    const notes = [1, 2, 4, 5].map((string) => stopString(instrument, string, 0));
    const onsets = strumOnsets(notes, 0.06);
    [0.06, 0.04, 0.02, 0].forEach((onset, i) => {
      expect(onsets[i]).toBeCloseTo(onset, 12);
    });
    expect(strumOnsets(notes.slice(0, 1), 0.06)).toEqual([0]);
  });

  it('is silent until its string is plucked', () => {
    const sheet = exampleSheet();
    const chord = [0, null, null, null, null, 0];
    const strummed = renderVolts({ ...sheet, listen: { ...sheet.listen, chord, strum: 0.2, seconds: 0.5 } });
    const low = renderVolts({
      ...sheet,
      listen: { ...sheet.listen, chord: [null, null, null, null, null, 0], strum: 0.2, seconds: 0.5 },
    });
    const second = Math.floor((0.2 + LEAD_IN) * 48000);
    const difference = strummed.map((v, i) => Math.abs(v - low[i]!));
    const before = Math.max(...difference.subarray(0, second - 100));
    const after = Math.max(...difference.subarray(second));
    // What is left before is the ringing of a band limited at half the sample rate.
    expect(before).toBeLessThan(1e-3 * after);
  });
});
