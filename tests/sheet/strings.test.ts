import { describe, expect, it } from 'vitest';
import {
  familyOf,
  nameStringSet,
  rewound,
  plainDensity,
  STANDARD_TUNING,
  STEEL_DENSITY,
  STRING_SETS,
  woundDensity,
  woundString,
  wrapOf,
} from '../../src/sheet/strings.ts';
import { WRAP_METALS } from '../../src/sheet/wrapMetals.ts';
import type { StringSpec } from '../../src/sheet/sheet.ts';

const INCH = 0.0254;

describe('linear densities', () => {
  // Four printed digits each: half a unit of the last is 0.00005 g/m (0.0005 g/m where only three decimals stand).
  it.each([
    [0.01, 0.3956e-3, 0.00005e-3],
    [0.013, 0.6686e-3, 0.00005e-3],
    [0.017, 1.143e-3, 0.0005e-3],
  ])(
    '[paper] plain %d in: %d kg/m in string makers’ tension tables (from memory)',
    (gauge, printed, digits) => {
      expect(Math.abs(plainDensity(gauge * INCH) - printed)).toBeLessThanOrEqual(digits);
    },
  );

  it('[practice] plain steel’s density is that of music wire in handbooks, 7850 kg/m³, within 1 %', () => {
    expect(Math.abs(STEEL_DENSITY / 7850 - 1)).toBeLessThan(0.01);
  });

  // The formula knows round wire and usual cores only; 1 % is what a core of half a thousandth more would do.
  it.each([
    [0.026, 0.013, 2.263e-3],
    [0.036, 0.016, 4.279e-3],
    [0.046, 0.016, 6.825e-3],
  ])('[paper] wound %d in over %d in: %d kg/m in the same tables, within 1 %', (gauge, core, printed) => {
    expect(Math.abs(woundDensity(gauge * INCH, core * INCH) / printed - 1)).toBeLessThan(0.01);
  });

  it('[exact] a wrap of no thickness leaves the core', () => {
    expect(woundDensity(4e-4, 4e-4)).toBe(plainDensity(4e-4));
  });
});

it('there are sets of four, five, six, seven and eight strings, no two of one name', () => {
  expect(new Set(STRING_SETS.map(({ strings }) => strings.length))).toStrictEqual(new Set([4, 5, 6, 7, 8]));
  expect(new Set(STRING_SETS.map(({ name }) => name)).size).toBe(STRING_SETS.length);
});

describe('[paper] what string makers’ tables print, in pounds (from memory), within 6 %', () => {
  /** N in a pound-force. */
  const POUND = 4.448222;
  const pull = ({ midi, linearDensity }: StringSpec, scale: number): number =>
    linearDensity * (2 * scale * 440 * 2 ** ((midi - 69) / 12)) ** 2;
  const stringsOf = (name: string) => STRING_SETS.find((set) => set.name === name)!.strings;

  // Round-wound nickel-plated bass strings at 34 in.
  it.each([
    [0, 'G2', 0.045, 42.8],
    [1, 'D2', 0.065, 51.3],
    [2, 'A1', 0.085, 48.5],
    [3, 'E1', 0.105, 40.3],
  ])('bass string %i, %s, %d in: %d lb', (i, _, gauge, pounds) => {
    const spec = stringsOf('bass, four strings, 0.045 to 0.105')[i]!;
    expect(spec.diameter).toBeCloseTo(gauge * INCH, 9);
    expect(Math.abs(pull(spec, 34 * INCH) / (pounds * POUND) - 1)).toBeLessThan(0.06);
  });

  // Nickel-plated guitar strings, kg/m from the tables' pounds an inch.
  it.each([
    [0.052, 8.591e-3],
    [0.056, 10.14e-3],
    [0.062, 12.63e-3],
    [0.08, 20.54e-3],
  ])('wound %d in weighs %d kg/m', (gauge, printed) => {
    expect(Math.abs(woundString(40, gauge * INCH).linearDensity / printed - 1)).toBeLessThan(0.06);
  });
});

describe.each(STRING_SETS)('the set $name', ({ name, family, strings }) => {
  const bass = family === 'bass';

  it('is tuned from high to low, each string heavier than the one before', () => {
    if (/^0/.test(name)) expect(strings.map((s) => s.midi)).toStrictEqual(STANDARD_TUNING);
    expect(familyOf(strings)).toBe(family);
    for (let i = 1; i < strings.length; i++) {
      expect(strings[i]!.midi).toBeLessThan(strings[i - 1]!.midi);
      expect(strings[i]!.diameter).toBeGreaterThan(strings[i - 1]!.diameter);
      expect(strings[i]!.linearDensity).toBeGreaterThan(strings[i - 1]!.linearDensity);
    }
  });

  it('[paper] is pulled at 648 mm to between 50 N and 200 N a string, [Zollner] § 4.11; a bass at 864 mm [practice]', () => {
    // A baritone is longer, the heavy strings of which would be slack on a guitar.
    const scale = bass ? 0.864 : /^baritone/.test(name) ? 0.686 : 0.648;
    for (const { midi, linearDensity } of strings) {
      const frequency = 440 * 2 ** ((midi - 69) / 12); // ISO 16
      const tension = linearDensity * (2 * scale * frequency) ** 2;
      // The two limits are printed to one digit: 0.011 in on the second string (49 N) is still 50 N.
      expect(tension).toBeGreaterThan(45);
      expect(tension).toBeLessThan(250);
    }
  });

  it('is known by its name, in any tuning', () => {
    expect(nameStringSet(strings)).toBe(name);
    expect(nameStringSet(strings.map((s) => ({ ...s, midi: s.midi - 2 })))).toBe(name);
    expect(nameStringSet([...strings.slice(0, -1), { ...strings.at(-1)!, core: 3.3e-4 }])).toBe(
      'own strings',
    );
    expect(nameStringSet(strings.slice(2))).toBe('own strings');
  });

  it('is the same set wound of any metal, and comes back as it was', () => {
    const low = strings.map((s) => ({ ...s, midi: s.midi - 2 }));
    for (const wrap of WRAP_METALS) {
      const other = rewound(low, wrap);
      expect(wrapOf(other)).toBe(wrap);
      expect(nameStringSet(other)).toBe(name);
      for (const next of WRAP_METALS) expect(rewound(other, next)).toStrictEqual(rewound(low, next));
      other.forEach((spec, i) => {
        const before = strings[i]!;
        expect(spec.midi).toBe(before.midi - 2);
        if (spec.construction === 'plain') expect(spec.linearDensity).toBe(before.linearDensity);
        // Nickel and bronze are some 13 % heavier than steel [paper: CRC, from memory]; the core's share is not.
        else if (wrap === 'nickel' || wrap === 'bronze') {
          expect(spec.linearDensity / before.linearDensity).toBeGreaterThan(1.08);
          expect(spec.linearDensity / before.linearDensity).toBeLessThan(8900 / STEEL_DENSITY);
        }
      });
    }
    expect(wrapOf([...strings, { ...strings.at(-1)!, wrap: 'bronze' }])).toBe('several');
    expect(wrapOf(strings.filter((s) => s.construction === 'plain'))).toBeNull();
  });
});
