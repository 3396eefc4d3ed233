/** Steel's permeability for the coil is a figure of its own: what it changes, what handbooks leave open, and which one a reading wants. */
import { describe, expect, it } from 'vitest';
import { coilWords } from '../../src/benchSheet/sayFollows.ts';
import { USUAL_WISH } from '../../src/benchSheet/usual.ts';
import { Alone, UNLOADED, weightsOf } from '../../src/physics/alone.ts';
import { benchFigures, type BenchWish } from '../../src/physics/benchFigures.ts';
import { resolve } from '../../src/physics/heard/resolve.ts';
import type { CoilSteel, Sheet } from '../../src/sheet/sheet.ts';
import { withReadSteel } from '../../src/sheet/readSteel.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { fieldsOf } from '../fixtures/solved.ts';

const WISH: BenchWish = { ...USUAL_WISH, pickup: 0 };
const steel = builtSheet('steel poles over a ceramic bar');

function withCoilSteel(sheet: Sheet, coilSteel: CoilSteel): Sheet {
  const pickups = sheet.pickups.map((pickup) => ({
    ...pickup,
    build: pickup.build && { ...pickup.build, coilSteel },
  }));
  return { ...sheet, pickups };
}

function inductanceOf(sheet: Sheet): number {
  const pickup = resolve(sheet, fieldsOf(sheet)).pickups[0]!;
  const weights = weightsOf(sheet.instrument, pickup, sheet.listen.string);
  return new Alone(pickup, UNLOADED, weights).readInductance(WISH.bridge);
}

const benchOf = (sheet: Sheet, inductance: number | null) =>
  benchFigures(sheet, fieldsOf(sheet), { ...WISH, read: { ...WISH.read, inductance } });

describe('a permeability for the coil', () => {
  it.each([
    ['steel poles over a ceramic bar', 350],
    ['steel poles over a ceramic bar', 60],
    ['slugs and screws beside an alnico bar', 120],
  ])(
    '[exact] that was planted is found by the inductance that a bridge reads: %s, µ %d, 0.5 %',
    (name, mu) => {
      const sheet = builtSheet(name);
      const read = inductanceOf(withCoilSteel(sheet, { mu, relaxation: null }));
      const { follows } = benchOf(sheet, read);
      expect(follows!.steel!.reckoned).toBe(200);
      expect(Math.abs(follows!.steel!.explains! / mu - 1)).toBeLessThan(0.005);
      const words = coilWords(sheet.pickups[0]!, benchOf(sheet, read)).join(' ');
      expect(words).toMatch(/Or its steel has µ [\d.]+ for the coil, not 200\./);
    },
  );

  it('taken over, the pickup reads what was read; all else stays', () => {
    const read = inductanceOf(withCoilSteel(steel, { mu: 350, relaxation: null }));
    const { explains } = benchOf(steel, read).follows!.steel!;
    const taken = withReadSteel(steel, 0, explains!);
    if (!taken.ok) throw new Error(taken.message);
    expect(Math.abs(inductanceOf(taken.sheet) / read - 1)).toBeLessThan(1e-3);
    const { coilSteel, ...build } = taken.sheet.pickups[0]!.build!;
    expect(coilSteel).toEqual({ mu: Number(explains!.toPrecision(3)), relaxation: null });
    expect({ ...taken.sheet.pickups[0], build }).toEqual(steel.pickups[0]);
  });

  it('none explains an inductance that even air or the softest iron would not have; none is asked for of rods', () => {
    expect(benchOf(steel, 0.1).follows!.steel).toEqual({ reckoned: 200, explains: null });
    expect(benchOf(steel, 100).follows!.steel!.explains).toBeNull();
    expect(benchOf(builtSheet('six rods'), 3).follows!.steel).toBeNull();
  });

  it('[exact] leaves the magnets’ field as it is, and moves the reach with the inductance', () => {
    const [plain] = fieldsOf(steel);
    const [typed] = fieldsOf(withCoilSteel(steel, { mu: 400, relaxation: null }));
    expect(typed!.charges.density).toEqual(plain!.charges.density);
    typed!.strings.forEach(({ rows }, i) => {
      expect(rows[0]!.fluxDensity).toBe(plain!.strings[i]!.rows[0]!.fluxDensity);
      expect(Math.abs(rows[0]!.area)).toBeGreaterThan(Math.abs(plain!.strings[i]!.rows[0]!.area));
    });
    expect(typed!.coils[0]!.inductance).toBeGreaterThan(plain!.coils[0]!.inductance);
  });

  it('that relaxes leaves the lowest frequencies as they are, and takes of the peak above', () => {
    const relaxed = withCoilSteel(steel, { mu: null, relaxation: 5e3 });
    const at = (sheet: Sheet) => benchFigures(sheet, fieldsOf(sheet), { ...WISH, bridge: 50 });
    expect(at(relaxed).inductance! / at(steel).inductance!).toBeCloseTo(1, 3);
    expect(at(relaxed).unloaded!.heightDb).toBeLessThan(at(steel).unloaded!.heightDb - 0.1);
  });
});

describe('what handbooks leave open', () => {
  it('is the span of inductances between the solved ends, within 0.5 %', () => {
    const [from, to] = benchOf(steel, null).steelSpan!;
    const end = (mu: number): number => inductanceOf(withCoilSteel(steel, { mu, relaxation: null }));
    expect(Math.abs(from / end(100) - 1)).toBeLessThan(0.005);
    expect(Math.abs(to / end(300) - 1)).toBeLessThan(0.005);
  });

  it('is nothing of rods, and of steel whose permeability was typed', () => {
    expect(benchOf(builtSheet('six rods'), null).steelSpan).toBeNull();
    expect(benchOf(withCoilSteel(steel, { mu: 150, relaxation: null }), null).steelSpan).toBeNull();
  });
});
