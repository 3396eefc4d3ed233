import fc from 'fast-check';
import { expect, it } from 'vitest';
import { STARTING_BUILDS, withBuild } from '../../src/sheet/builds.ts';
import { levelOfString, withHandReach } from '../../src/sheet/handReach.ts';
import { rowOnString, stringAcross, stringUnderside } from '../../src/sheet/stringHeight.ts';
import { stringHeights, type StringAbove } from '../../src/physics/magnetics/overPickup/stringLine.ts';
import { rowCrossing, stringOffset } from '../../src/physics/string/place.ts';
import { stringLevel } from '../../src/physics/string/reach.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { arbitrarySheet } from '../fixtures/arbitrarySheet.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

const SEED = 26;

it('[exact] strings and rows lie where the computation has them', () => {
  fc.assert(
    fc.property(arbitrarySheet, fc.integer({ min: 1, max: 6 }), fc.nat(2), (sheet, string, i) => {
      const { instrument } = sheet;
      const pickup = sheet.pickups[i % sheet.pickups.length]!;
      for (const { offset } of pickup.rows)
        expect(rowOnString(instrument, pickup, offset, string)).toBeCloseTo(
          rowCrossing(instrument, pickup, offset, string),
          12,
        );
      expect(stringAcross(instrument, string, pickup.place)).toBeCloseTo(
        stringOffset(instrument, string, pickup.place),
        12,
      );
      const spec = instrument.strings[string - 1]!;
      expect(levelOfString(spec)).toBeCloseTo(stringLevel(spec), 12);
    }),
    { seed: SEED, numRuns: 200 },
  );
});

it.each(STARTING_BUILDS.map((start) => start.name))('[exact] undersides of the strings over %s', (name) => {
  const sheet = builtSheet(name);
  const { instrument } = sheet;
  for (const slant of [0, 0.2]) {
    const pickup = { ...sheet.pickups[0]!, slant };
    const build = pickup.build!;
    const strings = instrument.strings.map(
      (spec, s) =>
        ({
          y: stringOffset(instrument, s + 1, rowCrossing(instrument, pickup, 0, s + 1)),
          outerDiameter: spec.diameter,
        }) as StringAbove,
    );
    const engine = {
      ...build,
      fretboardRadius: instrument.radius,
      bars: [],
      rows: [],
      cover: null,
      basePlate: null,
    };
    stringHeights(engine, strings).forEach((axis, s) => {
      const underside = axis - instrument.strings[s]!.diameter / 2;
      expect(stringUnderside(instrument, pickup, build, s + 1)).toBeCloseTo(underside, 12);
    });
    // The gaps are those of the outer strings.
    expect(stringUnderside(instrument, pickup, build, 6)).toBeCloseTo(build.gapBass, 12);
    expect(stringUnderside(instrument, pickup, build, 1)).toBeCloseTo(build.gapTreble, 12);
  }
});

it('[exact] a reach set by hand has the width and the area that were measured, on that string', () => {
  const sheet = withBuild(builtSheet('six rods'), 1, STARTING_BUILDS[5]!);
  const measured = [
    { width: 0.0123, area: -0.031 },
    { width: 0.0117, area: 0.028 },
  ];
  for (const string of [1, 4]) {
    const next = withHandReach(sheet, 1, string, measured);
    expect(checkSheet(next)).toStrictEqual({ ok: true, sheet: next });
    const pickup = next.pickups[1]!;
    expect(pickup.reachBy).toBe('hand');
    expect(pickup.build).toBe(sheet.pickups[1]!.build);
    const level = stringLevel(next.instrument.strings[string - 1]!);
    pickup.rows.forEach(({ reach }, r) => {
      expect(reach.width).toBe(measured[r]!.width);
      // Three digits are kept.
      const ratio = (reach.sensitivity * level) / Math.abs(measured[r]!.area);
      expect(Math.abs(ratio - 1)).toBeLessThan(5e-3);
    });
    expect(next.pickups[0]).toBe(sheet.pickups[0]);
  }
});
