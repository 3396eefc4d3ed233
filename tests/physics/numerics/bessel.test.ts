import { describe, expect, it } from 'vitest';
import {
  besselI0,
  besselI1,
  besselJ01,
  besselJ1OverJ0,
  besselK0,
  besselK1,
  sectionMean,
  wireDemagnetising,
} from '../../../src/physics/numerics/bessel.ts';

const slot = () => ({ re: 0, im: 0 });
const near = (value: number, wanted: number, relative: number) =>
  expect(Math.abs(value - wanted)).toBeLessThan(relative * Math.abs(wanted));

describe('Bessel functions', () => {
  // [paper: AbramowitzStegun], tables 9.1 (J) and 9.8 (I, K).
  it.each([
    [1, 0.7651976865579666, 0.4400505857449335],
    [2, 0.2238907791412357, 0.5767248077568734],
    [5, -0.1775967713143383, -0.3275791375914652],
    [10, -0.2459357644513483, 0.0434727461688614],
  ])('J0 and J1 at %d as tabulated [paper]', (x, J0, J1) => {
    const j0 = slot();
    const j1 = slot();
    besselJ01(x, 0, j0, j1);
    near(j0.re, J0, 1e-13);
    near(j1.re, J1, 1e-12);
    expect(Math.abs(j0.im)).toBeLessThan(1e-15);
  });

  it('J0(x e^{iπ/4}) gives the Kelvin functions ber 1 = 0.984381781, bei 1 = 0.249566040 [paper: AbramowitzStegun, table 9.12]', () => {
    // ber x + i bei x = J0(x e^{3πi/4}).
    const j0 = slot();
    besselJ01(Math.cos((3 * Math.PI) / 4), Math.sin((3 * Math.PI) / 4), j0, slot());
    expect(Math.abs(j0.re - 0.984381781)).toBeLessThan(1e-9);
    expect(Math.abs(j0.im - 0.24956604)).toBeLessThan(1e-9);
  });

  it('the ratio agrees with the functions, and with the large-argument limit −i or i [exact]', () => {
    for (const [re, im] of [
      [1, -1],
      [4, -4],
      [12, 9],
      [0.01, 0.02],
    ] as const) {
      const j0 = slot();
      const j1 = slot();
      const ratio = slot();
      besselJ01(re, im, j0, j1);
      besselJ1OverJ0(re, im, ratio);
      expect(
        Math.hypot(ratio.re * j0.re - ratio.im * j0.im - j1.re, ratio.re * j0.im + ratio.im * j0.re - j1.im),
      ).toBeLessThan(1e-12 * Math.hypot(j1.re, j1.im));
    }
    const far = slot();
    besselJ1OverJ0(5000, -5000, far);
    expect(Math.abs(far.im + 1)).toBeLessThan(1e-3);
    expect(Math.abs(far.re)).toBeLessThan(1e-3);
  });

  it.each([
    [0.1, 1.0025015629340956, 0.0500625260470927, 2.4270690247020166, 9.853844780870606],
    [1, 1.2660658777520084, 0.5651591039924851, 0.4210244382407083, 0.6019072301972346],
    [5, 27.239871823604442, 24.335642142450524, 0.0036910983340425942, 0.004044613445452164],
    [20, 43558282.55955353, 42454973.38512777, 5.741237815336524e-10, 5.883057969557038e-10],
  ])('I and K at %d as tabulated [paper]', (x, I0, I1, K0, K1) => {
    near(besselI0(x), I0, 1e-13);
    near(besselI1(x), I1, 1e-13);
    near(besselK0(x), K0, 1e-13);
    near(besselK1(x), K1, 1e-13);
  });

  it('meets the Wronskian I0 K1 + I1 K0 = 1/x [exact, DLMF 10.28.2]', () => {
    for (const x of [1e-6, 0.03, 0.7, 3, 40, 300]) {
      near(besselI0(x) * besselK1(x) + besselI1(x) * besselK0(x), 1 / x, 1e-12);
    }
  });

  it('the wire’s demagnetising factor runs from 0 to ½ and its section mean starts at 1 [exact]', () => {
    expect(wireDemagnetising(0)).toBe(0);
    near(wireDemagnetising(1), 0.5651591039924851 * 0.4210244382407083, 1e-13);
    expect(Math.abs(wireDemagnetising(1e4) - 0.5)).toBeLessThan(1e-4);
    expect(sectionMean(0)).toBe(1);
    near(sectionMean(1), 2 * 0.5651591039924851, 1e-13);
  });
});
