import { describe, expect, it } from 'vitest';
import {
  copperPerMetre,
  enamelPerMetre,
  meanTurn,
  overallDiameter,
  resistancePerMetre,
  selfCapacitance,
  turnsThatFit,
  woundRadius,
} from '../../../../src/physics/magnetics/coil/wire.ts';
import { gaugeDiameter } from '../../../../src/shape/gauges.ts';
import { mutualInductance } from '../../../../src/physics/magnetics/coil/airInductance.ts';
import { cellFilaments } from '../../../../src/physics/magnetics/coil/winding.ts';
import { sixRods } from '../../../fixtures/pickups.ts';
import { isWound } from '../../../../src/physics/magnetics/build/build.ts';
import { turnsRoom } from '../../../../src/physics/magnetics/coil/turnsRoom.ts';
import { woundWindow } from '../../../../src/physics/magnetics/pickup/buildBodies.ts';

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

  // The tables of the exact diameters, ohms and pounds a thousand feet; feet an ohm and a pound follow.
  it.each([
    [30, '103.2', '0.3042'],
    [32, '164.1', '0.1913'],
    [34, '260.9', '0.1203'],
    [36, '414.8', '0.07568'],
    [37, '523.1', '0.06001'],
    [38, '659.6', '0.04759'],
    [39, '831.8', '0.03774'],
    [40, '1049', '0.02993'],
  ])(
    'AWG %d: %s Ω and %s lb a thousand feet, to the printed digits [paper: ASTMB258; NBS100, from memory]',
    (gauge, ohms, pounds) => {
      const diameter = gaugeDiameter(gauge);
      const FEET = 304.8;
      const POUND = 0.45359237;
      const half = (printed: string): number => 0.5 * 10 ** -(printed.split('.')[1]?.length ?? 0);
      const mass = (copperPerMetre(diameter) * FEET) / POUND;
      expect(Math.abs(mass - Number(pounds)), 'pounds').toBeLessThanOrEqual(1.2 * half(pounds));
      expect(Math.abs(resistancePerMetre(diameter) * FEET - Number(ohms)), 'ohms').toBeLessThanOrEqual(
        1.2 * half(ohms),
      );
    },
  );

  it('0.063 mm, 0.1 mm: as IEC 60317 prints their nominal resistance, which reckons with 58.5 MS/m [paper: IEC60317, from memory]', () => {
    for (const [diameter, ohms] of [
      [0.063e-3, 5.484],
      [0.071e-3, 4.318],
      [0.1e-3, 2.176],
    ] as const)
      expect((resistancePerMetre(diameter) * 1.7241e-8 ** -1) / 58.5e6).toBeCloseTo(ohms, 3);
  });

  it('enamel weighs a few per cent of its wire [exact: a ring of 1.2 g/cm³]', () => {
    expect(enamelPerMetre(60e-6, 70e-6)).toBeCloseTo(0.25 * Math.PI * 1300e-12 * 1200, 12);
    const share = enamelPerMetre(1, overallDiameter(1, 'single')) / copperPerMetre(1);
    expect(share).toBeGreaterThan(0.02);
    expect(share).toBeLessThan(0.05);
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

  /** A row of round-ended turns as a two-coil pickup has it, with as much wire as the measured coil. */
  const bobbin = { x: 0, y: 0, straight: 52e-3, inner: 3.1e-3, outer: 8.1e-3, bottom: -9e-3, top: -2e-3 };
  const thin = gaugeDiameter(42);
  const enamelled = overallDiameter(thin, 'single');

  // The source has no shape: two that a coil of such resistance and inductance may have, 5750 and 5450 turns.
  it.each([
    [5750, bobbin],
    [5450, { ...bobbin, straight: 55e-3, outer: 8e-3, bottom: -9.5e-3 }],
  ])(
    '%i turns: a coil of 4.42 kΩ and 1125 mH with all metal out measures 43 pF, 30 % [paper: Zollner, p. 5-111]',
    (turns, window) => {
      const cells = cellFilaments(window);
      expect(Math.abs((turns * meanTurn(window) * resistancePerMetre(thin)) / 4420 - 1)).toBeLessThan(0.03);
      expect(Math.abs((turns ** 2 * mutualInductance(cells, cells)) / 1.125 - 1)).toBeLessThan(0.12);
      expect(Math.abs(selfCapacitance(window, turns, thin, enamelled) / 43e-12 - 1)).toBeLessThan(0.3);
    },
  );

  it('stands 43 % below the closed form for turns that all touch, and 6 % below its lines of force added up [paper: Massarini1997, from memory]', () => {
    const enamel = Math.log(enamelled / thin) / 3.5;
    const edge = Math.acos(1 - enamel);
    const closed = edge / enamel + 1 / Math.tan(edge / 2) - 1 / Math.tan(Math.PI / 12);
    // In series on every line of force: twice the enamel, and the air between two circles that touch.
    const steps = 4000;
    let lines = 0;
    for (let i = 0; i < steps; i++) {
      const angle = ((i + 0.5) / steps) * (Math.PI / 6);
      lines += Math.PI / 6 / steps / (enamel + 1 - Math.cos(angle));
    }
    const pitch = Math.sqrt((5e-3 * 7e-3) / 5750);
    const layers = 5e-3 / pitch;
    // Every turn has two neighbours in the next layer.
    const cells = (each: number) =>
      ((4 / 3) * 2 * (7e-3 / pitch) * 8.8541878128e-12 * meanTurn(bobbin) * each * (layers - 1)) /
      layers ** 2;
    const ours = selfCapacitance(bobbin, 5750, thin, enamelled);
    expect(Math.abs(cells(lines) / ours / 1.06 - 1)).toBeLessThan(0.02);
    expect(Math.abs(cells(closed) / ours / 1.43 - 1)).toBeLessThan(0.02);
  });

  it('leaves 15–65 pF to leads and metal of single coils with 80–130 pF at their leads [paper: Zollner, ch. 5, from memory]', () => {
    const row = sixRods('alnico 5').rows.find(isWound)!;
    const { turns, wire, enamel } = row.winding;
    const C = selfCapacitance(woundWindow(row), turns, wire, overallDiameter(wire, enamel));
    expect(80e-12 - C).toBeGreaterThan(10e-12);
    expect(130e-12 - C).toBeLessThan(70e-12);
  });
});

describe('turns for which a window has no room [exact]', () => {
  const { winding } = sixRods('alnico 5').rows.find(isWound)!;
  const { straight, inner, edge, bottom, top, packing } = winding;
  const window = { x: 0, y: 0, straight, inner, outer: edge, bottom, top };
  const wire = gaugeDiameter(42);

  it.each([
    [11_000, 'single', 43],
    [14_000, 'single', 44],
    [15_000, 'heavy', 45],
    [20_000, 'heavy', 46],
    [30_000, 'heavy', null],
  ] as const)('%d of AWG 42, %s enamel: AWG %s takes them, and no thicker', (turns, enamel, gauge) => {
    const room = turnsRoom({ window, turns, wire, enamel, packing });
    const fit = (n: number): number =>
      turnsThatFit(window, overallDiameter(gaugeDiameter(n), enamel), packing);
    expect(room.fit).toBe(fit(42));
    expect(room.fit).toBeLessThan(turns);
    expect(room.gauge).toBe(gauge);
    if (gauge !== null) {
      expect(fit(gauge)).toBeGreaterThanOrEqual(turns);
      expect(fit(gauge - 1)).toBeLessThan(turns);
    } else expect(fit(46)).toBeLessThan(turns);
  });

  it('the window that is named takes them, and one 0.1 mm narrower does not', () => {
    const { outer } = turnsRoom({ window, turns: 11_000, wire, enamel: 'single', packing });
    const overall = overallDiameter(wire, 'single');
    expect(turnsThatFit({ ...window, outer }, overall, packing)).toBeGreaterThanOrEqual(11_000);
    expect(turnsThatFit({ ...window, outer: outer - 1e-4 }, overall, packing)).toBeLessThan(11_000);
    expect(Math.abs((outer * 1e5) / 5 - Math.round((outer * 1e5) / 5))).toBeLessThan(1e-6);
  });

  it('wire between two gauges is followed by the next finer one', () => {
    const room = turnsRoom({ window, turns: 11_000, wire: 0.0634e-3, enamel: 'single', packing });
    expect(room.gauge).toBe(43);
  });
});
