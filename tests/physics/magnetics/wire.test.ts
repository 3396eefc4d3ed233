import { describe, expect, it } from 'vitest';
import {
  gaugeDiameter,
  meanTurn,
  overallDiameter,
  resistancePerMetre,
  selfCapacitance,
  turnsThatFit,
  woundRadius,
} from '../../../src/physics/magnetics/wire.ts';
import { sixRods } from '../../fixtures/pickups.ts';
import { woundWindow } from '../../../src/physics/magnetics/buildBodies.ts';

describe('magnet wire', () => {
  // [paper: ASTMB258]: diameter by formula, µm; Ω/m at 20 °C for that diameter, IACS copper.
  it.each([
    [41, 71.13, 4.339],
    [42, 63.34, 5.472],
    [43, 56.41, 6.9],
    [44, 50.23, 8.7],
  ])('AWG %d: %d µm, %d Ω/m, to the printed digits [paper: ASTMB258; NBS100]', (gauge, µm, ohms) => {
    expect(Math.abs(gaugeDiameter(gauge) * 1e6 - µm)).toBeLessThan(0.0051);
    expect(Math.abs(resistancePerMetre(gaugeDiameter(gauge)) - ohms)).toBeLessThan(
      0.00051 * (ohms > 6 ? 2 : 1),
    );
  });

  it('printed tables of the rounded diameter, AWG 41–44 [paper: ASTMB258, from memory]', () => {
    for (const [µm, ohms] of [
      [71.1, 4.34],
      [63.5, 5.444],
      [55.9, 7.03],
      [50.8, 8.507],
    ] as const) {
      // The tables round the diameter to a ten-thousandth of an inch and the resistance to four digits.
      expect(Math.abs(resistancePerMetre(µm * 1e-6) / ohms - 1)).toBeLessThan(2.5e-3);
    }
  });

  it('copper rises by 0.393 % a kelvin [paper: NBS100]', () => {
    expect(resistancePerMetre(1e-4, 30) / resistancePerMetre(1e-4, 20)).toBeCloseTo(1.0393, 12);
  });

  it('single build: AWG 42 71 µm, AWG 43 63.5 µm, 5 % [paper: NEMAMW1000, from memory]', () => {
    expect(Math.abs(overallDiameter(gaugeDiameter(42), 'single') / 71e-6 - 1)).toBeLessThan(0.05);
    expect(Math.abs(overallDiameter(gaugeDiameter(43), 'single') / 63.5e-6 - 1)).toBeLessThan(0.05);
  });

  it('turns that fit and the radius they reach are each other’s inverse [exact]', () => {
    const window = { x: 0, y: 0, straight: 0.05, inner: 3e-3, outer: 8e-3, bottom: -12e-3, top: -2e-3 };
    const turns = turnsThatFit(window, 71e-6, 0.85);
    const reached = woundRadius(3e-3, 10e-3, turns, 71e-6, 0.85);
    expect(reached).toBeLessThanOrEqual(8e-3);
    expect(woundRadius(3e-3, 10e-3, turns + 1, 71e-6, 0.85)).toBeGreaterThan(8e-3);
    // Two straight sides and a circle of the mean radius.
    expect(meanTurn(window)).toBeCloseTo(0.1 + 2 * Math.PI * 5.5e-3, 15);
  });

  it('self-capacitance of 8000 turns lies among the trade’s 50–130 pF [practice]', () => {
    const row = sixRods('alnico 5').rows[0]!;
    const { turns, wire, enamel } = row.winding;
    const C = selfCapacitance(woundWindow(row), turns, wire, overallDiameter(wire, enamel));
    expect(C).toBeGreaterThan(50e-12);
    expect(C).toBeLessThan(130e-12);
  });
});
