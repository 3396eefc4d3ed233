import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  curveFigures,
  describeCurve,
  describeReach,
  spokenDecibels,
  spokenFrequency,
} from '../../src/plot/summary.ts';

/** |H| of the second-order low-pass in dB; closed forms in any control or circuits textbook. */
const lowPass =
  (f0: number, q: number) =>
  (f: number): number =>
    -10 * Math.log10((1 - (f / f0) ** 2) ** 2 + (f / f0 / q) ** 2);
const grid = Float64Array.from({ length: 512 }, (_, i) => 20 * 1000 ** (i / 511));

describe('figures of a curve', () => {
  it('peak and −3 dB point are those of the second-order low-pass [exact]', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1000, max: 8000, noNaN: true }),
        fc.double({ min: 1, max: 6, noNaN: true }),
        (f0, q) => {
          const figures = curveFigures(grid, grid.map(lowPass(f0, q)));
          const peakAt = f0 * Math.sqrt(1 - 1 / (2 * q * q));
          const peakDb = 20 * Math.log10(q / Math.sqrt(1 - 1 / (4 * q * q)));
          // A parabola over 1.36 % steps: a tenth of a step and 0.05 dB, also for the sharpest peak.
          expect(figures.peak.frequency / peakAt).toBeGreaterThan(1 - 0.0014);
          expect(figures.peak.frequency / peakAt).toBeLessThan(1 + 0.0014);
          expect(Math.abs(figures.peak.db - peakDb)).toBeLessThan(0.05);
          // |H|² = 10^−0.3 solved for (f/f0)².
          const b = 1 / (q * q) - 2;
          const c = 1 - 10 ** 0.3;
          const cutoff = f0 * Math.sqrt((-b + Math.sqrt(b * b - 4 * c)) / 2);
          expect(figures.cutoff! / cutoff).toBeGreaterThan(0.999);
          expect(figures.cutoff! / cutoff).toBeLessThan(1.001);
        },
      ),
      { seed: 20240508, numRuns: 300 },
    );
  });

  it('names no −3 dB point when the curve never falls, or rises again at its end [exact]', () => {
    expect(curveFigures([20, 200, 2000], [0, 1, 0]).cutoff).toBeNull();
    expect(curveFigures([20, 200, 2000], [0, -40, 0]).cutoff).toBeNull();
    expect(curveFigures([20, 200], [0, -6]).cutoff).toBeCloseTo(Math.sqrt(20 * 200), 9);
    expect(() => curveFigures([], [])).toThrow(RangeError);
  });

  it('survives a comb null of −∞ dB', () => {
    const figures = curveFigures([20, 100, 200, 400, 1000], [0, 1, -Infinity, 2, -Infinity]);
    expect(figures.peak).toEqual({ frequency: 400, db: 2 });
    expect(figures.cutoff).toBeGreaterThanOrEqual(400);
  });
});

describe('sentences', () => {
  const before = { lowDb: 0, peak: { frequency: 3900, db: 4.1 }, cutoff: 6204 };

  it('say the peak, where it is, and where the curve has fallen', () => {
    expect(describeCurve('Neck', before)).toBe(
      'Neck: highest at 3.90 kilohertz, 4.1 decibels above the lows; 3 decibels down at 6.20 kilohertz.',
    );
    expect(describeCurve('Neck', { lowDb: -2, peak: { frequency: 20, db: -2 }, cutoff: null })).toBe(
      'Neck: no peak; not 3 decibels down within the range.',
    );
  });

  it('say what has changed and only that', () => {
    const now = { lowDb: 1, peak: { frequency: 3500, db: 4.1 }, cutoff: 5400 };
    expect(describeCurve('Neck', now, before)).toMatch(
      /; than before: peak 400 hertz lower, 1\.0 decibel less pronounced, lows 1\.0 decibel louder\.$/,
    );
    expect(describeCurve('Neck', before, before)).toMatch(/; as before\.$/);
  });

  it('describe one bell or two', () => {
    expect(describeReach([{ centre: 0.162, width: 0.0112 }])).toBe(
      'The reach is 11.2 millimetres wide, centred 162.0 millimetres from the saddle.',
    );
    expect(
      describeReach([
        { centre: 0.17, width: 0.01 },
        { centre: 0.152, width: 0.01 },
      ]),
    ).toContain(' from the saddle, and 10.0 ');
    expect(describeReach([])).toBe('The coil hears nothing of this string.');
  });

  it('speak three digits and whole words', () => {
    expect([82.4069, 879.6, 999.7, 3904, 12345].map(spokenFrequency)).toEqual([
      '82.4 hertz',
      '880 hertz',
      '1.00 kilohertz',
      '3.90 kilohertz',
      '12.3 kilohertz',
    ]);
    expect([1, -1, -0.01, 2.25].map(spokenDecibels)).toEqual([
      '1.0 decibel',
      'minus 1.0 decibel',
      '0.0 decibels',
      '2.3 decibels',
    ]);
  });
});
