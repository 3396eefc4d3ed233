/** What every rendered sound must be, whatever is on the sheet; generated sheets. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { render } from '../../../src/physics/rendered.ts';
import type { ResolvedPickup as Pickup, ResolvedSheet as Sheet } from '../../../src/sheet/sheet.ts';
import { exampleSheet } from '../../fixtures/sheet.ts';
import { soakPlan } from '../../soak/tools/plan.ts';

const range = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const coil = fc.record({
  resistance: range(100, 20e3),
  inductance: range(0.01, 10),
  capacitance: range(1e-12, 500e-12),
  coreLoss: fc.option(range(5e4, 5e6)),
});
const row = (offset: number) =>
  fc.record({
    offset: fc.constant(offset),
    reach: fc.record({
      width: range(2e-3, 60e-3),
      sensitivity: range(1e-3, 1),
      fade: fc.option(range(1e-3, 30e-3)),
    }),
    coil,
  });
const pickup: fc.Arbitrary<Pickup> = fc.record({
  name: fc.constant('one'),
  place: range(0.01, 0.4),
  slant: range(-0.6, 0.6),
  sounds: fc.constant(true),
  join: fc.constantFrom('series', 'parallel'),
  phase: fc.constantFrom('in', 'out'),
  reversed: fc.boolean(),
  rows: fc.oneof(fc.tuple(row(0)), fc.tuple(row(9e-3), row(-9e-3))),
  reachBy: fc.constant('hand'),
  build: fc.constant(null),
});
const sheets: fc.Arbitrary<Sheet> = fc
  .record({
    pickups: fc.array(pickup, { minLength: 1, maxLength: 2 }),
    play: fc.constantFrom('string' as const, 'chord' as const),
    string: fc.integer({ min: 1, max: 6 }),
    fret: fc.integer({ min: 0, max: 22 }),
    chord: fc.array(fc.option(fc.integer({ min: 0, max: 22 })), { minLength: 6, maxLength: 6 }),
    strum: range(0, 0.3),
    pluck: fc.record({
      place: range(0.001, 0.4),
      width: range(0, 0.02),
      depth: range(0, 8e-3),
      angle: range(0, Math.PI),
    }),
    seconds: range(0.1, 1.2),
    sampleRate: fc.constantFrom(44100 as const, 48000 as const, 96000 as const),
    level: fc.constantFrom('as it is' as const, 'matched' as const),
    volume: fc.constantFrom(0, 0.3, 1),
  })
  .map(({ pickups, volume, ...listen }) => {
    const sheet = exampleSheet();
    const [controls] = sheet.harness.controls;
    return {
      ...sheet,
      pickups,
      harness: {
        ...sheet.harness,
        controls: [{ ...controls!, volume: { ...controls!.volume, position: volume } }],
      },
      listen: { ...sheet.listen, ...listen },
    };
  });

const { count, seed } = soakPlan('properties', 20, 5000, 1770);
const ONE_DB_BELOW = 10 ** (-1 / 20);
const MINUS_90 = 10 ** (-90 / 20);

describe('every rendered sound', () => {
  it('is finite, below −1 dBFS, free of direct voltage, and begins and ends at zero without a click', () => {
    fc.assert(
      fc.property(sheets, (sheet) => {
        const { samples, sampleRate, gain, reducedDb, loudness, peakVolts } = render(sheet);
        expect(samples.length).toBe(Math.round(sheet.listen.seconds * sheet.listen.sampleRate));
        let peak = 0;
        let sum = 0;
        for (const sample of samples) {
          if (!Number.isFinite(sample)) throw new Error('not finite');
          peak = Math.max(peak, Math.abs(sample));
          sum += sample;
        }
        expect(peak).toBeLessThanOrEqual(ONE_DB_BELOW);
        expect(Math.abs(sum / samples.length)).toBeLessThan(MINUS_90);
        expect(Math.abs(samples[0]!)).toBe(0);
        expect(Math.abs(samples.at(-1)!)).toBe(0);
        // The first half millisecond lies in the lead-in and the last one in the fade's tail: next to nothing there.
        const edge = Math.floor(0.5e-3 * sampleRate);
        for (let i = 0; i < edge; i++) {
          expect(Math.abs(samples[i]!)).toBeLessThan(0.01 * peak + 1e-12);
          expect(Math.abs(samples[samples.length - 1 - i]!)).toBeLessThan(0.01 * peak + 1e-12);
        }
        for (const figure of [gain, reducedDb, loudness, peakVolts])
          expect(figure).toSatisfy(Number.isFinite);
        expect(reducedDb).toBeGreaterThanOrEqual(0);
        expect(gain * peakVolts).toBeCloseTo(peak, 9);
      }),
      { seed, numRuns: count },
    );
  });
});
