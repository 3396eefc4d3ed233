import { describe, expect, it } from 'vitest';
import { describeCurve, describeReach, spokenDecibels, spokenFrequency } from '../../src/plot/summary.ts';

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
