/**
 * The live engine against the rendered phrase of the same sheet [exact: the same sound by another road]. Rendered: modes
 * by their closed form, flux bent and differentiated over the whole phrase, circuit on the spectrum. Live: modes block by
 * block, slope of the curve times speed, circuit as a filter of finite length.
 *
 * | what | within |
 * | --- | --- |
 * | every kind of phrase, every sample rate, straight and bent | −80 dB of the phrase's power |
 * | the steepest curves and hardest plucks, with the same partials, below 20 kHz | −80 dB |
 * | what folds back in the rendered phrase, against sixteenfold oversampling | −80 dB |
 */
import { describe, expect, it } from 'vitest';
import { powerOfTwo, realFft } from '../../../../src/physics/numerics/fft.ts';
import { highPass, MATCHED_LOUDNESS } from '../../../../src/physics/sound/level.ts';
import { LIVE_DELAY, LiveEngine } from '../../../../src/physics/sound/live/engine.ts';
import { liveSetup } from '../../../../src/physics/sound/live/setup.ts';
import { LIVE_LIMIT } from '../../../../src/physics/sound/live/types.ts';
import { renderVolts } from '../../../../src/physics/sound/render.ts';
import type { Listen, ResolvedSheet as Sheet } from '../../../../src/sheet/sheet.ts';
import { resolve } from '../../../../src/physics/heard/resolve.ts';
import { withStrings } from '../../../../src/sheet/restring.ts';
import { STRING_SETS } from '../../../../src/sheet/strings.ts';
import { builtSheet } from '../../../fixtures/builtSheet.ts';
import { sheetWith } from './sheets.ts';
import { integratedLoudness } from '../../../fixtures/integratedLoudness.ts';
import { fieldsOf } from '../../../fixtures/solved.ts';

const AGREEMENT_DB = -80;
/** Small enough for the limiter to have nothing to do. */
const PEAK = 0.1;
/** s before the end; there the rendered phrase is cut and rings in its band limit. */
const END = 0.02;

const peakOf = (signal: Float64Array) => signal.reduce((most, v) => Math.max(most, Math.abs(v)), 0);

/** Live sound in the place of the rendered one, and that one as the output stage leaves it. */
function both(sheet: Sheet, volts: Float64Array): { live: Float64Array; rendered: Float64Array } {
  const { sampleRate } = sheet.listen;
  const gain = PEAK / peakOf(volts);
  const engine = new LiveEngine(sampleRate);
  engine.play(liveSetup(sheet, sampleRate, gain));
  const out = new Float64Array(volts.length);
  engine.process(out);
  const rendered = volts.map((v) => gain * v);
  highPass(rendered, sampleRate);
  const length = Math.floor(volts.length - END * sampleRate - LIVE_DELAY);
  return { live: out.slice(LIVE_DELAY, LIVE_DELAY + length), rendered: rendered.slice(0, length) };
}

/** Power of the difference over that of b, dB. */
function differenceDb(a: Float64Array, b: Float64Array): number {
  let off = 0;
  let power = 0;
  for (let i = 0; i < b.length; i++) {
    off += (a[i]! - b[i]!) ** 2;
    power += b[i]! ** 2;
  }
  return 10 * Math.log10(off / power);
}

/** Power below `limit`, after a fade at the end so that the cut doesn't spill. */
function powerBelow(signal: Float64Array, sampleRate: number, limit: number): number {
  const size = powerOfTwo(signal.length);
  const faded = new Float64Array(size);
  const fade = 0.05 * sampleRate;
  signal.forEach((v, i) => {
    faded[i] = v * (0.5 - 0.5 * Math.cos(Math.PI * Math.min(1, (signal.length - i) / fade)));
  });
  const spectrum = new Float64Array(size + 2);
  realFft(size).forward(faded, spectrum);
  let sum = 0;
  for (let k = 0; k <= size && ((k / 2) * sampleRate) / size < limit; k += 2) {
    sum += spectrum[k]! ** 2 + spectrum[k + 1]! ** 2;
  }
  return sum;
}

/** With a second coil in every pickup, all of them too unlike to be filtered as one. */
function unlike(sheet: Sheet): Sheet {
  const pickups = sheet.pickups.map((pickup, i) => ({
    ...pickup,
    rows: [0, 1].map((r) => {
      const row = pickup.rows[0]!;
      return { ...row, offset: 0.018 * r, coil: { ...row.coil, inductance: 2 + i + 0.3 * r } };
    }),
  }));
  return { ...sheet, pickups };
}

const plays: Listen['play'][] = ['string', 'chord', 'arpeggio', 'scale', 'progression', 'line'];

describe('the live sound is the rendered one', () => {
  const rates: Listen['sampleRate'][] = [44100, 48000, 96000];
  it.each(rates.flatMap((sampleRate) => [null, 5e-3, 2e-3].map((fade) => [sampleRate, fade] as const)))(
    'of a strummed chord at %i Hz with a fade of %f m',
    (sampleRate, fade) => {
      const sheet = sheetWith({ fade, listen: { sampleRate, seconds: 0.6 } });
      const { live, rendered } = both(sheet, renderVolts(sheet));
      expect(differenceDb(live, rendered)).toBeLessThan(AGREEMENT_DB);
    },
  );

  it.each(plays.flatMap((play) => [null, 4e-3].map((fade) => [play, fade] as const)))(
    'of a phrase of kind %s with a fade of %f m',
    (play, fade) => {
      const sheet = sheetWith({ fade, listen: { play, string: 5, fret: 3, tempo: 240, seconds: 0.6 } });
      const { live, rendered } = both(sheet, renderVolts(sheet));
      expect(differenceDb(live, rendered)).toBeLessThan(AGREEMENT_DB);
    },
  );

  it.each(['bass, four strings, 0.045 to 0.105', 'eight strings, 0.010 to 0.074'])(
    'on every string of the set %s',
    (name) => {
      const { strings } = STRING_SETS.find((set) => set.name === name)!;
      const strung = withStrings(sheetWith({ fade: 5e-3 }), strings) as Sheet;
      const line = strings.map((_, i) => ({ beat: i / 4, string: i + 1, fret: i }));
      const sheet = { ...strung, listen: { ...strung.listen, play: 'line' as const, line } };
      const { live, rendered } = both(sheet, renderVolts(sheet));
      expect(differenceDb(live, rendered)).toBeLessThan(AGREEMENT_DB);
    },
  );

  it.each([
    ['pickups together', sheetWith({ fade: 5e-3, sounds: [0, 2] })],
    ['six unlike coils', unlike(sheetWith({ fade: 5e-3, sounds: [0, 1, 2] }))],
    ['a loudspeaker behind', sheetWith({ fade: 5e-3, listen: { through: 'loudspeaker' } })],
  ] as const)('with %s', (_, sheet) => {
    const { live, rendered } = both(sheet, renderVolts(sheet));
    expect(differenceDb(live, rendered)).toBeLessThan(AGREEMENT_DB);
  });

  it.each(['six bevelled rods', 'slugs and screws beside an alnico bar'])(
    'of pickups as they are built: %s',
    (name) => {
      const built = builtSheet(name);
      const [neck, , bridge] = built.pickups;
      // A pickup that is built and one that is set by hand, sounding together.
      const pickups = [neck!, { ...bridge!, sounds: true }];
      const sheet = { ...built, pickups, listen: { ...built.listen, play: 'chord' as const, seconds: 2 } };
      const heard = resolve(sheet, fieldsOf(sheet));
      const { live, rendered } = both(heard, renderVolts(heard));
      expect(peakOf(live)).toBeGreaterThan(0.05);
      expect(differenceDb(live, rendered)).toBeLessThan(AGREEMENT_DB);
    },
    60_000,
  );

  it.each(plays)('at the loudness that is matched, phrase of kind %s, within 0.1 LU', (play) => {
    const sheet = sheetWith({ fade: 5e-3, listen: { play, level: 'matched', seconds: 1.5 } });
    const setup = liveSetup(sheet, 48000);
    const engine = new LiveEngine(48000);
    engine.play(setup);
    const out = new Float64Array(Math.round(setup.seconds * 48000));
    engine.process(out);
    expect(Math.abs(integratedLoudness(out, 48000) - MATCHED_LOUDNESS)).toBeLessThan(0.1);
  });
});

// A plectrum without width, five millimetres deep, a reach two millimetres wide that falls to 1/e over one millimetre.
const hard = (string: number, fret: number, sampleRate: Listen['sampleRate']): Sheet =>
  sheetWith({
    fade: 1e-3,
    reach: { width: 2e-3 },
    listen: {
      play: 'string',
      string,
      fret,
      sampleRate,
      // Bent and bright as it begins; what comes later is the same, softer.
      seconds: 0.5,
      pluck: { place: 0.16, width: 0, depth: 5e-3, angle: 1.5 },
    },
  });

describe.each([
  [1, 22, 44100],
  [1, 12, 48000],
  [6, 0, 48000],
  [6, 0, 96000],
] as const)('the hardest pluck of string %i at fret %i, %i Hz', (string, fret, sampleRate) => {
  const sheet = hard(string, fret, sampleRate);

  it('sounds live as it is rendered from the same partials', () => {
    const { live, rendered } = both(sheet, renderVolts(sheet, { oversampling: 4, limit: LIVE_LIMIT }));
    const difference = live.map((v, i) => v - rendered[i]!);
    const ratio =
      powerBelow(difference, sampleRate, LIVE_LIMIT) / powerBelow(rendered, sampleRate, LIVE_LIMIT);
    expect(10 * Math.log10(ratio)).toBeLessThan(AGREEMENT_DB);
  });

  it('does not fold back', () => {
    const clean = renderVolts(sheet, { oversampling: 16 });
    expect(differenceDb(renderVolts(sheet), clean)).toBeLessThan(AGREEMENT_DB);
    if (sampleRate === 96000) return;
    // Without oversampling it would, audibly so: the check can tell.
    expect(differenceDb(renderVolts(sheet, { oversampling: 1 }), clean)).toBeGreaterThan(-90);
  });
});
