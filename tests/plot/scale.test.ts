import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { linearScale, linearTicks, logScale, logTicks, niceStep } from '../../src/plot/scale.ts';

const seeded = { seed: 20240501, numRuns: 500 };
const end = fc.double({ min: -1e4, max: 1e4, noNaN: true });

describe('scales', () => {
  it('map the ends of the domain to the ends of the range, reversed ones too [exact]', () => {
    const y = linearScale([-42, 18], [400, 100]);
    expect(y.to(-42)).toBe(400);
    expect(y.to(18)).toBe(100);
    expect(y.to(-12)).toBe(250);
    const x = logScale([20, 20000], [0, 300]);
    expect(x.to(20)).toBe(0);
    expect(x.to(20000)).toBeCloseTo(300, 10);
    expect(x.to(200)).toBeCloseTo(100, 10);
    expect(x.from(200)).toBeCloseTo(2000, 9);
  });

  it('return a value after there and back [exact]', () => {
    fc.assert(
      fc.property(end, end, end, fc.double({ min: 0, max: 1, noNaN: true }), (a, b, r, t) => {
        fc.pre(Math.abs(a - b) > 1e-3);
        const value = a + (b - a) * t;
        // Identity: relative to the greatest number that takes part.
        const size = Math.abs(a) + Math.abs(b) + 1;
        const linear = linearScale([a, b], [r, r + 500]);
        expect(Math.abs(linear.from(linear.to(value)) - value)).toBeLessThan(1e-9 * size);
        const log = logScale([Math.exp(a / 1e3), Math.exp(b / 1e3)], [r, r + 500]);
        const positive = Math.exp(value / 1e3);
        expect(log.from(log.to(positive)) / positive).toBeCloseTo(1, 9);
      }),
      seeded,
    );
  });

  it('hold values inside a domain given either way round [exact]', () => {
    const scale = linearScale([648, 0], [0, 1000]);
    expect([scale.clamp(-1), scale.clamp(700), scale.clamp(162)]).toEqual([0, 648, 162]);
  });

  it('refuse an empty or unfit domain with a sentence', () => {
    expect(() => linearScale([1, 1], [0, 1])).toThrow(
      'The ends of a scale must be finite and different; got 1 and 1.',
    );
    expect(() => linearScale([0, NaN], [0, 1])).toThrow(RangeError);
    expect(() => logScale([0, 20], [0, 1])).toThrow('must be positive; got 0 and 20');
  });
});

describe('ticks of a logarithmic axis', () => {
  const ticks = logTicks(20, 20000);

  it('label 1, 2 and 5 of every decade, as on log paper [practice]', () => {
    expect(ticks.filter((t) => t.major).map((t) => t.label)).toEqual([
      '20',
      '50',
      '100',
      '200',
      '500',
      '1 k',
      '2 k',
      '5 k',
      '10 k',
      '20 k',
    ]);
    expect(ticks.filter((t) => t.major).map((t) => t.value)).toEqual([
      20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000,
    ]);
  });

  it('draw the other digits as minor lines: nine a decade, three decades and the end [exact]', () => {
    expect(ticks).toHaveLength(28);
    expect(ticks.filter((t) => !t.major).map((t) => t.value)).toEqual(
      [3, 4, 6, 7, 8, 9].flatMap((d) => [d * 10, d * 100, d * 1000]).sort((a, b) => a - b),
    );
    expect(ticks.filter((t) => !t.major).every((t) => t.label === '')).toBe(true);
  });

  it('start at the first tick inside, and name small and large values [exact]', () => {
    expect(
      logTicks(0.03, 0.6)
        .filter((t) => t.major)
        .map((t) => t.label),
    ).toEqual(['0.05', '0.1', '0.2', '0.5']);
    expect(logTicks(9e5, 3e6).map((t) => t.label)).toEqual(['', '1 M', '2 M', '']);
    expect(() => logTicks(0, 10)).toThrow(RangeError);
  });
});

describe('ticks of a linear axis', () => {
  it('take a step of 1, 2 or 5 times a power of ten that makes about as many parts as asked [exact]', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-9, max: 1e9, noNaN: true }),
        fc.integer({ min: 1, max: 20 }),
        (span, count) => {
          const step = niceStep(span, count);
          const digit = Number(step.toExponential(6).split('e')[0]);
          expect([1, 2, 5]).toContain(digit);
          // The nearest of 1, 2, 5, 10 on a logarithmic measure is at most √2.5 away.
          const ratio = step / (span / count);
          expect(ratio).toBeGreaterThan(1 / Math.sqrt(2.5) - 1e-9);
          expect(ratio).toBeLessThan(Math.sqrt(2.5) + 1e-9);
        },
      ),
      seeded,
    );
  });

  it('write signs and as many decimals as the step has [exact]', () => {
    const ticks = linearTicks(-36, 12, { step: 12, signed: true });
    expect(ticks.map((t) => t.label)).toEqual(['\u221236', '\u221224', '\u221212', '0', '+12']);
    expect(linearTicks(0, 0.4, { step: 0.1 }).map((t) => t.label)).toEqual([
      '0.0',
      '0.1',
      '0.2',
      '0.3',
      '0.4',
    ]);
    expect(linearTicks(0, 0.4, { step: 0.1 }).map((t) => t.value)).toEqual([0, 0.1, 0.2, 0.3, 0.4]);
    expect(linearTicks(0, 5, { step: 2.5 }).map((t) => t.label)).toEqual(['0.0', '2.5', '5.0']);
    expect(linearTicks(0, 0.5, { step: 0.25 }).map((t) => t.label)).toEqual(['0.00', '0.25', '0.50']);
  });

  it('choose their own step and stay inside [exact]', () => {
    expect(linearTicks(0.3, 10.2).map((t) => t.value)).toEqual([2, 4, 6, 8, 10]);
  });
});
