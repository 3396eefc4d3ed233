import { describe, expect, it } from 'vitest';
import { NetworkSolver, type Network } from '../../../src/physics/circuit/network.ts';
import { decibels } from '../../../src/physics/numerics/complex.ts';
import { lowPass } from './low-pass.ts';
import { transferAt } from './transferAt.ts';

const decades = Array.from({ length: 61 }, (_, i) => 20 * 10 ** (i / 20));

function gainAt(network: Network, omega: number): number {
  const { re, im } = transferAt(network, 0, omega);
  return Math.hypot(re[0]!, im[0]!);
}

describe('second-order low-pass, closed form', () => {
  // H = 1/(1 + jx/Q − x²), x = ω√(LC), Q = √(L/C)/R: any circuits textbook.
  it('[exact] level within 0.01 dB everywhere (and to rounding)', () => {
    for (const resistance of [5e3, 20e3, 150e3]) {
      const inductance = 2.4;
      const capacitance = 480e-12;
      const network = lowPass({ resistance, inductance, capacitance });
      const q = Math.sqrt(inductance / capacitance) / resistance;
      for (const f of decades) {
        const x = 2 * Math.PI * f * Math.sqrt(inductance * capacitance);
        const closed = -10 * Math.log10((1 - x * x) ** 2 + (x / q) ** 2);
        expect(Math.abs(20 * Math.log10(gainAt(network, 2 * Math.PI * f)) - closed)).toBeLessThan(1e-9);
      }
    }
  });

  // H = 1/(1 + R/Rp + s(L/Rp + RC) + s²LC), at any complex s.
  it('[exact] with a resistive load, at decaying frequencies too, and at its pole', () => {
    const [resistance, inductance, capacitance, load] = [6200, 2.4, 480e-12, 220e3];
    const network = lowPass({ resistance, inductance, capacitance, load });
    const constant = 1 + resistance / load;
    const linear = inductance / load + resistance * capacitance;
    const square = inductance * capacitance;
    for (const [a, b] of [
      [0, 2e3],
      [-300, 2.5e4],
      [500, 1e5],
    ] as const) {
      const re = constant + linear * a + square * (a * a - b * b);
      const im = linear * b + 2 * square * a * b;
      const size = re * re + im * im;
      const transfer = transferAt(network, a, b);
      expect(transfer.re[0]! * size).toBeCloseTo(re, 10);
      expect(transfer.im[0]! * size).toBeCloseTo(-im, 10);
    }
    const sigma = -linear / (2 * square);
    const omega = Math.sqrt(constant / square - sigma * sigma);
    const solver = new NetworkSolver(network);
    solver.solve(sigma * (1 + 1e-9), omega);
    // 1e-9 beside the pole the response is some hundred millions of times that on the axis.
    expect(decibels(solver.transfer.re[0]!, solver.transfer.im[0]!)).toBeGreaterThan(160);
  });

  // Core loss across L: H = (sL + Rc)/[(sL + Rc) + (R(sL + Rc) + sLRc)(1/Rp + sC)], by hand from the divider.
  it('[exact] with core loss across the inductance alone', () => {
    const [resistance, inductance, capacitance, load, coreLoss] = [7800, 4.2, 520e-12, 330e3, 400e3];
    const network = lowPass({ resistance, inductance, capacitance, load, coreLoss });
    for (const f of decades) {
      const w = 2 * Math.PI * f;
      const x = w * inductance;
      // Numerator Rc + jx; series sum (R·Rc) + j(x(R + Rc)); times (1/Rp + jwC).
      const seriesRe = resistance * coreLoss;
      const seriesIm = x * (resistance + coreLoss);
      const denominatorRe = coreLoss + seriesRe / load - seriesIm * w * capacitance;
      const denominatorIm = x + seriesIm / load + seriesRe * w * capacitance;
      const closed = Math.hypot(coreLoss, x) / Math.hypot(denominatorRe, denominatorIm);
      expect(Math.abs(20 * Math.log10(gainAt(network, w) / closed))).toBeLessThan(1e-9);
    }
  });

  it('[exact] a core loss alone sets the Q: R∥ / (ω0 L) when the wire has next to no resistance', () => {
    // Lossless but for Rc across L, which at ω0 is as good as across C: Q = Rc √(C/L) to order 1/Q².
    const [inductance, capacitance, coreLoss] = [2.4, 480e-12, 3e6];
    const network = lowPass({ resistance: 1e-3, inductance, capacitance, coreLoss });
    const q = coreLoss * Math.sqrt(capacitance / inductance);
    expect(gainAt(network, 1 / Math.sqrt(inductance * capacitance)) / q).toBeCloseTo(1, 2);
  });
});

describe('worked examples of a circuits textbook', () => {
  // [AlexanderSadiku] ch. 14, "Series resonance" (from memory).
  it('[paper] example 14.7: R 2 Ω, L 1 mH, C 0.4 µF, 20 V', () => {
    const network = lowPass({ resistance: 2, inductance: 1e-3, capacitance: 0.4e-6 });
    // The current through the loop is that through the capacitor.
    const current = (omega: number): number => 20 * omega * 0.4e-6 * gainAt(network, omega);
    // ω0 = 50 krad/s with 10 A; Q = 25, which is the gain at ω0.
    expect(current(50e3)).toBeCloseTo(10, 9);
    expect(gainAt(network, 50e3)).toBeCloseTo(25, 9);
    // Half-power frequencies printed as 49 and 51 krad/s, B = 2 krad/s, current there 7.071 A.
    const half = (from: number, to: number): number => {
      for (let i = 0; i < 60; i++) {
        const middle = (from + to) / 2;
        if (current(middle) > 10 / Math.SQRT2) from = middle;
        else to = middle;
      }
      return from;
    };
    const lower = half(50e3, 40e3);
    const upper = half(50e3, 60e3);
    expect(Math.round(lower / 1e3)).toBe(49);
    expect(Math.round(upper / 1e3)).toBe(51);
    expect((upper - lower) / 1e3).toBeCloseTo(2, 6);
    expect(current(lower).toFixed(3)).toBe('7.071');
  });

  it('[paper] practice problem 14.7: R 4 Ω, L 25 mH; Q 50 needs 0.625 µF; 7920 and 8080 rad/s; 1.25 kW', () => {
    const capacitance = 0.625e-6;
    const network = lowPass({ resistance: 4, inductance: 25e-3, capacitance });
    expect(gainAt(network, 8000)).toBeCloseTo(50, 9);
    // Power in 4 Ω at a peak of 100 V.
    const power = (omega: number): number =>
      (4 * (100 * omega * capacitance * gainAt(network, omega)) ** 2) / 2;
    expect(power(8000) / 1e3).toBeCloseTo(1.25, 9);
    // Half of it at the printed frequencies, which are rounded to 10 rad/s.
    expect(power(7920) / 1e3).toBeCloseTo(0.625, 2);
    expect(power(8080) / 1e3).toBeCloseTo(0.625, 2);
  });
});
