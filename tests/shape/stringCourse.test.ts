import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  acrossPickup,
  rowCrossing,
  stringAcross,
  stringArc,
  stringUnderside,
} from '../../src/shape/stringCourse.ts';

const guitar = {
  scaleLength: 0.648,
  spreadSaddle: 52.5e-3,
  spreadNut: 35e-3,
  strings: { length: 6 },
  radius: 0.25,
};
const strung = (length: number) => ({ ...guitar, strings: { length } });
const GAPS = { gapBass: 2.6e-3, gapTreble: 2e-3 };

describe('across the instrument', () => {
  it('[exact] strings stand at equal distances, the last on the bass (−) side', () => {
    expect(stringAcross(guitar, 1, 0)).toBeCloseTo(26.25e-3, 12);
    expect(stringAcross(guitar, 6, 0)).toBeCloseTo(-26.25e-3, 12);
    expect(stringAcross(guitar, 1, 0.648)).toBeCloseTo(17.5e-3, 12);
    expect(stringAcross(guitar, 3, 0) - stringAcross(guitar, 4, 0)).toBeCloseTo(10.5e-3, 12);
  });

  it.each([2, 4, 5, 7, 8])('[exact] %d strings span the same, their middle on the centre line', (count) => {
    const places = Array.from({ length: count }, (_, i) => stringAcross(strung(count), i + 1, 0.1));
    expect(places[0]! - places.at(-1)!).toBeCloseTo(52.5e-3 - (17.5e-3 * 0.1) / 0.648, 12);
    expect(places.reduce((sum, y) => sum + y, 0)).toBeCloseTo(0, 12);
    places.forEach((y, i) => expect(y).toBeLessThan(places[i - 1] ?? Infinity));
  });

  it('[exact] a single string lies on the centre line', () => {
    expect(stringAcross(strung(1), 1, 0.3)).toBe(0);
    expect(rowCrossing(strung(1), { place: 0.1, slant: 0.4 }, 0, 1)).toBe(0.1);
    expect(stringUnderside(strung(1), { place: 0.1, slant: 0 }, GAPS, 1)).toBeCloseTo(2.3e-3, 12);
  });
});

describe('where a row crosses the strings', () => {
  it('[exact] is the place itself without slant', () => {
    for (let string = 1; string <= 6; string++)
      expect(rowCrossing(guitar, { place: 0.1615, slant: 0 }, 0, string)).toBe(0.1615);
  });

  it('[exact] lies on the straight line of a slanted row, treble end nearer the saddle', () => {
    const property = fc.property(
      fc.integer({ min: 4, max: 8 }),
      fc.double({ min: -0.6, max: 0.6, noNaN: true }),
      fc.constantFrom(-9e-3, 0, 9e-3),
      (count, slant, offset) => {
        const instrument = strung(count);
        const pickup = { place: 0.043, slant };
        for (let string = 1; string <= count; string++) {
          const x = rowCrossing(instrument, pickup, offset, string);
          const y = stringAcross(instrument, string, x);
          // Distance from the pickup's centre at right angles to the row.
          expect((x - pickup.place) * Math.cos(slant) + y * Math.sin(slant)).toBeCloseTo(offset, 12);
        }
        const [first, last] = [1, count].map((string) => rowCrossing(instrument, pickup, 0, string));
        expect((last! - first!) * slant).toBeGreaterThanOrEqual(0);
      },
    );
    fc.assert(property, { seed: 26, numRuns: 100 });
  });
});

describe('over a pickup', () => {
  const places = [26e-3, 10e-3, -26e-3];

  it('[exact] the outermost strings have the gaps, whatever lies between and however slanted', () => {
    for (const count of [4, 6, 7])
      for (const slant of [0, 0.2]) {
        const pickup = { place: 0.16, slant };
        expect(stringUnderside(strung(count), pickup, GAPS, count)).toBeCloseTo(GAPS.gapBass, 12);
        expect(stringUnderside(strung(count), pickup, GAPS, 1)).toBeCloseTo(GAPS.gapTreble, 12);
      }
  });

  it('[exact] the middle lies higher by the sagitta of the arc: 250 − √(250² − 26²) = 1.355676 mm', () => {
    const even = { gapBass: 2e-3, gapTreble: 2e-3 };
    expect(stringArc(even, 0.25, places)(0)).toBeCloseTo(2e-3 + 1.3556757e-3, 10);
    const pickup = { place: 0, slant: 0 };
    const half = 26.25e-3;
    const sagitta = 0.25 - Math.sqrt(0.25 ** 2 - half ** 2);
    expect(stringUnderside(guitar, pickup, even, 3.5)).toBeCloseTo(2e-3 + sagitta, 12);
  });

  it('[exact] over a flat fretboard the undersides lie on a straight line, a very large radius comes to it', () => {
    const flat = stringArc(GAPS, Infinity, places);
    expect(flat(0)).toBeCloseTo(2.3e-3, 12);
    expect(flat(13e-3)).toBeCloseTo(2.15e-3, 12);
    expect(stringArc(GAPS, 1e9, places)(5e-3)).toBeCloseTo(flat(5e-3), 12);
  });

  it('[exact] all points lie on one circle of the radius', () => {
    const under = stringArc(GAPS, 0.184, places);
    // Turned by the gaps' difference the chord is no longer level; the rise is counted from it.
    const chord = (y: number): number => 2.3e-3 - (y / 52e-3) * 0.6e-3;
    const centre = Math.sqrt(0.184 ** 2 - 26e-3 ** 2);
    for (const y of [-30e-3, -26e-3, -11e-3, 0, 7e-3, 26e-3])
      expect(Math.hypot(y, centre + under(y) - chord(y))).toBeCloseTo(0.184, 12);
  });

  it('[exact] a place across is that of the string where the line through the centre crosses it', () => {
    const pickup = { place: 0.1615, slant: 0.1 };
    expect(acrossPickup(guitar, { place: 0.1615, slant: 0 }, 2)).toBe(stringAcross(guitar, 2, 0.1615));
    for (const string of [1, 4])
      expect(acrossPickup(guitar, pickup, string)).toBe(
        stringAcross(guitar, string, rowCrossing(guitar, pickup, 0, string)),
      );
  });
});
