import { describe, expect, it } from 'vitest';
import { harnessTransfer } from '../../../src/physics/circuit/harness.ts';
import { coilGroups, filterGroups } from '../../../src/physics/sound/filter.ts';
import type { Coil, ResolvedPickup as Pickup } from '../../../src/sheet/sheet.ts';
import { exampleSheet } from '../../fixtures/sheet.ts';

const { pickups, harness } = exampleSheet();
const RATE = 48000;

function withCoil(pickup: Pickup, coil: Partial<Coil>, sounds = true): Pickup {
  return { ...pickup, sounds, rows: pickup.rows.map((row) => ({ ...row, coil: { ...row.coil, ...coil } })) };
}

/** Fourier sum of a real signal at one frequency, by definition. */
function fourier(signal: Float64Array, frequency: number): { re: number; im: number } {
  let re = 0;
  let im = 0;
  const w = (2 * Math.PI * frequency) / RATE;
  signal.forEach((v, n) => {
    re += v * Math.cos(w * n);
    im -= v * Math.sin(w * n);
  });
  return { re, im };
}

/** A pulse of twenty milliseconds' worth of room on both sides, band limited to about a quarter of the sample rate. */
function pulse(length: number): Float64Array {
  return Float64Array.from({ length }, (_, n) => Math.exp(-0.5 * ((n - 9600) / 0.8) ** 2));
}

describe('the circuit as a filter', () => {
  // A loss-free coil on a light load: Q of about 25 at 8 kHz is sharper than any real pickup.
  const sharp = withCoil(pickups[0]!, {
    inductance: 2,
    capacitance: 60e-12,
    coreLoss: null,
    resistance: 4000,
  });
  const light = { ...harness, cable: { length: 0.3, capacitancePerMetre: 100e-12 } };
  const open = {
    ...light,
    controls: [
      { volume: { resistance: 1e7, taper: 'linear' as const, position: 1 }, bleed: null, tone: null },
    ],
    input: { resistance: 1e7, capacitance: 5e-12 },
  };

  it.each([
    ['the example circuit', pickups[0]!, harness],
    ['a very sharp resonance', sharp, open],
  ])('%s: has its transfer from 30 Hz to 20 kHz within 0.001 dB [exact]', (_, pickup, wiring) => {
    const input = pulse(24000);
    const output = filterGroups(coilGroups([pickup], wiring, RATE / 2), [input], RATE);
    const frequencies = Float64Array.from({ length: 80 }, (_, i) => 30 * (20000 / 30) ** (i / 79));
    const [expected] = harnessTransfer([pickup], wiring, [true], frequencies);
    frequencies.forEach((f, i) => {
      const a = fourier(input, f);
      const b = fourier(output, f);
      const power = a.re ** 2 + a.im ** 2;
      const re = (b.re * a.re + b.im * a.im) / power;
      const im = (b.im * a.re - b.re * a.im) / power;
      const off = Math.hypot(re - expected!.re[i]!, im - expected!.im[i]!);
      // 0.001 dB is a share of 1.15e-4.
      expect(off / Math.hypot(expected!.re[i]!, expected!.im[i]!), `${f} Hz`).toBeLessThan(1.15e-4);
    });
  });

  it('leaves what comes before a pulse silent: nothing wraps around', () => {
    const input = pulse(24000);
    const output = filterGroups(coilGroups([pickups[0]!], harness, RATE / 2), [input], RATE);
    const peak = output.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
    for (let n = 0; n < 9000; n++) expect(Math.abs(output[n]!)).toBeLessThan(1e-4 * peak);
  });
});

describe('groups of coils', () => {
  const all = pickups.map((pickup) => ({ ...pickup, sounds: true }));

  it('hold like coils together, with −1 for a reversed one [exact]', () => {
    const [neck, middle, bridge] = all;
    const groups = coilGroups([neck!, { ...middle!, reversed: true }, bridge!], harness, 24000);
    expect(groups).toHaveLength(1);
    [1, -1, 1].forEach((factor, i) => {
      expect(groups[0]!.coils[i]!.factor).toBeCloseTo(factor, 9);
    });
  });

  it('tell unlike coils apart', () => {
    const groups = coilGroups([all[0]!, withCoil(all[1]!, { inductance: 3 }), all[2]!], harness, 24000);
    expect(groups.map(({ coils }) => coils.length)).toEqual([2, 1]);
  });

  it('leave out what the selector does', () => {
    expect(coilGroups(pickups, harness, 24000)[0]!.coils).toEqual([{ pickup: 0, row: 0, factor: 1 }]);
  });
});
