/** A recording through coil and load, against the circuit's own transfer [exact]. */
import { describe, expect, it } from 'vitest';
import { harnessTransfer } from '../../../src/physics/circuit/harness.ts';
import { loudspeakerDb } from '../../../src/physics/sound/speaker.ts';
import {
  FULL_SCALE_VOLTS,
  through,
  throughCircuit,
  throughRatio,
} from '../../../src/physics/sound/through.ts';
import type { ResolvedSheet as Sheet } from '../../../src/sheet/sheet.ts';
import { sheetWith, withRow } from './live/sheets.ts';

const RATE = 48000;
const sheet = sheetWith();
const other = withRow(sheet, (row) => ({
  ...row,
  coil: { ...row.coil, inductance: 6, capacitance: 300e-12 },
}));

const sine = (frequency: number) => ({
  samples: Float64Array.from(
    { length: RATE },
    (_, n) => 0.1 * Math.sin((2 * Math.PI * frequency * n) / RATE),
  ),
  sampleRate: RATE,
});

/** Level of a steady sine in the middle of a sound against the recording's 0.1, before the gain, dB. */
function levelDb({ samples, gain }: { samples: Float64Array; gain: number }, frequency: number): number {
  let re = 0;
  let im = 0;
  let sum = 0;
  for (let n = 12000; n < 36000; n++) {
    const window = Math.sin((Math.PI * (n - 12000 + 0.5)) / 24000) ** 4;
    re += window * samples[n]! * Math.cos((2 * Math.PI * frequency * n) / RATE);
    im += window * samples[n]! * Math.sin((2 * Math.PI * frequency * n) / RATE);
    sum += window;
  }
  return 20 * Math.log10((2 * Math.hypot(re, im)) / sum / (0.1 * FULL_SCALE_VOLTS * gain));
}

function circuitDb({ pickups, harness }: Sheet, frequency: number): number {
  const sounding = pickups.map(({ sounds }) => sounds);
  const [transfer] = harnessTransfer(pickups, harness, sounding, Float64Array.of(frequency));
  return 20 * Math.log10(Math.hypot(transfer!.re[0]!, transfer!.im[0]!));
}

const FREQUENCIES = [100, 440, 1500, 3000, 4000, 8000, 15000];

describe('a recording', () => {
  it.each(FREQUENCIES)('at %i Hz comes out as the circuit has it, within 0.02 dB', (f) => {
    expect(levelDb(throughCircuit(sine(f), sheet), f)).toBeCloseTo(circuitDb(sheet, f), 1);
    expect(Math.abs(levelDb(throughCircuit(sine(f), sheet), f) - circuitDb(sheet, f))).toBeLessThan(0.02);
  });

  it.each(FREQUENCIES)('at %i Hz made through one circuit comes out as through the other', (f) => {
    const ratio = circuitDb(other, f) - circuitDb(sheet, f);
    expect(Math.abs(levelDb(throughRatio(sine(f), sheet, other), f) - ratio)).toBeLessThan(0.03);
  });

  it('made through a circuit and heard through the same is itself', () => {
    const { samples } = sine(440);
    const { samples: out, gain } = through(sheet, { recording: { samples, sampleRate: RATE }, from: sheet });
    for (let n = 12000; n < 36000; n += 7)
      expect(Math.abs(out[n]! / gain - samples[n]!)).toBeLessThan(2e-3 * 0.5);
  });

  it('goes through the loudspeaker where one is asked for', () => {
    const loud = sheetWith({ listen: { through: 'loudspeaker' } });
    const f = 3000;
    const difference = levelDb(throughCircuit(sine(f), loud), f) - levelDb(throughCircuit(sine(f), sheet), f);
    expect(difference).toBeCloseTo(loudspeakerDb(f), 2);
  });

  it('keeps its length and rate, and is safe to play', () => {
    const recording = {
      samples: Float64Array.from({ length: 5000 }, (_, n) => Math.sin(n)),
      sampleRate: 44100,
    };
    const sound = through(sheet, { recording, from: null });
    expect(sound.samples).toHaveLength(5000);
    expect(sound.sampleRate).toBe(44100);
    expect(Math.max(...sound.samples.map(Math.abs))).toBeLessThanOrEqual(10 ** (-1 / 20));
    expect(recording.samples[1]).toBe(Math.sin(1));
  });

  it('does not blow up what the first circuit has taken away', () => {
    const dull = withRow(sheet, (row) => ({ ...row, coil: { ...row.coil, capacitance: 10e-9 } }));
    const sound = throughRatio(sine(15000), dull, sheet);
    expect(levelDb(sound, 15000)).toBeLessThan(40);
  });

  it('needs a pickup that sounds', () => {
    expect(() => throughCircuit(sine(440), sheetWith({ sounds: [] }))).toThrow(
      /At least one pickup must sound/,
    );
  });
});
