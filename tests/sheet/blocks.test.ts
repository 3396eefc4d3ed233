/** Bars and pieces of steel in the document: read, refused, begun with, called by name. */
import { describe, expect, it } from 'vitest';
import { isThreaded } from '../../src/shape/steel.ts';
import { pickupParts } from '../../src/shape/parts.ts';
import { withBuild, STARTING_BUILDS } from '../../src/sheet/builds.ts';
import { blockWords } from '../../src/sheet/buildWords.ts';
import { changeList, changesOf } from '../../src/sheet/changes.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { withRows } from '../../src/sheet/compose.ts';
import type { SteelBox } from '../../src/sheet/build.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import { withStartingSteel } from '../../src/sheet/startingBlocks.ts';
import { fullestSheet } from '../fixtures/fullestSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const KEEPER: SteelBox = {
  steel: 'low-carbon, annealed',
  width: 0.02,
  length: 0.062,
  thickness: 0.001,
  offset: 0,
  across: 0,
  top: -0.017,
};

/* eslint-disable-next-line @typescript-eslint/no-explicit-any -- data from outside has no type */
type Data = any;

function spoilt(spoil: (build: Data) => void): unknown {
  const data: Data = structuredClone(fullestSheet);
  spoil(data.pickups[0].build);
  return data;
}

describe('the check', () => {
  it('[exact] puts bars and steel in the middle where nothing is said; of neither there may be none', () => {
    const checked = checkSheet(
      spoilt((build) => {
        delete build.bars[0].across;
        delete build.steel[0].across;
      }),
    );
    if (!checked.ok) throw new Error(checked.message);
    const { bars, steel } = checked.sheet.pickups[0]!.build!;
    expect([bars[0]!.across, steel[0]!.across]).toEqual([0, 0]);
    const none = checkSheet(
      spoilt((build) => {
        delete build.bars;
        delete build.steel;
      }),
    );
    expect(none.ok && none.sheet.pickups[0]!.build).toMatchObject({ bars: [], steel: [] });
  });

  it.each<readonly [string, (build: Data) => void, string | RegExp]>([
    [
      'nine pieces of steel',
      (build) => (build.steel = Array.from({ length: 9 }, () => KEEPER)),
      'Pickup 1: pieces of steel must be 0 to 8 in number; got 9.',
    ],
    [
      'steel of no grade',
      (build) => (build.steel = [{ ...KEEPER, steel: 'tin' }]),
      /^Pickup 1, steel 1: steel grade must be one of low-carbon, as drawn, .+; got "tin"\.$/,
    ],
    [
      'steel as thin as foil',
      (build) => (build.steel = [{ ...KEEPER, thickness: 1e-4 }]),
      'Pickup 1, steel 1: steel thickness must be between 0.5 mm and 40.0 mm; got 0.1 mm.',
    ],
    [
      'a bar of an unknown grade',
      (build) => (build.bars[0].magnet.grade = 'cheese'),
      /^Pickup 1, bar magnet 1: magnet grade must be one of alnico 2, .+, neodymium, .+; got "cheese"\.$/,
    ],
    [
      'a bar magnetised askew',
      (build) => (build.bars[1].direction = 'askew'),
      /^Pickup 1, bar magnet 2: direction of magnetisation must be one of across the width, .+; got "askew"\.$/,
    ],
  ])('refuses %s', (_, spoil, message) => {
    const checked = checkSheet(spoilt(spoil));
    expect(checked.ok ? '' : checked.message).toMatch(message);
  });
});

const built = (name: string): Sheet =>
  withBuild(
    exampleSheet(),
    0,
    STARTING_BUILDS.find((start) => start.name === name)!,
  );

function withSteel(sheet: Sheet, ...steel: readonly SteelBox[]): Sheet {
  const pickups = sheet.pickups.map((p, i) => (i === 0 ? { ...p, build: { ...p.build!, steel } } : p));
  return { ...sheet, pickups };
}

it('[exact] two walls are said once, and what was added by its name', () => {
  const sheet = built('six rods');
  const [wall] = withStartingSteel(sheet.pickups[0]!, 'wall')!.steel as [SteelBox];
  const more = withSteel(sheet, wall, { ...wall, offset: -wall.offset });
  expect(blockWords(more.pickups[0]!.build!, [0])).toEqual(['2 × steel wall 1.0 mm thick']);
  expect(changeList(changesOf(sheet, more))).toEqual(['steel put on']);
  expect(changeList(changesOf(withSteel(sheet, wall), more))).toEqual(['steel added']);
  expect(changeList(changesOf(more, withSteel(sheet, wall)))).toEqual(['steel taken away']);
  expect(changeList(changesOf(more, withSteel(sheet, wall, { ...wall, offset: -0.011 })))).toEqual([
    'steel offset −8.4 → −11.0 mm',
  ]);
});

it('[exact] a blade gets a twin when its row does, and stays with its row when that one goes', () => {
  const sheet = built('six rods');
  const [blade] = withStartingSteel(sheet.pickups[0]!, 'blade')!.steel as [SteelBox];
  const two = withRows(withSteel(sheet, blade, KEEPER), 0, 2);
  const { build, rows } = two.pickups[0]!;
  const parts = pickupParts(
    build!,
    rows.map(({ offset }) => offset),
  );
  const inside = parts.steel!.map((piece) => parts.rows.map((row) => isThreaded(piece, row)));
  expect(inside).toEqual([
    [true, false],
    [false, true],
    [false, false],
  ]);
  const one = withRows(two, 0, 1).pickups[0]!;
  expect(one.rows[0]!.offset).toBe(rows[0]!.offset);
  expect(one.build!.steel).toBe(build!.steel);
});
