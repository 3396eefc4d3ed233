import { describe, expect, it } from 'vitest';
import { render } from '../../../src/physics/rendered.ts';
import {
  FADE_OUT,
  finishEnds,
  LEAD_IN,
  MATCHED_LOUDNESS,
  setLevel,
  VOLT_GAIN,
} from '../../../src/physics/sound/level.ts';
import type { Listen } from '../../../src/sheet/sheet.ts';
import { furthest } from '../../fixtures/furthest.ts';
import { exampleSheet } from '../../fixtures/sheet.ts';
import { integratedLoudness } from '../../fixtures/integratedLoudness.ts';

const RATE = 48000;
const tone = (amplitude: number, seconds = 1) =>
  Float64Array.from(
    { length: seconds * RATE },
    (_, i) => amplitude * Math.sin((2 * Math.PI * 300 * i) / RATE),
  );
const withListen = (listen: Partial<Listen>) => {
  const sheet = exampleSheet();
  return { ...sheet, listen: { ...sheet.listen, ...listen } };
};

describe('the ends', () => {
  it('rise and fall by half a cosine over the stated times and leave the rest alone', () => {
    const samples = tone(1);
    finishEnds(samples, RATE);
    const before = tone(1);
    expect(samples[0]).toBe(0);
    expect(samples.at(-1)).toBe(0);
    // The coupling's phase at 300 Hz is 0.4 degrees.
    const [from, to] = [RATE * LEAD_IN, samples.length - FADE_OUT * RATE];
    expect(furthest(from, to, (i) => samples[i]! - before[i]!)).toBeLessThan(0.02);
    const half = samples.length - 1 - Math.round((FADE_OUT * RATE) / 2);
    const near = (at: number) => Math.max(...samples.slice(at - 80, at + 80).map(Math.abs));
    expect(near(half)).toBeGreaterThan(0.45);
    expect(near(half)).toBeLessThan(0.68);
  });

  it('take out direct voltage altogether [exact]', () => {
    const samples = tone(0.5).map((v) => v + 0.3);
    finishEnds(samples, RATE);
    expect(Math.abs(samples.reduce((sum, v) => sum + v, 0) / samples.length)).toBeLessThan(1e-15);
  });
});

describe("level 'as it is'", () => {
  it('is the stated gain, and a chord of the example lies between −12 and −6 dBFS [practice]', () => {
    const { gain, reducedDb, peakVolts } = render(exampleSheet());
    expect(gain).toBe(VOLT_GAIN);
    expect(reducedDb).toBe(0);
    const peakDb = 20 * Math.log10(gain * peakVolts);
    expect(peakDb).toBeGreaterThan(-12);
    expect(peakDb).toBeLessThan(-6);
  });

  it('is pulled down to −1 dBFS when it must, and says by how much [exact]', () => {
    const samples = tone(10);
    const { reducedDb, gain } = setLevel(samples, RATE, 'as it is');
    expect(Math.max(...samples)).toBeCloseTo(10 ** (-1 / 20), 6);
    expect(reducedDb).toBeCloseTo(20 * Math.log10(10 * VOLT_GAIN) + 1, 6);
    expect(gain * 10 ** (reducedDb / 20)).toBeCloseTo(VOLT_GAIN, 9);
  });
});

describe("level 'matched'", () => {
  it.each([
    { play: 'chord' },
    { play: 'string', string: 1, fret: 12 },
    { play: 'string', string: 6 },
  ] as const)('has the stated loudness: %o', (listen) => {
    const sound = render(withListen({ ...listen, level: 'matched' }));
    expect(sound.reducedDb).toBe(0);
    expect(sound.loudness).toBeCloseTo(MATCHED_LOUDNESS, 6);
    expect(integratedLoudness(sound.samples, sound.sampleRate)).toBeCloseTo(MATCHED_LOUDNESS, 6);
  });

  it('leaves silence silent', () => {
    const samples = new Float64Array(RATE);
    expect(setLevel(samples, RATE, 'matched')).toEqual({
      gain: VOLT_GAIN,
      reducedDb: 0,
      loudness: -120,
      peakVolts: 0,
    });
    expect(samples.every((v) => v === 0)).toBe(true);
  });

  it('does not lift a string that only stirs behind the last whole block without bound', () => {
    const samples = new Float64Array(RATE);
    samples[RATE - 1] = 0;
    const late = new Float64Array(21000);
    late[20999] = 1e-3;
    expect(setLevel(late, RATE, 'matched').gain).toBe(VOLT_GAIN);
  });
});
