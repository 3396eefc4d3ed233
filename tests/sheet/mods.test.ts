import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkSheet } from '../../src/sheet/check.ts';
import { MAGNET_GRADES, PLATE_METALS } from '../../src/shape/materials.ts';
import * as history from '../../src/sheet/history.ts';
import * as mods from '../../src/sheet/mods.ts';
import type { PickupBuild, Pole, Sheet } from '../../src/sheet/sheet.ts';
import { arbitrarySheet } from '../fixtures/arbitrarySheet.ts';
import { withStartingSteel } from '../../src/sheet/startingBlocks.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import {
  bevelPoles,
  partlyDemagnetise,
  raise,
  removeTurns,
  swapGrade,
  trimScrews,
  turnMagnetOver,
  withCover,
} from '../fixtures/mods.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const SEED = 25;
/** To make a random sheet takes longer than what is done with it: each serves many times. */
const SHEETS = fc.sample(arbitrarySheet, { seed: SEED, numRuns: 900 });
const anySheet = fc.nat(SHEETS.length - 1).map((at) => SHEETS[at]!);

type Mod = (sheet: Sheet, index: number) => mods.Modded;

/** Evenly spread, unlike fc.double, most of whose values lie next to zero. */
const within = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: 1000 }).map((i) => min + ((max - min) * i) / 1000);

/** What a mod may change, as paths into the build; all else must be as it was. */
const MODS: readonly (readonly [name: string, arbitrary: fc.Arbitrary<Mod>, changes: RegExp])[] = [
  [
    'swap the grade',
    fc.constantFrom(...MAGNET_GRADES).map((grade) => (s, i) => mods.swapGrade(s, i, grade)),
    /^(bars\.\d|rows\.\d\.pole)\.magnet\.grade$/,
  ],
  [
    'partly demagnetise',
    within(0, 1.2).map((charge) => (s, i) => mods.partlyDemagnetise(s, i, charge)),
    /^(bars\.\d|rows\.\d\.pole)\.magnet\.charge$/,
  ],
  [
    'bevel the poles',
    within(-1e-3, 3e-3).map((size) => (s, i) => mods.bevelPoles(s, i, size)),
    /^rows\.\d\.pole\.tip\.(shape|size)$/,
  ],
  [
    'trim the screws',
    within(-0.02, 0.02).map((by) => (s, i) => mods.trimScrews(s, i, by)),
    /^rows\.\d\.pole\.length$/,
  ],
  ['raise', within(-0.005, 0.005).map((by) => (s, i) => mods.raise(s, i, by)), /^gap(Bass|Treble)$/],
  [
    'remove turns',
    within(-0.5, 1.1).map((share) => (s, i) => mods.removeTurns(s, i, share)),
    /^rows\.\d\.turns$/,
  ],
  [
    'put a cover on or take it off',
    fc.constantFrom(null, ...PLATE_METALS).map((metal) => (s, i) => mods.withCover(s, i, metal)),
    /^cover(\.metal)?$/,
  ],
  [
    'put a keeper under it or take it off',
    fc.constantFrom(mods.putKeeperUnder, mods.takeKeeperOff),
    /^steel\.\d(\.\w+)?$/,
  ],
  [
    'turn the magnet over',
    fc.constant((s, i) => mods.turnMagnetOver(s, i)),
    /^(bars\.\d\.turned|rows\.\d\.up)$/,
  ],
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
      fc.property(anySheet, fc.nat(3), arbitrary, (sheet, index, mod) => {
        const copy = structuredClone(sheet);
        const made = mod(sheet, index);
        expect(sheet).toStrictEqual(copy);
        if (!made.ok) {
          expect(made.message).toMatch(/^[A-Z].*\.$/);
          return;
        }
        const next = made.sheet;
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

  it('[exact] is refused where there is no build or no pickup', () => {
    for (const mod of fc.sample(arbitrary, { seed: SEED, numRuns: 20 })) {
      expect(mod(exampleSheet(), 0).ok).toBe(false);
      expect(mod(builtSheet('six rods'), 7).ok).toBe(false);
    }
  });
});

describe('on builds to start from', () => {
  const rods = builtSheet('six rods');
  const humbucker = builtSheet('slugs and screws beside an alnico bar');
  const buildOf = (sheet: Sheet): PickupBuild => sheet.pickups[0]!.build!;

  it('[exact] a keeper touches the rods’ feet, is taken off again, and is put on but once', () => {
    const kept = mods.putKeeperUnder(rods, 0);
    if (!kept.ok) throw new Error(kept.message);
    const [plate] = buildOf(kept.sheet).steel;
    const { pole } = buildOf(rods).rows[0]!;
    expect(plate!.top).toBe(-pole.length);
    expect(mods.putKeeperUnder(kept.sheet, 0)).toEqual({
      ok: false,
      message: 'A keeper lies under this pickup already.',
    });
    expect(mods.takeKeeperOff(kept.sheet, 0)).toEqual({ ok: true, sheet: rods });
    expect(mods.takeKeeperOff(rods, 0)).toEqual({
      ok: false,
      message: 'This pickup has no keeper to take off.',
    });
  });

  it('[exact] a wall is no keeper, and a plate between coils and strings is none', () => {
    const wall = withStartingSteel(rods.pickups[0]!, 'wall')!;
    const [piece] = withStartingSteel(rods.pickups[0]!, 'keeper plate')!.steel;
    for (const build of [wall, { ...buildOf(rods), steel: [{ ...piece!, top: -0.001, width: 0.002 }] }])
      expect(mods.keeperOf({ ...rods.pickups[0]!, build })).toBe(-1);
  });

  it('[exact] another grade and back', () => {
    const other = swapGrade(rods, 0, 'alnico 2');
    expect(buildOf(other).rows[0]!.pole.magnet).toStrictEqual({ grade: 'alnico 2', charge: 1 });
    expect(swapGrade(other, 0, 'alnico 5')).toStrictEqual(rods);
    // The bar of steel poles, and not what the poles keep.
    const ceramic = buildOf(swapGrade(humbucker, 0, 'ceramic 8'));
    expect(ceramic.bars[0]!.magnet.grade).toBe('ceramic 8');
    expect(ceramic.rows.map((row) => row.pole.magnet.grade)).toStrictEqual(['alnico 5', 'alnico 5']);
  });

  it('[exact] a bevel, another, and flat again', () => {
    const bevelled = bevelPoles(rods, 0, 0.001);
    expect(buildOf(bevelled).rows[0]!.pole.tip).toStrictEqual({ shape: 'chamfered', size: 0.001 });
    expect(bevelPoles(bevelled, 0, 0)).toStrictEqual(rods);
  });

  it('[exact] screws trimmed, slugs left; back to the length they had', () => {
    const trimmed = trimScrews(humbucker, 0, 0.0085);
    expect(buildOf(trimmed).rows.map((row) => row.pole.length)).toStrictEqual([0.0125, 0.0125]);
    expect(trimScrews(trimmed, 0, -0.0085)).toStrictEqual(humbucker);
  });

  it('[exact] raised and lowered', () => {
    const near = raise(rods, 0, 0.0002);
    expect([buildOf(near).gapBass, buildOf(near).gapTreble]).toStrictEqual([0.0024, 0.0018]);
    expect(raise(near, 0, -0.0002)).toStrictEqual(rods);
  });

  it('[exact] turns unwound, both coils alike', () => {
    expect(buildOf(removeTurns(rods, 0, 0.15)).rows[0]!.turns).toBe(6800);
    expect(buildOf(removeTurns(humbucker, 0, 0.1)).rows.map((row) => row.turns)).toStrictEqual([4500, 4500]);
  });

  it('[exact] half the magnetisation, and charged again', () => {
    const weak = partlyDemagnetise(rods, 0, 0.5);
    expect(buildOf(weak).rows[0]!.pole.magnet.charge).toBe(0.5);
    expect(partlyDemagnetise(weak, 0, 1)).toStrictEqual(rods);
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

describe('what can’t be done is refused: the rule, what it would come to, and what to do', () => {
  const rods = builtSheet('six rods');
  const humbucker = builtSheet('slugs and screws beside an alnico bar');
  const withPole = (sheet: Sheet, change: Partial<Pole>): Sheet => ({
    ...sheet,
    pickups: sheet.pickups.map((p) => ({
      ...p,
      build: p.build && {
        ...p.build,
        rows: p.build.rows.map((row) => ({ ...row, pole: { ...row.pole, ...change } })),
      },
    })),
  });
  const steel: Sheet = {
    ...humbucker,
    pickups: humbucker.pickups.map((p) => ({ ...p, build: p.build && { ...p.build, bars: [] } })),
  };

  it.each<readonly [string, mods.Modded, string]>([
    [
      'raised into the strings',
      mods.raise(rods, 0, 0.002),
      'Pickup 1, treble side: gap to the string must be between 0.5 mm and 15.0 mm; got 0.0 mm. Raise it by at most 1.5 mm.',
    ],
    [
      'raised where it sits closest',
      mods.raise(raise(rods, 0, 0.0015), 0, 0.0005),
      'Pickup 1, treble side: gap to the string must be between 0.5 mm and 15.0 mm; got 0.0 mm. It can be raised no further.',
    ],
    [
      'lowered out of the guitar',
      mods.raise(rods, 0, -0.013),
      'Pickup 1, bass side: gap to the string must be between 0.5 mm and 15.0 mm; got 15.6 mm. Lower it by at most 12.4 mm.',
    ],
    ['raised by nothing', mods.raise(rods, 0, 0), 'The pickup stays where it is.'],
    [
      'a bevel without a land',
      mods.bevelPoles(rods, 0, 0.0025),
      'Bevel must be at most 2.37 mm, so that a land is left on top of the rods; got 2.5 mm. Choose a smaller one.',
    ],
    [
      'a bevel through the heads',
      mods.bevelPoles(humbucker, 0, 0.002),
      'Bevel must be at most 1.44 mm, so that a side is left below it on the heads of the screws of row 1; got 2.0 mm. Choose a smaller one.',
    ],
    [
      'a bevel that is a little too much',
      mods.bevelPoles(humbucker, 0, 0.0014404),
      'Bevel must be at most 1.44 mm, so that a side is left below it on the heads of the screws of row 1; got 1.4404 mm. Choose a smaller one.',
    ],
    [
      'a bevel below 0',
      mods.bevelPoles(rods, 0, -0.001),
      'Tip must be between 0.00 mm and 5.00 mm; got −1.00 mm.',
    ],
    ['flat tops made flat', mods.bevelPoles(rods, 0, 0), 'The pole tops are flat already.'],
    [
      'the same bevel again',
      mods.bevelPoles(bevelPoles(rods, 0, 0.001), 0, 0.001),
      'The poles are bevelled by 1.0 mm already.',
    ],
    [
      'screws cut too short',
      mods.trimScrews(humbucker, 0, 0.02),
      'Screws must stay at least 3.0 mm long; got 1.0 mm. Trim them by at most 18.0 mm.',
    ],
    [
      'screws cut into their heads',
      mods.trimScrews(withPole(humbucker, { head: { diameter: 0.005, height: 0.006 } }), 0, 0.0155),
      'Screws must stay at least 6.1 mm long, so that some is left under their heads; got 5.5 mm. Trim them by at most 14.9 mm.',
    ],
    [
      'screws that are as short as they can be',
      mods.trimScrews(trimScrews(humbucker, 0, 0.018), 0, 0.001),
      'Screws must stay at least 3.0 mm long; got 2.0 mm. They can be trimmed no further.',
    ],
    [
      'screws of another length than there is',
      mods.trimScrews(humbucker, 0, -0.03),
      'Pickup 1, build of row 1: pole length must be between 3.0 mm and 40.0 mm; got 51.0 mm.',
    ],
    ['no screws', mods.trimScrews(rods, 0, 0.001), 'This pickup has no screws to trim: its poles are rods.'],
    [
      'all turns',
      mods.removeTurns(rods, 0, 1),
      'Pickup 1, build of row 1: turns must be between 10 and 30000; got 0. Remove at most 99 %.',
    ],
    [
      'the last turns',
      mods.removeTurns(removeTurns(rods, 0, 1 - 10 / 8000), 0, 0.5),
      'Pickup 1, build of row 1: turns must be between 10 and 30000; got 5. No more can be removed.',
    ],
    [
      'less than a turn',
      mods.removeTurns(removeTurns(rods, 0, 1 - 10 / 8000), 0, 0.01),
      'The turns stay as they are: 1 % of them is less than one.',
    ],
    [
      'more than full magnetisation',
      mods.partlyDemagnetise(rods, 0, 1.01),
      'Pickup 1, build of row 1: magnetisation must be between 5 % and 100 %; got 101 %.',
    ],
    ['the same magnetisation', mods.partlyDemagnetise(rods, 0, 1), 'The magnets are at 100 % already.'],
    ['the same grade', mods.swapGrade(rods, 0, 'alnico 5'), 'The magnets are alnico 5 already.'],
    [
      'no magnet to swap',
      mods.swapGrade(steel, 0, 'alnico 2'),
      'This pickup has no magnet to swap: its poles are steel, without a bar.',
    ],
    [
      'no magnet to demagnetise',
      mods.partlyDemagnetise(steel, 0, 0.5),
      'This pickup has no magnet to demagnetise: its poles are steel, without a bar.',
    ],
    [
      'no magnet to turn over',
      mods.turnMagnetOver(steel, 0),
      'This pickup has no magnet to turn over: its poles are steel, without a bar.',
    ],
    ['no cover', mods.withCover(rods, 0, null), 'This pickup has no cover to take off.'],
    [
      'the same cover',
      mods.withCover(withCover(rods, 0, 'brass'), 0, 'brass'),
      'The cover is of brass already.',
    ],
    [
      'no build',
      mods.raise(exampleSheet(), 0, 0.001),
      'Mods change a build, and this pickup has none. Start from a build in Parts.',
    ],
  ])('[exact] %s', (_, made, message) => {
    expect(made).toStrictEqual({ ok: false, message });
  });

  it.each<readonly [string, (sheet: Sheet, by: number) => mods.Modded, fc.Arbitrary<number>]>([
    ['raise', (s, by) => mods.raise(s, 0, by), within(0.0005, 0.016)],
    ['lower', (s, by) => mods.raise(s, 0, -by), within(0.0005, 0.016)],
    ['trim', (s, by) => mods.trimScrews(s, 0, by), within(0.003, 0.04)],
    ['bevel', (s, by) => mods.bevelPoles(s, 0, by), within(0.0005, 0.005)],
    ['unwind', (s, by) => mods.removeTurns(s, 0, by), within(0.5, 1)],
  ])('[exact] what is advised can be done, and hardly more: %s', (_, mod, amount) => {
    let advised = 0;
    const property = fc.property(anySheet, amount, (sheet, by) => {
      const made = mod(sheet, by);
      const found = made.ok ? null : /at most ([\d.]+) (mm|%)/.exec(made.message);
      if (!found) return;
      advised++;
      const most = Number(found[1]) * (found[2] === '%' ? 1e-2 : 1e-3);
      expect(most).toBeLessThan(by);
      expect(mod(sheet, most).ok).toBe(true);
      // The next figure that a field shows is too much.
      expect(mod(sheet, most + (found[2] === '%' ? 0.011 : 1.1e-5)).ok).toBe(false);
    });
    fc.assert(property, { seed: SEED, numRuns: 900 });
    expect(advised).toBeGreaterThan(20);
  });
});
