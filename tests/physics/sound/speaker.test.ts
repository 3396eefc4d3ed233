import { describe, expect, it } from 'vitest';
import { loudspeaker, loudspeakerDb } from '../../../src/physics/sound/speaker.ts';
import { renderVolts } from '../../../src/physics/sound/render.ts';
import { sheetWith } from './live/sheets.ts';

describe('the loudspeaker', () => {
  // The product of its four sections by their magnitudes, each a textbook second-order form.
  it('is a low cut, a rise and a high cut [exact]', () => {
    for (const f of [20, 75, 300, 1000, 2600, 5000, 12000, 20000]) {
      const low = f / 75;
      const middle = f / 2600;
      const high = f / 5000;
      const size = (x: number, q: number) => Math.hypot(1 - x * x, x / q);
      const rise = 10 ** (4 / 20);
      const expected =
        (low ** 2 / size(low, 0.9)) *
        (Math.hypot(1 - middle ** 2, (rise * middle) / 1.1) / size(middle, 1.1)) *
        (1 / (size(high, 0.6) * size(high, 1.2)));
      expect(loudspeakerDb(f)).toBeCloseTo(20 * Math.log10(expected), 10);
    }
  });

  it('rolls off as guitar loudspeakers do [practice]', () => {
    expect(Math.abs(loudspeakerDb(400))).toBeLessThan(1);
    expect(loudspeakerDb(2600)).toBeGreaterThan(3);
    expect(loudspeakerDb(2600)).toBeLessThan(6);
    expect(loudspeakerDb(40)).toBeLessThan(-8);
    expect(loudspeakerDb(10000)).toBeLessThan(-10);
    // About 24 dB an octave.
    expect(loudspeakerDb(20000) - loudspeakerDb(10000)).toBeLessThan(-22);
    expect(loudspeakerDb(20000) - loudspeakerDb(10000)).toBeGreaterThan(-26);
    expect(loudspeaker(0)).toEqual({
      re: expect.closeTo(0, 12) as number,
      im: expect.closeTo(0, 12) as number,
    });
  });

  it('stands behind the circuit in a rendered phrase', () => {
    const listen = { play: 'string', string: 3, fret: 0, seconds: 2 } as const;
    const plain = renderVolts(sheetWith({ listen }));
    const through = renderVolts(sheetWith({ listen: { ...listen, through: 'loudspeaker' } }));
    // The fundamental, 196 Hz, by a Fourier sum over a whole number of its periods, where the attack is past.
    const level = (signal: Float64Array, f: number) => {
      let re = 0;
      let im = 0;
      for (let n = 0; n < 48000; n++) {
        const window = Math.sin((Math.PI * (n + 0.5)) / 48000) ** 4;
        re += window * signal[24000 + n]! * Math.cos((2 * Math.PI * f * n) / 48000);
        im += window * signal[24000 + n]! * Math.sin((2 * Math.PI * f * n) / 48000);
      }
      return 20 * Math.log10(Math.hypot(re, im));
    };
    for (const n of [1, 2, 5]) {
      const f = 195.998 * n * Math.sqrt(1 + 1.09e-4 * n * n);
      expect(level(through, f) - level(plain, f)).toBeCloseTo(loudspeakerDb(f), 1);
    }
  });
});
