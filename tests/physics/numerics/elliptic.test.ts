import { describe, expect, it } from 'vitest';
import { cel, ellipticE, ellipticK } from '../../../src/physics/numerics/elliptic.ts';
import { gaussLegendre } from '../../../src/physics/numerics/quadrature.ts';

describe('complete elliptic integrals', () => {
  // [paper: AbramowitzStegun], table 17.1.
  it.each([
    [0, 1.570796326794897, 1.570796326794897],
    [0.5, 1.854074677301372, 1.350643881047675],
    [0.9, 2.578092113348173, 1.104774732704073],
    [0.99, 3.695637362989875, 1.015993545025224],
  ])('K and E at m = %d as tabulated [paper]', (m, K, E) => {
    expect(Math.abs(ellipticK(m) / K - 1)).toBeLessThan(1e-14);
    expect(Math.abs(ellipticE(m) / E - 1)).toBeLessThan(1e-14);
  });

  it('meets Legendre’s relation E K′ + E′ K − K K′ = π/2 [exact]', () => {
    for (const m of [0.01, 0.2, 0.5, 0.77, 0.999]) {
      const K = ellipticK(m);
      const E = ellipticE(m);
      const K1 = ellipticK(1 - m);
      const E1 = ellipticE(1 - m);
      expect(Math.abs(E * K1 + E1 * K - K * K1 - Math.PI / 2)).toBeLessThan(1e-13);
    }
  });

  it('cel contains K, E and Π [exact]', () => {
    const m = 0.64;
    const kc = Math.sqrt(1 - m);
    expect(cel(kc, 1, 1, 1)).toBeCloseTo(ellipticK(m), 13);
    expect(cel(kc, 1, 1, 1 - m)).toBeCloseTo(ellipticE(m), 13);
    // Π(n, 0) = π / (2 √(1−n)).
    expect(cel(1, 0.36, 1, 1)).toBeCloseTo(Math.PI / 2 / 0.6, 13);
  });

  it('cel agrees with direct quadrature of its definition [exact]', () => {
    const { x, w } = gaussLegendre(120);
    for (const [kc, p, a, b] of [
      [0.3, 0.2, 1, -2],
      [0.7, 5, 0.3, 1],
      [1.4, 0.8, -1, 2],
    ] as const) {
      let sum = 0;
      x.forEach((t, i) => {
        const phi = (Math.PI / 4) * (1 + t);
        const c = Math.cos(phi) ** 2;
        const s = 1 - c;
        sum += ((Math.PI / 4) * w[i]! * (a * c + b * s)) / (c + p * s) / Math.sqrt(c + kc * kc * s);
      });
      expect(Math.abs(cel(kc, p, a, b) - sum)).toBeLessThan(1e-12);
    }
  });

  it('refuses a parameter out of range in words', () => {
    expect(() => ellipticK(1)).toThrow('parameter of K must be below 1; got 1');
    expect(() => ellipticE(1.5)).toThrow('parameter of E must be at most 1; got 1.5');
    expect(cel(0.5, -1, 1, 1)).toBeNaN();
  });
});
