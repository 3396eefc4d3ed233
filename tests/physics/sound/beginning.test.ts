/** The beginning of a phrase against the phrase rendered whole. */
import { describe, expect, it } from 'vitest';
import { beginning } from '../../../src/physics/sound/beginning.ts';
import { render } from '../../../src/physics/sound/render.ts';
import { sheetWith } from './live/sheets.ts';

describe.each([
  ['string', 'cable', 48000],
  ['chord', 'loudspeaker', 44100],
  ['line', 'cable', 96000],
  ['scale', 'loudspeaker', 48000],
] as const)('the beginning of a %s through %s at %i Hz', (play, through, sampleRate) => {
  const sheet = sheetWith({ listen: { play, through, sampleRate, level: 'as it is', seconds: 2 } });
  const whole = render(sheet);
  const begun = beginning(sheet);

  it('is what the whole phrase begins with, in volts [exact]', () => {
    expect(begun.sampleRate).toBe(sampleRate);
    expect(begun.samples.length).toBe(Math.round(0.4 * sampleRate));
    expect(Math.abs(begun.samples[0]!)).toBe(0);
    let worst = 0;
    let peak = 0;
    begun.samples.forEach((volts, i) => {
      worst = Math.max(worst, Math.abs(volts - whole.samples[i]! / whole.gain));
      peak = Math.max(peak, Math.abs(volts));
    });
    expect(peak).toBeGreaterThan(0.01);
    expect(worst).toBeLessThan(1e-4 * peak);
  });

  it('says the gain of what is not matched [exact]', () => {
    expect(whole.reducedDb).toBe(0);
    expect(begun.voltGain).toBe(whole.gain);
  });
});

it('of a phrase that is shorter is the phrase [exact]', () => {
  const sheet = sheetWith({ listen: { play: 'string', seconds: 0.25 } });
  expect(beginning(sheet).samples.length).toBe(render(sheet).samples.length);
});
