/**
 * What makers type. Conversions are exact by definition: the inch is 25.4 mm and the foot 304.8 mm (international yard
 * and pound agreement of 1959, from memory); letters in place of a decimal sign are those of IEC 60062.
 */
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { FIGURES, type FigureKey } from '../../src/sheet/figures.ts';
import { loadReader, readFigure } from '../../src/sheet/units.ts';

beforeAll(loadReader);

describe('[exact] read', () => {
  it.each<[text: string, key: FigureKey, value: number, shown?: string]>([
    ['4.75 mm', 'focus', 0.00475],
    ['4.75mm', 'focus', 0.00475],
    ['  4.75  ', 'focus', 0.00475],
    ['4,75 mm', 'focus', 0.00475],
    ['0,254', 'stringDiameter', 0.000254],
    ['0.475 cm', 'focus', 0.00475],
    ['4750 um', 'focus', 0.00475],
    ['4750 µm', 'focus', 0.00475],
    ['4750 μm', 'focus', 0.00475],
    ['3/16 in', 'focus', 0.0047625],
    ['3/16in', 'focus', 0.0047625],
    ['1/4"', 'focus', 0.00635],
    ['1/4″', 'focus', 0.00635],
    ['¼ inch', 'focus', 0.00635],
    ['25 1/2 in', 'scaleLength', 0.6477],
    ['25½″', 'scaleLength', 0.6477],
    ['2 ft + 1.5"', 'scaleLength', 0.6477],
    ['10 thou', 'stringDiameter', 0.000254],
    ['0.010 in', 'stringDiameter', 0.000254],
    ['4.75 mm + 0.2 mm', 'focus', 0.00495],
    ['3/16 in + 0.2 mm', 'focus', 0.0049625],
    ['(3 + 2*4) mm', 'focus', 0.011],
    ['3 + 2*4', 'focus', 0.011],
    ['648 mm / 4', 'place', 0.162],
    ['25.4/2', 'focus', 0.0127],
    ['-9.5 mm', 'rowOffset', -0.0095],
    ['−9.5', 'rowOffset', -0.0095],
    ['-0', 'rowOffset', 0],
    ['9 deg', 'slant', 0.157079632679],
    ['9°', 'slant', 0.157079632679],
    ['9', 'slant', 0.157079632679],
    ['0.1 rad', 'slant', 0.1],
    ['8.2 kHz', 'readPeak', 8200],
    ['8.2k', 'readPeak', 8200],
    ['8200 hz', 'readPeak', 8200],
    ['8.2', 'readPeak', 8200],
    ['1000', 'bridge', 1000, '120 Hz'],
    ['95 mT', 'readField', 0.095],
    ['950 G', 'readField', 0.095],
    ['950 gauss', 'readField', 0.095],
    ['0.095 T', 'readField', 0.095],
    ['7.2 kohm', 'coilResistance', 7200],
    ['7.2 kΩ', 'coilResistance', 7200],
    ['7.2 k\u2126', 'coilResistance', 7200],
    ['7.2 KOhms', 'coilResistance', 7200],
    ['7200 ohm', 'coilResistance', 7200],
    ['7.2k', 'coilResistance', 7200],
    ['7.2 K', 'coilResistance', 7200],
    ['7k2', 'coilResistance', 7200],
    ['470R', 'coilResistance', 470],
    ['1M', 'potResistance', 1e6],
    ['1M5', 'potResistance', 1.5e6],
    ['3.4k + 3.8k', 'coilResistance', 7200],
    ['7.2', 'coilResistance', 7200],
    ['7.2', 'coilResistance', 7200, '6.00 kΩ'],
    ['500', 'coilResistance', 500, '470 Ω'],
    ['2', 'inputResistance', 2e6, '1.00 MΩ'],
    ['2.4 H', 'coilInductance', 2.4],
    ['2.4 h', 'coilInductance', 2.4],
    ['2.4', 'coilInductance', 2.4],
    ['150 mH', 'coilInductance', 0.15],
    ['150m', 'coilInductance', 0.15],
    ['470 pF', 'coilCapacitance', 470e-12],
    ['470 pf', 'coilCapacitance', 470e-12],
    ['470p', 'coilCapacitance', 470e-12],
    ['470', 'coilCapacitance', 470e-12],
    ['22 nF', 'toneCapacitance', 22e-9],
    ['22n', 'toneCapacitance', 22e-9],
    ['22', 'toneCapacitance', 22e-9],
    ['4n7', 'toneCapacitance', 4.7e-9],
    ['0.022 uF', 'toneCapacitance', 22e-9],
    ['0.022 µF', 'toneCapacitance', 22e-9],
    ['0.022 μF', 'toneCapacitance', 22e-9],
    ['0.022', 'toneCapacitance', 22e-9, '0.1 µF'],
    ['10 ft', 'cableLength', 3.048],
    ["10'", 'cableLength', 3.048],
    ['3', 'cableLength', 3],
    ['100 pF/m', 'cablePerMetre', 100e-12],
    ['30.48 pF/ft', 'cablePerMetre', 100e-12],
    ['80 mV·s/m', 'sensitivity', 0.08],
    ['80 mV s/m', 'sensitivity', 0.08],
    ['0.08 V*s/m', 'sensitivity', 0.08],
    ['7', 'potPosition', 0.7],
    ['70 %', 'potPosition', 0.7],
    ['10', 'potPosition', 1],
    ['0.3956 g/m', 'linearDensity', 0.3956e-3],
    ['30 ms', 'strum', 0.03],
    ['0.03 s', 'strum', 0.03],
    ['2000 ms', 'seconds', 2],
    ['12', 'fret', 12],
    ['7 + 5', 'fret', 12],
    ['1e1 mm', 'focus', 0.01],
    ['96', 'tempo', 96],
    ['112.5 bpm', 'tempo', 112.5],
    ['1.5 cents', 'detuning', 1.5],
    ['3 ¢', 'detuning', 3],
    ['80 %', 'charge', 0.8],
    ['80', 'charge', 0.8],
    ['80 per cent', 'charge', 0.8],
    ['100 % - 15 %', 'charge', 0.85],
    ['2.5', 'beat', 2.5],
    ['7 + 1/4', 'beat', 7.25],
    ['3 beats', 'beat', 3],
    ['9.5 in', 'radius', 0.2413],
    ['8000', 'turns', 8000],
    ['8000 - 15*80', 'turns', 6800],
    ['0.063 mm', 'wire', 6.3e-5],
    ['0.063', 'wire', 6.3e-5],
    ['63 µm', 'wire', 6.3e-5],
    ['2.5 thou', 'wire', 6.35e-5],
    // The gauge by its definition (ASTM B258): 36 is 5 mil, and 39 gauges are a factor of 92.
    ['36 AWG', 'wire', 0.127e-3],
    ['AWG 36', 'wire', 0.127e-3],
    ['awg42', 'wire', 6.33406501418e-5],
    ['42AWG', 'wire', 6.33406501418e-5],
    ['2 * AWG 42', 'wire', 0.000126681300284],
    ['0.0633 mm (AWG 42)', 'wire', 6.33e-5],
    ['0.07 mm (AWG 42)', 'wire', 7e-5],
  ])('%s as %s', async (text, key, value, shown) => {
    expect(await readFigure(text, key, shown)).toStrictEqual({ ok: true, value });
  });

  it('a bare number where no unit is shown that it could take is refused, if that is asked for; what has one unit alone takes it', async () => {
    expect(await readFigure('5200', 'targetPeak', null)).toStrictEqual({
      ok: false,
      message: 'Resonance must be a figure with a unit, such as 8.2 kHz; got "5200".',
    });
    expect(await readFigure('5.2k', 'targetPeak', null)).toStrictEqual({ ok: true, value: 5200 });
    expect(await readFigure('5.2 kHz', 'targetPeak', null)).toStrictEqual({ ok: true, value: 5200 });
    expect(await readFigure('2', 'wantedLevel', null)).toStrictEqual({ ok: true, value: 2 });
    expect(await readFigure('2', 'wantedQ', null)).toStrictEqual({ ok: true, value: 2 });
  });
});

describe('refused in a sentence', () => {
  it.each<[text: string, key: FigureKey, message: string]>([
    ['', 'focus', 'Focus must be a figure with a unit, such as 4.75 mm or 3/16 in; got nothing.'],
    ['abc', 'coilResistance', 'Coil resistance must be a figure with a unit, such as 7.2 kohm; got "abc".'],
    ['3 mm', 'coilResistance', 'Coil resistance must be a resistance; got 3 mm.'],
    ['3 m', 'coilResistance', 'Coil resistance must be a resistance; got 3 m.'],
    ['4 mm in cm', 'focus', 'Focus must be a length; got 4 mm in cm.'],
    ['"4 mm"', 'focus', 'Focus must be a length; got "4 mm".'],
    ['4 mm\n3 mm', 'focus', 'Focus must be a length; got 4 mm\n3 mm.'],
    ['22 nF', 'coilInductance', 'Coil inductance must be an inductance; got 22 nF.'],
    ['4 s', 'focus', 'Focus must be a length; got 4 s.'],
    ['100 pF', 'cablePerMetre', 'Cable capacitance must be a capacitance per length; got 100 pF.'],
    ['900 mm', 'place', 'Pickup place must be between 10.0 mm and 640.0 mm; got 900.0 mm.'],
    ['-5 mm', 'focus', 'Focus must be between 2.0 mm and 60.0 mm; got −5.0 mm.'],
    ['60.00001', 'focus', 'Focus must be between 2.0 mm and 60.0 mm; got 60.00001.'],
    ['7.2', 'inputResistance', 'Input resistance must be between 1.00 kΩ and 100 MΩ; got 7.20 Ω.'],
    ['11', 'potPosition', 'Pot position must be between 0.0 and 10.0; got 11.0.'],
    ['7 mm', 'potPosition', 'Pot position must be a position from 0 to 10 without a unit; got 7 mm.'],
    ['AWG 10', 'wire', 'Wire must be between 0.0200 mm and 0.5000 mm; got 2.5882 mm (AWG 10).'],
    ['AWG', 'wire', 'Wire must be a figure with a unit, such as AWG 42 or 0.063 mm; got "AWG".'],
    ['0.9', 'charge', 'Magnetisation must be between 5 % and 100 %; got 0.9 %.'],
    ['fast', 'tempo', 'Tempo must be a number of beats per minute, such as 96; got "fast".'],
    ['loud', 'potPosition', 'Pot position must be a position from 0 to 10, such as 7 or 70 %; got "loud".'],
    ['2.5', 'fret', 'Fret must be a whole number; got 2.5.'],
    ['3 mm', 'fret', 'Fret must be a whole number without a unit; got 3 mm.'],
    ['1e400', 'focus', 'Focus must be a finite figure; got 1e400.'],
    ['1/0', 'focus', 'Focus must be a finite figure; got 1/0.'],
    ['0/0 mm', 'focus', 'Focus must be a finite figure; got 0/0 mm.'],
    [
      '1,000 mm',
      'place',
      'Pickup place must be written with a point as its decimal sign; got "1,000 mm". Leave out thousands marks.',
    ],
    ['1+'.repeat(60) + '1', 'focus', 'Focus must be written in at most 80 characters; got 121.'],
  ])('%s as %s', async (text, key, message) => {
    // Over 1 Ω, a bare 7.2 is 7.2 Ω.
    expect(await readFigure(text, key, key === 'inputResistance' ? '1 Ω' : undefined)).toStrictEqual({
      ok: false,
      message,
    });
  });

  // Everything else that mathjs can do is out of reach, whatever it would give.
  it.each([
    'sqrt(4) mm',
    'f(x) = x mm',
    'x = 3 mm',
    'import({})',
    'createUnit("foo")',
    'simplify("2x")',
    'parse("2 mm")',
    'evaluate("2 mm")',
    'ones(1000, 1000)',
    '1:1e9',
    '[1, 2] mm',
    '{a: 3}',
    'true',
    'null',
    'i mm',
    '2 mm; 3 mm',
    '3!',
    '170!!!!',
    '4 mm to cm',
    '3 mm > 2 mm',
    '3 mm ? 4 mm : 5 mm',
    'not 3',
    '7 mod 4',
    '5 | 3',
    '~5',
    '1 << 3',
    'cos',
    'version',
    'constructor',
    '__proto__',
    'mm.constructor',
    'mm["constructor"]',
    '4 mm + 3',
    '4 mm + 3 kohm',
    '((((',
    '4 5 mm',
    '4.5.6 mm',
    'e mm',
    'pi',
    '😀 mm',
  ])('%s', async (text) => {
    const reading = await readFigure(text, 'focus');
    expect(reading).toStrictEqual({
      ok: false,
      message: `Focus must be a figure with a unit, such as 4.75 mm or 3/16 in; got "${text}".`,
    });
  });

  it('any text at all: a value within limits or a sentence, at once', async () => {
    const words = fc.constantFrom(
      ...[
        'mm',
        'in',
        'ohm',
        'k',
        'M',
        '"',
        "'",
        '+',
        '-',
        '*',
        '/',
        '^',
        '(',
        ')',
        ' ',
        '1',
        '4.75',
        '9e9',
        '1/0',
      ],
      ...[
        '=',
        ';',
        ':',
        '[',
        ']',
        'sqrt',
        'ones',
        'µ',
        'Ω',
        '½',
        ',',
        '%',
        '!',
        'to',
        'mod',
        'F',
        'H',
        '°',
        '\n',
      ],
    );
    const text = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 90 }),
      fc.array(words, { maxLength: 24 }).map((parts) => parts.join('')),
    );
    const key = fc.constantFrom(...(Object.keys(FIGURES) as FigureKey[]));
    await fc.assert(
      fc.asyncProperty(text, key, async (typed, of) => {
        const started = performance.now();
        const reading = await readFigure(typed, of, '1 kΩ');
        // Far more than it takes even on a busy machine, far less than anything that grows without bound.
        expect(performance.now() - started).toBeLessThan(5000);
        if (reading.ok) {
          expect(reading.value).toBeGreaterThanOrEqual(FIGURES[of].min);
          expect(reading.value).toBeLessThanOrEqual(FIGURES[of].max);
        } else expect(reading.message).toMatch(/ must be .+; got .+\.$/s);
      }),
      { seed: 22, numRuns: 3000 },
    );
  });
});
