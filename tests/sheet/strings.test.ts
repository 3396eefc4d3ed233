import { describe, expect, it } from 'vitest';
import {
  nameStringSet,
  rewound,
  plainDensity,
  STANDARD_TUNING,
  STEEL_DENSITY,
  STRING_SETS,
  woundDensity,
  WRAP_METALS,
  wrapOf,
} from '../../src/sheet/strings.ts';
import { CHORDS, nameChord } from '../../src/sheet/presets.ts';

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

describe.each(STRING_SETS)('the set $name', ({ name, strings }) => {
  it('has six strings in standard tuning, each heavier than the one before', () => {
    expect(strings.map((s) => s.midi)).toStrictEqual(STANDARD_TUNING);
    for (let i = 1; i < 6; i++) {
      expect(strings[i]!.diameter).toBeGreaterThan(strings[i - 1]!.diameter);
      expect(strings[i]!.linearDensity).toBeGreaterThan(strings[i - 1]!.linearDensity);
    }
  });

  it('[paper] is pulled at 648 mm to between 50 N and 200 N a string, [Zollner] § 4.11', () => {
    for (const { midi, linearDensity } of strings) {
      const frequency = 440 * 2 ** ((midi - 69) / 12); // ISO 16
      const tension = linearDensity * (2 * 0.648 * frequency) ** 2;
      // The two limits are printed to one digit: 0.011 in on the second string (49 N) is still 50 N.
      expect(tension).toBeGreaterThan(45);
      expect(tension).toBeLessThan(250);
    }
  });

  it('is known by its name, in any tuning', () => {
    expect(nameStringSet(strings)).toBe(name);
    expect(nameStringSet(strings.map((s) => ({ ...s, midi: s.midi - 2 })))).toBe(name);
    expect(nameStringSet([...strings.slice(0, 5), { ...strings[5]!, core: 5e-4 }])).toBe('own strings');
    expect(nameStringSet(strings.slice(1))).toBe('own strings');
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
          expect(spec.linearDensity / before.linearDensity).toBeLessThan(1.13);
        }
      });
    }
    expect(wrapOf([...strings.slice(0, 5), { ...strings[5]!, wrap: 'bronze' }])).toBe('several');
    expect(wrapOf(strings.slice(0, 2))).toBeNull();
  });
});

describe('chords', () => {
  /** Pitch classes from C: the notes of a triad are a third (4 or 3 semitones) and a fifth (7) above the root. */
  const ROOTS: Record<string, number> = { C: 0, D: 2, E: 4, G: 7, A: 9 };

  it.each(CHORDS)('[exact] $name is its triad with the root lowest, standard tuning', ({ name, frets }) => {
    const root = ROOTS[name.charAt(0)]!;
    const third = name.endsWith('m') ? 3 : 4;
    const notes = frets.flatMap((fret, i) => (fret === null ? [] : [STANDARD_TUNING[i]! + fret]));
    const classes = new Set(notes.map((note) => (note - root) % 12));
    expect([...classes].sort((a, b) => a - b)).toStrictEqual([0, third, 7]);
    expect((Math.min(...notes) - root) % 12).toBe(0);
    expect(frets).toHaveLength(6);
    expect(nameChord(frets)).toBe(name);
  });

  it('another shape is one’s own', () => {
    expect(nameChord([0, 0, 0, 0, 0, 0])).toBe('own chord');
  });
});
