import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clampFigure, FIGURES, snapFigure, type FigureKey } from '../../src/sheet/figures.ts';
import { formatFigure, readFigure, sayFigure, UNITS } from '../../src/sheet/units.ts';
import { gaugeDiameter } from '../../src/shape/gauges.ts';
import { gaugeOf } from '../../src/sheet/wireGauge.ts';
import { arbitraryFigure } from '../fixtures/arbitraryFigure.ts';

const KEYS = Object.keys(FIGURES) as FigureKey[];
const SEED = 21;

/** Values are rounded to twelve significant digits when read; half a unit of the twelfth, relative. */
const IDENTITY = 1e-11;

describe.each(KEYS)('%s', (key) => {
  const figure = FIGURES[key];

  it('[exact] has sound limits and steps', () => {
    expect(figure.min).toBeLessThan(figure.max);
    const least = figure.scale === 'log' ? 1 : 0;
    expect(figure.step).toBeGreaterThan(least);
    expect(figure.page).toBeGreaterThan(figure.step);
    if (figure.scale === 'log') expect(figure.min).toBeGreaterThan(0);
    const symbols = UNITS[figure.unit].shown.map((unit) => unit.symbol);
    expect(symbols).toContain(figure.bare ?? UNITS[figure.unit].bare);
  });

  it('[exact] its limits can be typed as they are shown', async () => {
    for (const limit of [figure.min, figure.max])
      expect(await readFigure(formatFigure(limit, key), key)).toStrictEqual({ ok: true, value: limit });
  });

  it('[exact] what is shown reads back to the digits shown', async () => {
    await fc.assert(
      fc.asyncProperty(arbitraryFigure(key), async (value) => {
        const shown = formatFigure(value, key);
        const reading = await readFigure(shown, key);
        if (!reading.ok) throw new Error(reading.message);
        expect(formatFigure(reading.value, key)).toBe(shown);
        // A bare number over what is shown means the same.
        expect(await readFigure(shown.replace(/\s*[^\d.−]*( \(AWG \d+\))?$/, ''), key, shown)).toStrictEqual(
          reading,
        );
        // Log figures show four significant digits; linear ones at least a hundredth of a step.
        const most =
          figure.scale === 'log' ? Math.abs(value) * 5.1e-4 : figure.step * 0.51 + Math.abs(value) * 5.1e-4;
        expect(Math.abs(reading.value - value)).toBeLessThanOrEqual(most);
      }),
      { seed: SEED, numRuns: 100 },
    );
  });

  it('[exact] a value left by a drag is shown in full and read back as it was', async () => {
    await fc.assert(
      fc.asyncProperty(arbitraryFigure(key), async (any) => {
        const value = snapFigure(any, key);
        const reading = await readFigure(formatFigure(value, key), key);
        expect(reading.ok && Math.abs(reading.value - value) <= Math.abs(value) * IDENTITY).toBe(true);
      }),
      { seed: SEED, numRuns: 100 },
    );
  });

  it('[exact] snapping stays within limits and does nothing the second time', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (any) => {
        const value = snapFigure(any, key);
        expect(value).toBe(clampFigure(value, key));
        expect(snapFigure(value, key)).toBe(value);
      }),
      { seed: SEED },
    );
  });

  it('is said aloud with a unit where it has one', () => {
    const said = sayFigure(figure.max, key);
    expect(said).toMatch(
      figure.unit === 'note'
        ? /^[A-G]( sharp| flat)?\s?\d$/
        : figure.unit === 'count'
          ? /^\d+$/
          : /^(minus )?[\d.]+ [a-z]/,
    );
  });
});

describe('shown to a maker', () => {
  it.each<[number, FigureKey, string]>([
    [0.00475, 'focus', '4.75 mm'],
    [0.0112, 'focus', '11.2 mm'],
    [0.03, 'focus', '30.0 mm'],
    [0.1585, 'place', '158.5 mm'],
    [7200, 'coilResistance', '7.20 kΩ'],
    [7215, 'coilResistance', '7.215 kΩ'],
    [999.96, 'coilResistance', '1.00 kΩ'],
    [470, 'coilResistance', '470 Ω'],
    [500e3, 'potResistance', '500 kΩ'],
    [1e6, 'inputResistance', '1.00 MΩ'],
    [2.34, 'coilInductance', '2.34 H'],
    [0.15, 'coilInductance', '150 mH'],
    [470e-12, 'coilCapacitance', '470 pF'],
    [22e-9, 'toneCapacitance', '22 nF'],
    [4.7e-9, 'toneCapacitance', '4.7 nF'],
    [0, 'inputCapacitance', '0 pF'],
    [0.7, 'potPosition', '7.0'],
    [1, 'potPosition', '10.0'],
    [3, 'cableLength', '3.0 m'],
    [100e-12, 'cablePerMetre', '100 pF/m'],
    [0.08, 'sensitivity', '80 mV·s/m'],
    [0.3956e-3, 'linearDensity', '0.3956 g/m'],
    [-0.0095, 'rowOffset', '−9.5 mm'],
    [-1e-9, 'rowOffset', '0.0 mm'],
    [Math.PI / 20, 'slant', '9.0°'],
    [0.03, 'strum', '30 ms'],
    [12, 'fret', '12'],
    [96, 'tempo', '96 bpm'],
    [0.85, 'charge', '85 %'],
    [0.855, 'charge', '85.5 %'],
    [2.25, 'beat', '2.25'],
    [8000, 'turns', '8000'],
    [0.00485, 'poleDiameter', '4.85 mm'],
    [-0.013, 'windowBottom', '−13.0 mm'],
    [0.241, 'radius', '241 mm'],
    [0.0000633, 'wire', '0.0633 mm (AWG 42)'],
    [0.00006334, 'wire', '0.0633 mm (AWG 42)'],
    [0.000063, 'wire', '0.0630 mm'],
    [0.000127, 'wire', '0.1270 mm (AWG 36)'],
  ])('%d %s is %s', (value, key, text) => {
    expect(formatFigure(value, key)).toBe(text);
  });

  it.each<[number, FigureKey, string]>([
    [0.00475, 'focus', '4.75 millimetres'],
    [7200, 'coilResistance', '7.20 kilohms'],
    [0.7, 'potPosition', '7.0 of 10'],
    [-0.0095, 'rowOffset', 'minus 9.5 millimetres'],
    [5, 'fret', '5'],
    [0.85, 'charge', '85 per cent'],
    [96, 'tempo', '96 beats per minute'],
    [0.0000633, 'wire', '0.0633 millimetres, AWG 42'],
  ])('%d %s is said %s', (value, key, text) => {
    expect(sayFigure(value, key)).toBe(text);
  });
});

// Bare diameters in thousandths of an inch as wire tables print them after ASTM B258 (from memory).
it.each([
  [36, 5],
  [38, 4],
  [40, 3.1],
  [41, 2.8],
  [42, 2.5],
  [43, 2.2],
  [44, 2],
])('[paper] AWG %i is %d mil, to the digits printed', (gauge, mil) => {
  expect(Number((gaugeDiameter(gauge) / 25.4e-6).toFixed(1))).toBe(mil);
  expect(gaugeOf(gaugeDiameter(gauge))).toBe(gauge);
});
