import { describe, expect, it } from 'vitest';
import { curveFeatures, qOfHeight } from '../../../src/physics/circuit/features.ts';
import { NetworkSolver } from '../../../src/physics/circuit/network.ts';
import { decibels } from '../../../src/physics/numerics/complex.ts';
import { lowPass } from './low-pass.ts';

function grid(count: number): Float64Array {
  return Float64Array.from({ length: count }, (_, i) => 20 * 1000 ** (i / (count - 1)));
}

function featuresOf(levelDbAt: (f: number) => number, count = 512): ReturnType<typeof curveFeatures> {
  const frequencies = grid(count);
  return curveFeatures(levelDbAt, frequencies, frequencies.map(levelDbAt));
}

function circuitLevel(parts: Parameters<typeof lowPass>[0]): (f: number) => number {
  const solver = new NetworkSolver(lowPass(parts));
  return (f) => {
    solver.solve(0, 2 * Math.PI * f);
    return decibels(solver.transfer.re[0]!, solver.transfer.im[0]!);
  };
}

describe('resonance against the closed form of the second-order low-pass', () => {
  // f_peak = f0 √(1 − 1/(2Q²)), height Q/√(1 − 1/(4Q²)): [Ogata2010] § 7-2, with ζ = 1/(2Q).
  for (const q of [0.8, 1, 1.7, 3, 8]) {
    it(`[exact] Q ${q}: frequency, height within 0.01 dB, Q`, () => {
      const inductance = 2.4;
      const capacitance = 550e-12;
      const f0 = 1 / (2 * Math.PI * Math.sqrt(inductance * capacitance));
      const resistance = Math.sqrt(inductance / capacitance) / q;
      const { resonance } = featuresOf(circuitLevel({ resistance, inductance, capacitance }));
      expect(Math.abs(resonance!.frequency / (f0 * Math.sqrt(1 - 1 / (2 * q * q))) - 1)).toBeLessThan(1e-6);
      expect(
        Math.abs(resonance!.heightDb - 20 * Math.log10(q / Math.sqrt(1 - 1 / (4 * q * q)))),
      ).toBeLessThan(0.01);
      // The height counts from 20 Hz rather than from zero frequency: (20 Hz/f0)² is 3e-5 of the amplitude.
      expect(Math.abs(resonance!.q / q - 1)).toBeLessThan(2e-4);
    });
  }

  it('[exact] a coarse grid finds the same resonance', () => {
    const level = circuitLevel({ resistance: 14e3, inductance: 2.4, capacitance: 550e-12 });
    const fine = featuresOf(level, 2048);
    const coarse = featuresOf(level, 48);
    expect(coarse.resonance!.frequency / fine.resonance!.frequency).toBeCloseTo(1, 6);
    expect(coarse.resonance!.heightDb).toBeCloseTo(fine.resonance!.heightDb, 10);
    expect(coarse.cutoff! / fine.cutoff!).toBeCloseTo(1, 6);
  });

  it('[exact] Q of a height inverts the height of a Q', () => {
    for (const q of [0.72, 1, 2.5, 40]) {
      expect(qOfHeight(20 * Math.log10(q / Math.sqrt(1 - 1 / (4 * q * q))))).toBeCloseTo(q, 8);
    }
  });
});

describe('cutoff', () => {
  it('[exact] of a maximally flat low-pass: (f/f0)⁴ = 10^0.3 − 1, and no resonance', () => {
    const inductance = 2.4;
    const capacitance = 550e-12;
    const f0 = 1 / (2 * Math.PI * Math.sqrt(inductance * capacitance));
    const resistance = Math.sqrt((2 * inductance) / capacitance);
    const { resonance, cutoff } = featuresOf(circuitLevel({ resistance, inductance, capacitance }));
    expect(resonance).toBeNull();
    expect(cutoff! / (f0 * (10 ** 0.3 - 1) ** 0.25)).toBeCloseTo(1, 6);
  });
  it('[exact] is the last of several crossings', () => {
    // Falls 3 dB at 500 Hz, is back up to +1 dB by 5 kHz and falls at 12 dB an octave from 8 kHz.
    const points: [number, number][] = [
      [20, 0],
      [250, 0],
      [1000, -6],
      [5000, 1],
      [8000, 1],
      [16000, -11],
      [32000, -23],
    ];
    const level = (f: number): number => {
      const i = Math.max(
        1,
        points.findIndex(([at]) => f < at),
      );
      const [fa, a] = points[i - 1]!;
      const [fb, b] = points[i]!;
      return a + ((b - a) * Math.log(f / fa)) / Math.log(fb / fa);
    };
    const { cutoff } = featuresOf(level);
    expect(cutoff! / (8000 * 2 ** (4 / 12))).toBeCloseTo(1, 6);
  });
  it('[exact] is null beyond 20 kHz, at 20 kHz found', () => {
    expect(featuresOf(() => -7).cutoff).toBeNull();
    expect(featuresOf((f) => -3.5 * (f / 20000) ** 8).cutoff).toBeGreaterThan(19000);
    expect(featuresOf((f) => -2.9 * (f / 20000) ** 8).cutoff).toBeNull();
  });
});

describe('no resonance', () => {
  it('[exact] flat, falling, and a hump below the level at 20 Hz', () => {
    expect(featuresOf(() => 0).resonance).toBeNull();
    expect(featuresOf((f) => -f / 1000).resonance).toBeNull();
    expect(
      featuresOf((f) => -6 * Math.log10(f / 20) + 3 * Math.exp(-((Math.log(f / 3000) / 0.1) ** 2))).resonance,
    ).toBeNull();
  });
  it('[exact] coils that cancel have nothing but a low level', () => {
    expect(featuresOf(() => -Infinity)).toEqual({ lowDb: -Infinity, resonance: null, cutoff: null });
  });
});
