/**
 * Magnets and steel on the bench without a coil.
 *
 * | field, pull       | those of the same with its coil, to 1e-12 [exact: a coil carries no steady current]             |
 * | a lone bar, rod   | closed forms of uniform magnetisation [exact: DerbyOlbert2010, EngelHerbert2005], mesh within 0.1 % |
 * | on a sheet        | drawn, said why nothing is heard; silent; beside a wound pickup that one alone is heard         |
 */
import { describe, expect, it } from 'vitest';
import { benchFigures } from '../../src/physics/benchFigures.ts';
import { fieldsOf } from '../../src/physics/field.ts';
import { MU0 } from '../../src/physics/numerics/constants.ts';
import type { BuiltBar, BuiltPickup } from '../../src/physics/magnetics/build/build.ts';
import { stringOverPickup } from '../../src/physics/magnetics/overPickup/stringLine.ts';
import { pickupField } from '../../src/physics/magnetics/overPickup/pickupField.ts';
import { solvePickup } from '../../src/physics/magnetics/pickup/solvePickup.ts';
import { predict } from '../../src/physics/predict.ts';
import { beginning, render } from '../../src/physics/rendered.ts';
import { liveSetup, phraseLevel } from '../../src/physics/soundingLive.ts';
import { measuredFigures } from '../../src/physics/measured.ts';
import { netlists } from '../../src/physics/outputs.ts';
import { withCoil, withoutCoil } from '../../src/sheet/looseMagnets.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { USUAL_WISH } from '../../src/benchSheet/usual.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { sixRods, stringSet, twoRows } from '../fixtures/pickups.ts';
import { cylinderFluxDensity } from './magnetics/cylinder.ts';
import { boxFluxDensity } from './magnetics/box.ts';

const unwound = (build: BuiltPickup): BuiltPickup => ({
  ...build,
  rows: build.rows.map((row) => ({ ...row, winding: null })),
});

describe('the field of a pickup without its coil', () => {
  it.each([
    ['six rods', sixRods('alnico 5')],
    ['slugs, screws and a bar', twoRows()],
  ])('is that of %s with it, and so is the pull, to 1e-12 [exact]', (_, build) => {
    const [wound, loose] = [build, unwound(build)].map((one) => pickupField(one, stringSet(), 0.1));
    for (const [i, string] of wound!.strings.entries()) {
      const other = loose!.strings[i]!;
      const same = (a: number, b: number): void => expect(Math.abs(a / b - 1)).toBeLessThan(1e-12);
      same(other.saturation, string.saturation);
      same(other.drawnDown, string.drawnDown);
      same(other.detuning.centsZ, string.detuning.centsZ);
      for (const [r, row] of string.rows.entries()) {
        same(other.rows[r]!.fluxDensity, row.fluxDensity);
        same(other.rows[r]!.fieldWidth, row.fieldWidth);
        same(other.rows[r]!.tipWidth, row.tipWidth);
        expect(other.rows[r]!.sensitivity).toBe(0);
      }
    }
    expect(loose!.coils).toEqual([]);
    expect(solvePickup(unwound(build)).cover).toBeNull();
  });
});

/** Magnetised alike everywhere, whatever field it is in. */
const UNIFORM = {
  ...{ remanence: 1, coercivity: 796e3, energyProduct: 199e3, recoil: 1, conductivity: 0 },
  law: 'straight',
} as const;
/** m over z = 0, where the string's axis runs, and of the sample that is next to the middle. */
const UP = 3e-3;
const ASIDE = 0.25e-3;

function overIt(build: Pick<BuiltPickup, 'bars'>, heights: readonly number[]): number {
  const [row] = sixRods('alnico 5').rows;
  const pole = { ...row!.pole, kind: 'rod', grade: UNIFORM, strength: 1, facing: 'north' } as const;
  const middle = stringSet()[0]!;
  const strings = [1, 0, -1].map((k) => ({ ...middle, y: 0.02 * k }));
  const gap = UP - 0.5 * middle.outerDiameter;
  const { strings: found } = pickupField(
    {
      ...{ bars: build.bars, gapBass: gap, gapTreble: gap, fretboardRadius: Infinity },
      rows: [{ ...row!, pole, heights, winding: null }],
    },
    strings,
  );
  return found[1]!.rows[0]!.fluxDensity;
}

describe('by itself on the bench', () => {
  it('a rod has the field of a uniformly magnetised cylinder, within 0.1 % [exact]', () => {
    const out = { radial: 0, axial: 0 };
    cylinderFluxDensity(1, 0.5 * 4.85e-3, 17e-3, ASIDE, UP + 8.5e-3, out);
    const wanted = Math.hypot(out.radial, out.axial);
    expect(Math.abs(overIt({ bars: [] }, [0]) / wanted - 1)).toBeLessThan(1e-3);
  });

  it.each(['x', 'z'] as const)(
    'a bar magnetised along %s that of a uniformly magnetised box, within 0.1 % [exact]',
    (axis) => {
      const size = { x: 12.5e-3, y: 60e-3, z: 4.5e-3 };
      const bar: BuiltBar = {
        ...{ grade: UNIFORM, strength: 1, size, axis, sign: 1 },
        centre: { x: 0, y: 0, z: -0.5 * size.z },
      };
      const out = { x: 0, y: 0, z: 0 };
      const along = { x: 0, y: 0, z: 0, [axis]: 1 };
      boxFluxDensity(along, size, { x: ASIDE, y: 0, z: UP + 0.5 * size.z }, out);
      const wanted = Math.hypot(out.x, out.y, out.z);
      expect(Math.abs(overIt({ bars: [bar] }, []) / wanted - 1)).toBeLessThan(1e-3);
    },
  );
});

it('the field along a string, on its slant over a wide flat bar, is that of a box everywhere, within 0.3 % of its peak [exact]', () => {
  const size = { x: 40e-3, y: 60e-3, z: 5e-3 };
  const centre = { x: 2e-3, y: 0, z: -0.5 * size.z };
  const bar: BuiltBar = { grade: UNIFORM, strength: 1, size, axis: 'z', sign: 1, centre };
  const [row] = sixRods('alnico 5').rows;
  const build: BuiltPickup = {
    ...{ bars: [bar], gapBass: UP, gapTreble: UP, fretboardRadius: Infinity },
    rows: [{ ...row!, heights: [], winding: null }],
  };
  const [slant, y] = [0.2, 10e-3];
  const { x, magnetised } = stringOverPickup(solvePickup(build), { ...stringSet()[0]!, y }, UP, slant, true);
  const out = { x: 0, y: 0, z: 0 };
  const wanted = [...x].map((at) => {
    const [c, s] = [Math.cos(slant), Math.sin(slant)];
    // The line goes through (0, y) at minus the slant; a place on it in the pickup's frame.
    const place = { x: at * c + y * s - centre.x, y: y * c - at * s, z: UP - centre.z };
    boxFluxDensity({ x: 0, y: 0, z: 1 }, size, place, out);
    return out.z / MU0;
  });
  const peak = Math.max(...wanted);
  wanted.forEach((H, i) => expect(Math.abs(magnetised.field.Hz[i]! - H)).toBeLessThan(3e-3 * peak));
});

/** The example with its first pickup loose, and only that one, or its neighbour as well, let through. */
const loose = (both: boolean): Sheet => {
  const sheet = builtSheet('six rods');
  const pickups = sheet.pickups.map((pickup, i) => ({
    ...(i === 0 ? withoutCoil(pickup) : pickup),
    sounds: i === 0 || both,
  }));
  return { ...sheet, pickups };
};

const NOTHING = 'No coil: nothing to hear.';

describe('a sheet whose selector lets only loose magnets through', () => {
  const sheet = loose(false);
  const fields = fieldsOf(sheet);
  const found = predict(sheet, fields);

  it('says why nothing is heard, and knows field and pull', () => {
    expect(found.warnings.join(' ')).toContain(NOTHING);
    const wound = builtSheet('six rods');
    const [strings, others] = [found, predict(wound)].map(({ pickups }) => pickups[0]!.strings);
    strings!.forEach(({ field, level }, i) => {
      expect(field).toEqual(others![i]!.field);
      expect(level).toBe(0);
    });
    expect(found.pickups[0]!.coils).toEqual([]);
  });

  it('is silent, and every figure is finite', () => {
    for (const { samples } of [render(sheet, fields), beginning(sheet, fields)])
      expect(samples.every((value) => value === 0)).toBe(true);
    expect(phraseLevel(sheet, fields).loudness).toBeNull();
    expect(Number.isFinite(liveSetup(sheet, 48000, null, fields).gain)).toBe(true);
    for (const { circuitDb, reachDb, placedDb } of [found.voices[found.sounding]!])
      for (const curve of [circuitDb, reachDb, placedDb]) expect(curve.every(Number.isFinite)).toBe(true);
    expect(netlists(sheet, fields)).toEqual([]);
  });

  it('has a bench sheet without readings at leads, and a measured curve is refused', () => {
    const figures = benchFigures(sheet, fields, { ...USUAL_WISH, pickup: 0 }, found);
    expect(figures).toMatchObject({ resistance: null, unloaded: null, follows: null });
    expect(figures.coils[0]).toEqual([]);
    expect(figures.strings!.every(({ tops }) => tops.every((b) => b > 0))).toBe(true);
    const points = Float64Array.from({ length: 20 }, (_, i) => 100 * 1.3 ** i);
    const wish = { of: 'circuit', pickup: 0, frequencies: points, decibels: points } as const;
    const rest = { probe: USUAL_WISH.probe, bridge: 1000, celsius: 20 };
    expect(() => measuredFigures(sheet, fields, { ...wish, ...rest })).toThrow('must have a coil');
  });
});

it('beside a wound pickup that one alone is heard, as if the other were switched off', () => {
  const both = loose(true);
  const alone = { ...both, pickups: both.pickups.map((one, i) => ({ ...one, sounds: i !== 0 })) };
  const [a, b] = [both, alone].map((sheet) => render(sheet).samples);
  expect(a).toEqual(b);
  expect(a!.some((value) => value !== 0)).toBe(true);
  const found = predict(both);
  expect(found.warnings.join(' ')).not.toContain(NOTHING);
  const other = predict(alone);
  expect(found.voices[found.sounding]!.circuitDb).toEqual(other.voices[other.sounding]!.circuitDb);
});

it('with its coil on again a pickup is as it was', () => {
  const [pickup] = builtSheet('six rods').pickups;
  expect(withCoil(withoutCoil(pickup!))).toEqual(pickup);
});
