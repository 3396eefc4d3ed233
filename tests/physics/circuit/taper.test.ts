import { describe, expect, it } from 'vitest';
import { END_RESISTANCE, potLegs, taperShare } from '../../../src/physics/circuit/taper.ts';

describe('tapers', () => {
  it('[exact] linear is the position', () => {
    for (const position of [0, 0.25, 0.5, 1]) expect(taperShare('linear', position)).toBe(position);
  });
  it('[practice] audio has 10–15 % of the track at half rotation, in two straight pieces', () => {
    const half = taperShare('audio', 0.5);
    expect(half).toBeGreaterThanOrEqual(0.1);
    expect(half).toBeLessThanOrEqual(0.15);
    expect(taperShare('audio', 0)).toBe(0);
    expect(taperShare('audio', 1)).toBe(1);
    expect(taperShare('audio', 0.25)).toBeCloseTo(half / 2, 15);
    expect(taperShare('audio', 0.75)).toBeCloseTo((1 + half) / 2, 15);
  });
  it('refuses a position off the track', () => {
    for (const position of [-0.01, 1.01, NaN]) {
      expect(() => taperShare('linear', position)).toThrow(/from 0 to 1; got/);
    }
  });
});

describe('the legs of a pot', () => {
  it('[exact] sum to the total and never vanish', () => {
    for (const taper of ['linear', 'audio'] as const) {
      for (const resistance of [1000, 250e3, 1e6]) {
        for (const position of [0, 0.1, 0.5, 0.9, 1]) {
          const { upper, lower } = potLegs({ resistance, taper, position });
          expect((upper + lower) / resistance).toBeCloseTo(1, 14);
          expect(Math.min(upper, lower)).toBeGreaterThanOrEqual(1);
        }
      }
    }
  });
  it('[practice] stop a few ohms short of either end', () => {
    expect(potLegs({ resistance: 500e3, taper: 'audio', position: 0 }).lower).toBe(END_RESISTANCE);
    expect(potLegs({ resistance: 500e3, taper: 'audio', position: 1 }).upper).toBe(END_RESISTANCE);
  });
});
