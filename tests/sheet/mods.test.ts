import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkSheet } from '../../src/sheet/check.ts';
import { GRADES, SHEET_METALS } from '../../src/sheet/checkBuild.ts';
import * as history from '../../src/sheet/history.ts';
import {
  bevelPoles,
  partlyDemagnetise,
  raise,
  removeTurns,
  swapGrade,
  trimScrews,
  turnMagnetOver,
  withCover,
} from '../../src/sheet/mods.ts';
import type { PickupBuild, Sheet } from '../../src/sheet/sheet.ts';
import { arbitrarySheet } from '../fixtures/arbitrarySheet.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const SEED = 25;

type Mod = (sheet: Sheet, index: number) => Sheet;

/** Evenly spread, unlike fc.double, most of whose values lie next to zero. */
const within = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1000 }).map((i) => min + ((max - min) * i) / 1000);

/** What a mod may change, as paths into the build; all else must be as it was. */
const MODS: readonly (readonly [name: string, arbitrary: fc.Arbitrary<Mod>, changes: RegExp])[] = [
  [
    'swap the grade',
    fc.constantFrom(...GRADES).map((grade) => (s, i) => swapGrade(s, i, grade)),
    /^(bar|rows\.\d\.pole)\.magnet\.grade$/,
  ],
  [
    'partly demagnetise',
    within(0, 1.2).map((charge) => (s, i) => partlyDemagnetise(s, i, charge)),
    /^(bar|rows\.\d\.pole)\.magnet\.charge$/,
  ],
  [
    'bevel the poles',
    within(-1e-3, 3e-3).map((size) => (s, i) => bevelPoles(s, i, size)),
    /^rows\.\d\.pole\.tip\.(shape|size)$/,
  ],
  [
    'trim the screws',
    within(-0.02, 0.02).map((by) => (s, i) => trimScrews(s, i, by)),
    /^rows\.\d\.pole\.length$/,
  ],
  ['raise', within(-0.005, 0.005).map((by) => (s, i) => raise(s, i, by)), /^gap(Bass|Treble)$/],
  ['remove turns', within(-0.5, 1.1).map((share) => (s, i) => removeTurns(s, i, share)), /^rows\.\d\.turns$/],
  [
    'put a cover on or take it off',
    fc.constantFrom(null, ...SHEET_METALS).map((metal) => (s, i) => withCover(s, i, metal)),
    /^cover(\.metal)?$/,
  ],
  ['turn the magnet over', fc.constant((s, i) => turnMagnetOver(s, i)), /^(bar\.turned|rows\.\d\.up)$/],
];

/** Paths at which two pieces of plain data of one shape differ. */
function differences(a: unknown, b: unknown, path = ''): string[] {
  if (typeof a !== 'object' || a === null || typeof b !== 'object' || b === null)
    return Object.is(a, b) ? [] : [path];
  const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...keys].flatMap((key) =>
    differences(
      (a as Record<string, unknown>)[key],
      (b as Record<string, unknown>)[key],
      path === '' ? key : `${path}.${key}`,
    ),
  );
}

describe.each(MODS)('%s', (_, arbitrary, changes) => {
  it('[exact] changes what it says and nothing else, keeps the sheet sound, and undo brings all back', () => {
    let changed = 0;
    fc.assert(
      fc.property(arbitrarySheet, fc.nat(3), arbitrary, (sheet, index, mod) => {
        const copy = structuredClone(sheet);
        const next = mod(sheet, index);
        expect(sheet).toStrictEqual(copy);
        if (next === sheet) return;
        changed++;
        expect(sheet.pickups[index]?.build).not.toBeNull();
        const paths = differences(sheet, next);
        expect(paths.length).toBeGreaterThan(0);
        const prefix = `pickups.${index}.build.`;
        for (const path of paths) {
          expect(path.startsWith(prefix)).toBe(true);
          expect(path.slice(prefix.length)).toMatch(changes);
        }
        expect(checkSheet(next)).toStrictEqual({ ok: true, sheet: next });
        expect(history.undo(history.record(history.newHistory(sheet), next)).present).toBe(sheet);
      }),
      { seed: SEED, numRuns: 600 },
    );
    // It must have applied often, or the test says little.
    expect(changed).toBeGreaterThan(20);
  });

  it('[exact] the very same sheet where there is no build or no pickup', () => {
    const sheet = exampleSheet();
    for (const mod of fc.sample(arbitrary, { seed: SEED, numRuns: 20 })) {
      expect(mod(sheet, 0)).toBe(sheet);
      expect(mod(builtSheet('six rods'), 7)).toStrictEqual(builtSheet('six rods'));
    }
  });
});

describe('on builds to start from', () => {
  const rods = builtSheet('six rods');
  const humbucker = builtSheet('slugs and screws beside an alnico bar');
  const buildOf = (sheet: Sheet): PickupBuild => sheet.pickups[0]!.build!;

  it('[exact] another grade and back', () => {
    const other = swapGrade(rods, 0, 'alnico 2');
    expect(buildOf(other).rows[0]!.pole.magnet).toStrictEqual({ grade: 'alnico 2', charge: 1 });
    expect(swapGrade(other, 0, 'alnico 5')).toStrictEqual(rods);
    expect(swapGrade(rods, 0, 'alnico 5')).toBe(rods);
    // The bar of steel poles, and not what the poles keep.
    const ceramic = buildOf(swapGrade(humbucker, 0, 'ceramic 8'));
    expect(ceramic.bar!.magnet.grade).toBe('ceramic 8');
    expect(ceramic.rows.map((row) => row.pole.magnet.grade)).toStrictEqual(['alnico 5', 'alnico 5']);
  });

  it('[exact] a bevel, another, and flat again; none that leaves no land', () => {
    const bevelled = bevelPoles(rods, 0, 0.001);
    expect(buildOf(bevelled).rows[0]!.pole.tip).toStrictEqual({ shape: 'chamfered', size: 0.001 });
    expect(bevelPoles(bevelled, 0, 0)).toStrictEqual(rods);
    expect(bevelPoles(rods, 0, 0.0025)).toBe(rods);
  });

  it('[exact] screws trimmed, slugs left; back to the length they had', () => {
    const trimmed = trimScrews(humbucker, 0, 0.0085);
    expect(buildOf(trimmed).rows.map((row) => row.pole.length)).toStrictEqual([0.0125, 0.0125]);
    expect(trimScrews(trimmed, 0, -0.0085)).toStrictEqual(humbucker);
    expect(trimScrews(humbucker, 0, 0.02)).toBe(humbucker);
    expect(trimScrews(rods, 0, 0.001)).toBe(rods);
  });

  it('[exact] raised and lowered, not into the strings', () => {
    const near = raise(rods, 0, 0.0002);
    expect([buildOf(near).gapBass, buildOf(near).gapTreble]).toStrictEqual([0.0024, 0.0018]);
    expect(raise(near, 0, -0.0002)).toStrictEqual(rods);
    expect(raise(rods, 0, 0.002)).toBe(rods);
  });

  it('[exact] turns unwound, both coils alike', () => {
    expect(buildOf(removeTurns(rods, 0, 0.15)).rows[0]!.turns).toBe(6800);
    expect(buildOf(removeTurns(humbucker, 0, 0.1)).rows.map((row) => row.turns)).toStrictEqual([4500, 4500]);
    expect(removeTurns(rods, 0, 1)).toBe(rods);
  });

  it('[exact] half the magnetisation, and charged again', () => {
    const weak = partlyDemagnetise(rods, 0, 0.5);
    expect(buildOf(weak).rows[0]!.pole.magnet.charge).toBe(0.5);
    expect(partlyDemagnetise(weak, 0, 1)).toStrictEqual(rods);
    expect(partlyDemagnetise(rods, 0, 1.01)).toBe(rods);
  });

  it('[exact] turned over twice is as before', () => {
    for (const sheet of [rods, humbucker]) {
      const over = turnMagnetOver(sheet, 0);
      expect(buildOf(over).rows.map((row) => row.up)).not.toStrictEqual(
        buildOf(sheet).rows.map((row) => row.up),
      );
      expect(turnMagnetOver(over, 0)).toStrictEqual(sheet);
    }
  });
});
