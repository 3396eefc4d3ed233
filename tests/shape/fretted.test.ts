/** How much lower a stopped string lies, from three points of two straight lines [exact]. */
import { describe, expect, it } from 'vitest';
import { loweredBy } from '../../src/shape/fretted.ts';

const neck = { scaleLength: 0.648, action: 1.8e-3 };
/** Relative. */
const IDENTITY = 1e-12;

describe('a stopped string', () => {
  const octave = 0.324;

  it('lies on its fret, lower by as much as the open one stands over it', () => {
    expect(Math.abs(loweredBy(neck, octave, octave) / neck.action - 1)).toBeLessThan(IDENTITY);
    // Over the nut by 0.5 mm, over half the scale by 1.8, and so over the saddle by 3.1.
    const open = (x: number): number => 3.1e-3 + ((0.5e-3 - 3.1e-3) * x) / 0.648;
    for (const length of [0.5, 0.4, 0.25])
      expect(Math.abs(loweredBy(neck, length, length) / open(length) - 1)).toBeLessThan(IDENTITY);
  });

  it('leaves the saddle where the open one does, and goes down straight', () => {
    expect(loweredBy(neck, octave, 0)).toBe(0);
    expect(Math.abs(loweredBy(neck, octave, 0.2) / loweredBy(neck, octave, 0.1) - 2)).toBeLessThan(IDENTITY);
  });

  it('is the open one at the nut, lower the higher the fret and the action', () => {
    expect(loweredBy(neck, 0.648, 0.16)).toBe(0);
    const at = (length: number, action = neck.action): number => loweredBy({ ...neck, action }, length, 0.16);
    expect(at(0.324)).toBeGreaterThan(at(0.486));
    expect(at(0.324, 2.5e-3)).toBeGreaterThan(at(0.324));
  });
});
