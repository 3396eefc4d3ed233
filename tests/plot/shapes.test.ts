import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bell } from '../../src/plot/bell.ts';
import { linearScale } from '../../src/plot/scale.ts';
import { standingWave } from '../../src/plot/standingWave.ts';
import { wavePath } from '../../src/plot/wave.ts';
import { furthest } from '../fixtures/furthest.ts';
import { readPath } from './pathReader.ts';

const seeded = { seed: 20240503, numRuns: 200 };

describe('standing wave', () => {
  // Nut on the left, saddle on the right, as the sheet draws it.
  const x = linearScale([0, 0.648], [1000, 0]);

  it('has its nodes at kL/n and its antinodes half way between (any acoustics textbook) [exact]', () => {
    const wave = standingWave({ n: 3, length: 0.6, x, centre: 0, amplitude: 20 });
    expect(wave.nodes).toHaveLength(4);
    [0, 0.2, 0.4, 0.6].forEach((v, i) => expect(wave.nodes[i]).toBeCloseTo(v, 12));
    [0.1, 0.3, 0.5].forEach((v, i) => expect(wave.antinodes[i]).toBeCloseTo(v, 12));
  });

  it('draws ±sin(nπx/L), between the joints of its cubics too [exact]', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 40 }),
        fc.double({ min: 0.1, max: 0.648, noNaN: true }),
        (n, length) => {
          const amplitude = 1000;
          const wave = standingWave({ n, length, x, centre: 500, amplitude });
          const sign = { upper: -1, lower: 1 };
          for (const side of ['upper', 'lower'] as const) {
            const figures = wave[side].match(/-?[\d.]+/g)!.map(Number);
            // Hermite's remainder is 0.1 % of the amplitude; 0.005 px of rounding in x weighs nπ/L in y.
            const slope = (amplitude * n * Math.PI) / (1000 * (length / 0.648));
            const off = furthest(0, Math.ceil((figures.length - 7) / 6), (k) => {
              const i = 6 * k;
              // Middle of a Bézier cubic: (p0 + 3 p1 + 3 p2 + p3) / 8.
              const middle = (o: number): number =>
                (figures[i + o]! + 3 * figures[i + 2 + o]! + 3 * figures[i + 4 + o]! + figures[i + 6 + o]!) /
                8;
              const at = x.from(middle(0));
              const wanted = 500 + sign[side] * amplitude * Math.sin((n * Math.PI * at) / length);
              return middle(1) - wanted;
            });
            expect(off).toBeLessThan(0.001 * amplitude + 0.01 * slope + 0.01);
          }
        },
      ),
      seeded,
    );
  });

  it('refuses a partial that does not exist', () => {
    expect(() => standingWave({ n: 0, length: 1, x, centre: 0, amplitude: 1 })).toThrow(
      'whole number from 1; got 0',
    );
    expect(() => standingWave({ n: 1, length: 0, x, centre: 0, amplitude: 1 })).toThrow(RangeError);
  });
});

describe('bell', () => {
  it('stands on the string, as high as asked [exact]', () => {
    const { area, line } = bell({
      x: [0, 1, 2],
      value: [0, 2, 0],
      scale: linearScale([0, 2], [0, 20]),
      baseline: 50,
      height: 30,
    });
    expect(line).toBe('M0 50L10 20 20 50');
    expect(area.endsWith('Z')).toBe(true);
    const flat = bell({
      x: [0, 1],
      value: [0, 0],
      scale: linearScale([0, 2], [0, 20]),
      baseline: 50,
      height: 30,
    });
    expect(flat.line).toBe('M0 50L10 50');
    const half = bell({
      x: [0, 1, 2],
      value: [0, 2, 0],
      scale: linearScale([0, 2], [0, 20]),
      baseline: 50,
      height: 30,
      reference: 4,
    });
    expect(half.line).toBe('M0 50L10 35 20 50');
  });
});

describe('waveform', () => {
  it('shows every column’s least and greatest sample [exact]', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 800, maxLength: 2000 }),
        (samples) => {
          const path = wavePath({ samples, width: 100, centre: 0, halfHeight: 100 });
          const points = readPath(path).flatMap((r) => r.points);
          const heights = points.map(([, y]) => -y / 100);
          // Two decimals of a pixel.
          expect(Math.max(...heights)).toBeCloseTo(Math.max(...samples), 3);
          expect(Math.min(...heights)).toBeCloseTo(Math.min(...samples), 3);
          expect(points.length).toBeLessThanOrEqual(200);
          expect(points.length).toBeGreaterThanOrEqual(100);
        },
      ),
      { seed: 20240504, numRuns: 50 },
    );
  });

  it('joins single samples when there are few, and cuts what is too loud or not finite [exact]', () => {
    expect(wavePath({ samples: [0, 0.5, -2, NaN], width: 40, centre: 10, halfHeight: 10 })).toBe(
      'M0 10L10 5 20 20 30 10',
    );
    expect(
      wavePath({ samples: [0, 1, 0, -1], from: 1, to: 3, left: 5, width: 20, centre: 0, halfHeight: 10 }),
    ).toBe('M5 -10L15 0');
    expect(wavePath({ samples: [], width: 40, centre: 10, halfHeight: 10 })).toBe('');
  });
});
