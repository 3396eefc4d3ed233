import { describe, expect, it } from 'vitest';
import { powerOfTwo, realFft } from '../../../src/physics/numerics/fft.ts';

const signal = (size: number) => Float64Array.from({ length: size }, (_, n) => Math.sin(n * n + 0.3 * n));

describe('the transform of real samples', () => {
  it.each([4, 8, 16, 64, 512])(
    'is the discrete Fourier transform by its definition, %i samples [exact]',
    (size) => {
      const x = signal(size);
      const spectrum = new Float64Array(size + 2);
      realFft(size).forward(x, spectrum);
      for (let k = 0; k <= size / 2; k++) {
        let re = 0;
        let im = 0;
        for (let n = 0; n < size; n++) {
          re += x[n]! * Math.cos((2 * Math.PI * k * n) / size);
          im -= x[n]! * Math.sin((2 * Math.PI * k * n) / size);
        }
        expect(Math.abs(spectrum[2 * k]! - re)).toBeLessThan(1e-11 * size);
        expect(Math.abs(spectrum[2 * k + 1]! - im)).toBeLessThan(1e-11 * size);
      }
    },
  );

  it.each([4, 8, 32, 4096])('comes back, %i samples [exact]', (size) => {
    const x = signal(size);
    const spectrum = new Float64Array(size + 2);
    const back = new Float64Array(size);
    realFft(size).forward(x, spectrum);
    realFft(size).inverse(spectrum, back);
    x.forEach((value, n) => {
      expect(Math.abs(value - back[n]!)).toBeLessThan(1e-14 * size);
    });
  });

  it('keeps its energy (Parseval) [exact]', () => {
    const x = signal(1024);
    const spectrum = new Float64Array(1026);
    realFft(1024).forward(x, spectrum);
    let energy = 0;
    for (let k = 0; k <= 512; k++) {
      energy += (k % 512 ? 2 : 1) * (spectrum[2 * k]! ** 2 + spectrum[2 * k + 1]! ** 2);
    }
    expect(energy / 1024 / x.reduce((sum, value) => sum + value * value, 0)).toBeCloseTo(1, 12);
  });

  it('refuses other sizes and lengths in words', () => {
    expect(() => realFft(12)).toThrow('The transform size must be a power of two, 4 or more; got 12.');
    expect(() => {
      realFft(8).forward(new Float64Array(8), new Float64Array(8));
    }).toThrow('Signal and spectrum must have 8 and 10 values; got 8 and 8.');
  });

  it('finds the next power of two', () => {
    expect([1, 4, 5, 1024, 1025, 192000].map(powerOfTwo)).toEqual([4, 4, 8, 1024, 2048, 262144]);
  });
});
