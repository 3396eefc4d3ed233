/** Single poles in the document: read, changed, kept under their strings, and said. */
import { describe, expect, it } from 'vitest';
import { partsRows } from '../../src/benchSheet/parts.ts';
import { standingPoles } from '../../src/shape/poleRow.ts';
import { differs, leftOut, poleAt, upAt } from '../../src/shape/singlePole.ts';
import type { OwnPole, RowBuild } from '../../src/sheet/build.ts';
import { buildWords } from '../../src/sheet/buildWords.ts';
import { STARTING_BUILDS } from '../../src/sheet/builds.ts';
import { causesBetween } from '../../src/sheet/causes.ts';
import { checkSheet } from '../../src/sheet/check.ts';
import { fitBuild } from '../../src/sheet/fitBuild.ts';
import { singleRods, swapGrade, turnMagnetOver, turnPoleOver } from '../../src/sheet/mods.ts';
import type { Sheet } from '../../src/sheet/sheet.ts';
import {
  AS_THE_ROW,
  buildUnder,
  changeSingle,
  singleTurned,
  withFitted,
  withOthers,
  withSingle,
} from '../../src/sheet/singlePoles.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

const sheet = builtSheet('six rods');
const rowOf = (of: Sheet): RowBuild => of.pickups[0]!.build!.rows[0]!;
const withRow = (row: RowBuild): Sheet => ({
  ...sheet,
  pickups: sheet.pickups.map((pickup, i) =>
    i === 0 ? { ...pickup, build: { ...pickup.build!, rows: [row] } } : pickup,
  ),
});
const modded = (made: ReturnType<typeof turnPoleOver>): Sheet => {
  if (!made.ok) throw new Error(made.message);
  return made.sheet;
};
const own = (single: Partial<OwnPole>): unknown => [
  null,
  null,
  { ...AS_THE_ROW, ...single },
  null,
  null,
  null,
];
const checked = (list: unknown) =>
  checkSheet(withRow({ ...rowOf(sheet), pole: { ...rowOf(sheet).pole, own: list } as never }));

describe('reading [exact]', () => {
  it('a row without single poles has no list, whether it said so or not', () => {
    const { pole } = rowOf(sheet);
    expect('own' in pole).toBe(false);
    const read = checked(pole.heights.map(() => null));
    expect(read).toStrictEqual({ ok: true, sheet });
    expect(checkSheet(sheet)).toStrictEqual({ ok: true, sheet });
  });

  it('one that is listed stays, with nothing of its own as well', () => {
    const read = checked(own({}));
    expect(read.ok && rowOf(read.sheet).pole.own).toStrictEqual(own({}));
  });

  it.each([
    [
      own({ diameter: 0.05 }),
      /row 1, pole 3: pole diameter must be between 1\.00 mm and 12\.00 mm; got 50\.00 mm\.$/,
    ],
    [own({ grade: 'iron' as never }), /pole 3: magnet grade must be one of alnico 2, .*; got "iron"\.$/],
    [own({ fitted: 'no' as never }), /pole 3: whether it is fitted must be yes or no; got "no"\.$/],
    [own({ up: 'east' as never }), /pole 3: pole that is up must be one of north, south; got "east"\.$/],
    [[null], /single poles \(one a string\) must be 6 in number; got 1\.$/],
    [[1, null, null, null, null, null], /single pole must be a group of fields; got 1\.$/],
  ])('says what must be: %j', (list, sentence) => {
    const read = checked(list);
    expect(read.ok ? '' : read.message).toMatch(sentence);
  });
});

describe('changing [exact]', () => {
  const row = changeSingle(rowOf(sheet), 2, { grade: 'alnico 2', length: 0.015 });

  it('what is as the row is null, all else its own; the rest takes after the row', () => {
    expect(row.pole.own![2]).toEqual({ ...AS_THE_ROW, grade: 'alnico 2', length: 0.015 });
    expect(changeSingle(row, 2, { grade: 'alnico 5' }).pole.own![2]).toEqual({
      ...AS_THE_ROW,
      length: 0.015,
    });
    expect(poleAt(row.pole, 2)).toMatchObject({
      length: 0.015,
      diameter: row.pole.diameter,
      magnet: { grade: 'alnico 2', charge: 1 },
    });
    expect(differs(row, 2)).toBe(true);
    expect(differs(row, 1)).toBe(false);
    expect(withSingle(row.pole, 2, null)).toStrictEqual(rowOf(sheet).pole);
  });

  it('a build under a string is that of a row of such poles', () => {
    const build = withRow(row).pickups[0]!.build!;
    expect(buildUnder(build, 2).rows[0]!.pole).toMatchObject({ length: 0.015 });
    expect(buildUnder(sheet.pickups[0]!.build!, 2)).toBe(sheet.pickups[0]!.build);
  });

  it('stays under its string when strings are added or taken away, and goes with it', () => {
    const build = withRow(row).pickups[0]!.build!;
    const seven = fitBuild(build, 7, 1, 1);
    expect(seven.rows[0]!.pole.own!.map(Boolean)).toEqual([false, false, false, true, false, false, false]);
    expect('own' in fitBuild(build, 4, -3, 1).rows[0]!.pole).toBe(false);
  });

  it('is a cause by itself, and can be put back', () => {
    const [cause, ...more] = causesBetween(sheet, withRow(row));
    expect(more).toEqual([]);
    expect(cause).toMatchObject({ name: 'single poles', words: 'single poles' });
    const both = withRow({ ...row, turns: 7000 });
    const undone = causesBetween(sheet, both).find(({ name }) => name === 'single poles')!.undone;
    expect(undone).toStrictEqual(withRow({ ...rowOf(sheet), turns: 7000 }));
  });
});

describe('leaving poles out', () => {
  const { pole } = rowOf(sheet);
  const alone = withOthers(pole, 2, false);

  it('[exact] the others are left out and put in again, with what they had of their own', () => {
    expect(leftOut(alone)).toEqual([1, 2, 4, 5, 6]);
    expect(standingPoles(alone)).toEqual([null, null, pole.heights[2], null, null, null]);
    expect(withOthers(alone, 2, true)).toStrictEqual(pole);
    const { pole: shorter } = changeSingle(rowOf(sheet), 4, { length: 0.015 });
    expect(withOthers(withOthers(shorter, 2, false), 2, true)).toStrictEqual(shorter);
    expect(differs({ ...rowOf(sheet), pole: withFitted(shorter, 4, false) }, 4)).toBe(false);
  });

  it('[exact] a row of which every pole is left out has none, as one without poles', () => {
    expect(standingPoles(withFitted(alone, 2, false))).toEqual([]);
  });

  it('is read as it was written; one that is fitted says nothing of it', () => {
    expect(checked(alone.own)).toStrictEqual({ ok: true, sheet: withRow({ ...rowOf(sheet), pole: alone }) });
    const read = checked(own({ fitted: true as never }));
    expect(read.ok && rowOf(read.sheet).pole.own).toStrictEqual(own({}));
  });

  it('under its string a section has no pole', () => {
    const { build } = withRow({ ...rowOf(sheet), pole: alone }).pickups[0]!;
    expect(buildUnder(build!, 2).rows[0]!.pole.kind).toBe('rod');
    expect(buildUnder(build!, 3).rows[0]!.pole.kind).toBe('none');
  });

  it('a rod that is not there can’t be turned over', () => {
    const build = withRow({ ...rowOf(sheet), pole: alone }).pickups[0]!.build!;
    expect(singleRods(build).map(({ name }) => name)).toEqual(['under string 3']);
  });

  it('strings that are added find poles', () => {
    const build = withRow({ ...rowOf(sheet), pole: alone }).pickups[0]!.build!;
    expect(leftOut(fitBuild(build, 7, 1, 1).rows[0]!.pole)).toEqual([2, 3, 5, 6, 7]);
  });

  it('parts list and lines say so', () => {
    const of = withRow({ ...rowOf(sheet), pole: alone });
    const [, what] = partsRows(of, of.pickups[0]!).find(([name]) => name === 'poles')!;
    expect(what).toBe('1 rod of alnico 5 Ø 4.85 × 17, none under strings 6, 5, 4, 2, 1');
    expect(buildWords(of.pickups[0]!.build!, [0])).toContain('mm, one alone, under string 3, ');
    const two = withRow({ ...rowOf(sheet), pole: withFitted(withFitted(pole, 0, false), 5, false) });
    expect(buildWords(two.pickups[0]!.build!, [0])).toContain('mm, 2 left out, ');
    const [cause] = causesBetween(sheet, two);
    expect(cause).toMatchObject({ name: 'single poles' });
  });
});

describe('turning one pole over', () => {
  it('[exact] twice is as before, and the others stay', () => {
    const once = modded(turnPoleOver(sheet, 0, 0, 2));
    expect(rowOf(once).pole.heights.map((_, k) => upAt(rowOf(once), k))).toEqual([
      'north',
      'north',
      'south',
      'north',
      'north',
      'north',
    ]);
    expect(modded(turnPoleOver(once, 0, 0, 2))).toStrictEqual(sheet);
    const listed = changeSingle(rowOf(sheet), 2, { length: 0.015 });
    expect(singleTurned(singleTurned(listed, 2), 2)).toStrictEqual(listed);
  });

  it('[exact] with the whole magnet turned over as well, it stands the other way than the others still', () => {
    const all = modded(turnMagnetOver(modded(turnPoleOver(sheet, 0, 0, 2)), 0));
    expect(rowOf(all).up).toBe('south');
    expect(upAt(rowOf(all), 2)).toBe('north');
  });

  it('other magnets for all are for single ones too; they stay turned over', () => {
    const mixed = withRow(
      changeSingle(rowOf(modded(turnPoleOver(sheet, 0, 0, 2))), 2, { grade: 'alnico 2' }),
    );
    const swapped = rowOf(modded(swapGrade(mixed, 0, 'alnico 3')));
    expect(poleAt(swapped.pole, 2).magnet.grade).toBe('alnico 3');
    expect(upAt(swapped, 2)).toBe('south');
  });

  it('is for rods alone, the lowest string’s first', () => {
    expect(singleRods(sheet.pickups[0]!.build!).map(({ name }) => name)[0]).toBe('under string 6');
    const steel = builtSheet('steel poles over a ceramic bar');
    expect(singleRods(steel.pickups[0]!.build!)).toEqual([]);
    expect(turnPoleOver(steel, 0, 0, 2)).toEqual({
      ok: false,
      message: 'Only a rod can be turned over by itself: steel takes its polarity from the bars.',
    });
  });
});

describe('in words', () => {
  const row = changeSingle(rowOf(modded(turnPoleOver(sheet, 0, 0, 2))), 5, {
    grade: 'alnico 2',
    charge: 0.7,
    length: 0.015,
  });

  it('the parts list says what each single pole is', () => {
    const of = withRow(row);
    const [, what] = partsRows(of, of.pickups[0]!).find(([name]) => name === 'poles')!;
    expect(what).toBe(
      '6 rods of alnico 5 Ø 4.85 × 17; but under string 6 alnico 2, magnetised to 70 %, Ø 4.85 × 15; under string 3 south up',
    );
  });

  it('a line says how many there are', () => {
    expect(buildWords(withRow(row).pickups[0]!.build!, [0])).toContain('mm, 2 poles of their own, ');
    expect(buildWords(STARTING_BUILDS[0]!.build, [0])).not.toContain('own');
  });
});
