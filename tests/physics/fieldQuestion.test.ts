import { describe, expect, it } from 'vitest';
import { FieldSolver } from '../../src/physics/field.ts';
import { fieldQuestion, nearlySame, type FieldQuestion } from '../../src/physics/fieldQuestion.ts';
import { checkBuild } from '../../src/physics/magnetics/build/checkBuild.ts';
import { rowCrossing } from '../../src/shape/stringCourse.ts';
import type { Pickup, PickupBuild, Pole, Sheet } from '../../src/sheet/sheet.ts';
import { STARTING_BUILDS } from '../../src/sheet/builds.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

const TWO = 'slugs and screws beside an alnico bar';

function with0(sheet: Sheet, change: Partial<Pickup>): Sheet {
  return { ...sheet, pickups: sheet.pickups.map((p, i) => (i === 0 ? { ...p, ...change } : p)) };
}

const withBuild0 = (sheet: Sheet, change: Partial<PickupBuild>): Sheet =>
  with0(sheet, { build: { ...sheet.pickups[0]!.build!, ...change } });

const withPole = (sheet: Sheet, change: Partial<Pole>): Sheet =>
  withBuild0(sheet, {
    rows: sheet.pickups[0]!.build!.rows.map((row) => ({ ...row, pole: { ...row.pole, ...change } })),
  });

const ask = (sheet: Sheet): FieldQuestion => fieldQuestion(sheet, 0)!;
const pole = (sheet: Sheet) => ask(sheet).build.rows[0]!.pole;

describe('what the field engine is asked', () => {
  it('[exact] is nothing without a build', () => {
    expect(fieldQuestion(exampleSheet(), 0)).toBeNull();
    expect(fieldQuestion(builtSheet(TWO), 7)).toBeNull();
  });

  it.each(STARTING_BUILDS)('[exact] has no fault for $name', ({ name }) => {
    expect(checkBuild(ask(builtSheet(name)).build)).toEqual([]);
  });

  it('[exact] places rows, bar, strings and gaps in the engine’s frame', () => {
    const sheet = builtSheet(TWO);
    const { build, strings } = ask(sheet);
    expect(build.rows.map(({ offset }) => offset)).toEqual(
      sheet.pickups[0]!.rows.map(({ offset }) => offset),
    );
    const bar = sheet.pickups[0]!.build!.bars[0]!;
    // The upper face lies where the sheet says.
    expect(build.bars[0]!.centre.z + build.bars[0]!.size.z / 2).toBeCloseTo(bar.top, 15);
    expect(build.fretboardRadius).toBe(sheet.instrument.radius);
    expect(strings).toHaveLength(6);
    for (let i = 1; i < 6; i++) expect(strings[i]!.y).toBeLessThan(strings[i - 1]!.y);
    expect(strings[0]!.y).toBeCloseTo(-strings[5]!.y, 12);
  });

  it('[exact] says how magnets and windings lie: not turned, north towards the nut or up', () => {
    const sheet = builtSheet(TWO);
    const { build } = ask(sheet);
    expect(build.bars[0]).toMatchObject({ axis: 'x', sign: 1 });
    expect(build.rows.map(({ winding }) => winding!.direction)).toEqual([-1, 1]);
    const bar = sheet.pickups[0]!.build!.bars[0]!;
    expect(ask(withBuild0(sheet, { bars: [{ ...bar, turned: true }] })).build.bars[0]).toMatchObject({
      axis: 'x',
      sign: -1,
    });
    const under = builtSheet('steel poles over a ceramic bar');
    expect(ask(under).build.bars[0]).toMatchObject({ axis: 'z', sign: 1, grade: 'ceramic 5' });
    expect(pole(builtSheet('six rods'))).toMatchObject({ kind: 'rod', facing: 'north' });
  });

  it('[exact] turns every tip into the engine’s: size is leg, depth or rise; none is flat', () => {
    const sheet = builtSheet('six rods');
    const tip = (shape: Pole['tip']['shape'], size: number) =>
      pole(withPole(sheet, { tip: { shape, size } })).tip;
    expect(tip('chamfered', 1e-3)).toEqual({ shape: 'chamfered', width: 1e-3, depth: 1e-3 });
    expect(tip('domed', 1e-3)).toEqual({ shape: 'domed', depth: 1e-3 });
    expect(tip('coned', 2e-3)).toMatchObject({ shape: 'coned', depth: 2e-3 });
    for (const shape of ['flat', 'chamfered', 'coned', 'domed'] as const)
      expect(tip(shape, 0)).toEqual({ shape: 'flat' });
  });

  it('[exact] gives a screw its head, and a slug none', () => {
    const { rows } = ask(builtSheet(TWO)).build;
    expect(rows[0]!.pole).toMatchObject({ kind: 'steel', head: { diameter: 4.8e-3, height: 1.6e-3 } });
    expect(rows[1]!.pole).toMatchObject({ kind: 'steel', head: null });
  });

  it('a slanted pickup is crossed where its row crosses the string, to 0.1 mm', () => {
    const sheet = with0(builtSheet(TWO), { slant: 0.2, place: 0.06 });
    const { build, strings, slant } = ask(sheet);
    strings.forEach(({ y }, i) =>
      build.rows.forEach(({ offset }) => {
        const crossing = rowCrossing(sheet.instrument, sheet.pickups[0]!, offset, i + 1) - 0.06;
        expect(Math.abs(offset / Math.cos(slant) - y * Math.tan(slant) - crossing)).toBeLessThan(1e-4);
      }),
    );
  });

  it('[exact] does not change with what the field does not depend on', () => {
    const sheet = builtSheet('six rods');
    const key = JSON.stringify(ask(sheet));
    const { instrument, listen, harness } = sheet;
    const tuned = instrument.strings.map((string) => ({
      ...string,
      midi: string.midi - 2,
      linearDensity: 1e-3,
    }));
    for (const other of [
      { ...sheet, instrument: { ...instrument, strings: tuned } },
      { ...sheet, listen: { ...listen, string: 6, pluck: { ...listen.pluck, place: 0.2 } } },
      { ...sheet, harness: { ...harness, cable: { ...harness.cable, length: 9 } } },
      with0(sheet, { name: 'other', reversed: true, reachBy: 'hand' }),
    ])
      expect(JSON.stringify(ask(other))).toBe(key);
  });

  it('changes a few times, not every time, while a pickup is dragged 10 mm along its strings', () => {
    const sheet = builtSheet('six rods');
    const keys = Array.from({ length: 101 }, (_, i) =>
      JSON.stringify(ask(with0(sheet, { place: 0.15 + i * 1e-4 }))),
    );
    const changes = keys.filter((key, i) => i > 0 && key !== keys[i - 1]).length;
    expect(changes).toBeGreaterThan(2);
    expect(changes).toBeLessThan(20);
  });
});

describe('questions nearly the same', () => {
  const moved = (by: number, sheet = builtSheet(TWO)): Sheet =>
    with0(sheet, { place: sheet.pickups[0]!.place + by });

  it('[exact] differ in where the strings cross alone, and by little', () => {
    const here = ask(moved(0));
    expect(nearlySame(here, here)).toBe(true);
    expect(nearlySame(here, ask(moved(0.01)))).toBe(true);
    expect(nearlySame(here, ask(moved(0.03)))).toBe(false);
    expect(nearlySame(here, ask(with0(moved(0), { slant: 0.1 })))).toBe(false);
    expect(nearlySame(here, ask(withBuild0(moved(0), { gapBass: 0.003 })))).toBe(false);
    expect(nearlySame(here, ask(withPole(moved(0), { diameter: 0.0045 })))).toBe(false);
    expect(nearlySame(here, { ...here, strings: here.strings.slice(1) })).toBe(false);
  });

  it('are answered by levels less than 0.3 dB apart [physics]', () => {
    const solver = new FieldSolver();
    for (const name of ['six rods', TWO]) {
      const here = ask(builtSheet(name));
      const level = (by: number): number[] => {
        const strings = here.strings.map((string) => ({ ...string, y: string.y + by }));
        const { strings: answers } = solver.answer({ ...here, strings });
        return answers.map(({ rows }) => 20 * Math.log10(Math.abs(rows[0]!.area)));
      };
      const [middle, ...sides] = [0, 1.25e-4, -1.25e-4].map(level);
      for (const side of sides) side.forEach((dB, i) => expect(Math.abs(dB - middle![i]!)).toBeLessThan(0.3));
    }
  });
});
