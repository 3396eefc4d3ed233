import { expect, it } from 'vitest';
import { gaugeDiameter, gaugeNumber } from '../../src/shape/gauges.ts';

it('[exact] is 5 mil at 36 and 460 mil at 0000, as the standard defines it [paper: ASTMB258]', () => {
  expect(gaugeDiameter(36)).toBe(127e-6);
  expect(gaugeDiameter(-3) / 11.684e-3).toBeCloseTo(1, 11);
});

// Bare diameters in µm by the formula, to the digits printed.
it.each([
  [41, 71.13],
  [42, 63.34],
  [43, 56.41],
  [44, 50.23],
])('[paper: ASTMB258] AWG %d is %d µm, and back', (gauge, µm) => {
  expect(Math.abs(gaugeDiameter(gauge) * 1e6 - µm)).toBeLessThan(0.0051);
  expect(gaugeNumber(gaugeDiameter(gauge))).toBeCloseTo(gauge, 9);
});
