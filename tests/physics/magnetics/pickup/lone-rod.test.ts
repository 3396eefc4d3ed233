/**
 * One rod of a row by itself, the others left out: from the sheet to its field. Against the closed form of a uniformly magnetised
 * cylinder, finite elements (tests/reference/finite-element), and identities.
 */
import { describe, expect, it } from 'vitest';
import type { BuiltPickup } from '../../../../src/physics/magnetics/build/build.ts';
import { checkBuild } from '../../../../src/physics/magnetics/build/checkBuild.ts';
import { FieldSolver, fieldsOf } from '../../../../src/physics/field.ts';
import { fieldQuestion } from '../../../../src/physics/fieldQuestion.ts';
import { tipWidths } from '../../../../src/physics/magnetics/overPickup/fieldWidth.ts';
import { checkHeights } from '../../../../src/physics/magnetics/overPickup/stringLine.ts';
import { stringHeights } from '../../../../src/physics/magnetics/overPickup/stringHeights.ts';
import { assemble } from '../../../../src/physics/magnetics/charges/assemble.ts';
import { solveMagnets } from '../../../../src/physics/magnetics/charges/magnetSolve.ts';
import { buildBodies } from '../../../../src/physics/magnetics/pickup/buildBodies.ts';
import { solvePickup } from '../../../../src/physics/magnetics/pickup/solvePickup.ts';
import { predict } from '../../../../src/physics/predict.ts';
import { balance } from '../../../../src/physics/balance.ts';
import { balanceWish } from '../../../../src/sheet/balanceWish.ts';
import { checkSheet } from '../../../../src/sheet/check.ts';
import type { Pole, Sheet } from '../../../../src/sheet/sheet.ts';
import { changeSingle, withFitted, withOthers } from '../../../../src/sheet/singlePoles.ts';
import { MU0 } from '../../../../src/physics/numerics/constants.ts';
import { builtSheet } from '../../../fixtures/builtSheet.ts';
import { fluxDensityAt } from '../../../fixtures/fluxDensity.ts';
import { fluxDensity, materialOf, read } from '../reference.ts';

/** Six rods on the bench without a coil. */
const bench = ((): Sheet => {
  const sheet = builtSheet('six rods');
  return {
    ...sheet,
    pickups: sheet.pickups.map((pickup, i) =>
      i === 0
        ? { ...pickup, build: { ...pickup.build!, cover: null, basePlate: null, coils: 'off' } }
        : pickup,
    ),
  };
})();

function withPole(sheet: Sheet, change: (pole: Pole) => Pole): Sheet {
  const changed = {
    ...sheet,
    pickups: sheet.pickups.map((pickup, i) =>
      i === 0
        ? {
            ...pickup,
            build: {
              ...pickup.build!,
              rows: pickup.build!.rows.map((row) => ({ ...row, pole: change(row.pole) })),
            },
          }
        : pickup,
    ),
  };
  const read = checkSheet(changed);
  if (!read.ok) throw new Error(read.message);
  return read.sheet;
}

const level = (pole: Pole): Pole => ({ ...pole, heights: pole.heights.map(() => 0) });
const ofGrade =
  (grade: Pole['magnet']['grade']) =>
  (pole: Pole): Pole => ({ ...level(pole), magnet: { grade, charge: 1 }, diameter: 4.85e-3, length: 17e-3 });
const builtOf = (sheet: Sheet): BuiltPickup => fieldQuestion(sheet, 0)!.build;
const K = 2;

/** Bz at a place in m. */
function upright(pickup: ReturnType<typeof solvePickup>, x: number, y: number, z: number): number {
  const B = { x: 0, y: 0, z: 0 };
  fluxDensityAt(pickup, x, y, z, B);
  return B.z;
}

const { pitch } = bench.pickups[0]!.build!;
const placeOf = (k: number): number => (2.5 - k) * pitch;

/** A grade whose magnetisation is whole down to −Hc: Br 1 T. */
const whole = {
  ...bench,
  magnets: {
    temperature: 20,
    own: { remanence: 1, coercivity: 1 / MU0 - 1, energyProduct: 0.25 / MU0 - 1, recoil: 1 },
  },
};

/** Of a uniformly magnetised cylinder on its axis, z over its top; T. */
const closedForm = (z: number, radius: number, length: number): number =>
  0.5 * ((z + length) / Math.hypot(z + length, radius) - z / Math.hypot(z, radius));

describe('a lone rod', () => {
  it('[exact] of whole magnetisation has the field of the closed form on its axis, within 0.2 %', () => {
    const alone = withPole(whole, (pole) => withOthers(ofGrade('own grade')(pole), K, false));
    const pickup = solvePickup(builtOf(alone));
    expect(pickup.built.bodies).toHaveLength(1);
    for (const z of [1e-3, 2e-3, 3e-3, 4e-3, 8e-3]) {
      const found = upright(pickup, builtOf(alone).rows[0]!.offset, placeOf(K), z);
      expect(Math.abs(found / closedForm(z, 2.425e-3, 17e-3) - 1), `${z} m`).toBeLessThan(2e-3);
    }
  });

  it.each(['alnico 5', 'alnico 2'] as const)(
    '[tool] of %s has what finite elements have over its tip, within 1 % of the peak',
    (grade) => {
      const { axis_z_mm, axis_Bz_T } =
        read<Record<string, { axis_z_mm: readonly number[]; axis_Bz_T: readonly number[] }>>('alnico-rod')[
          `A7_${grade.replace(' ', '')}`
        ]!;
      const alone = withPole(bench, (pole) => withOthers(ofGrade(grade)(pole), K, false));
      const { bodies, materials } = buildBodies(builtOf(alone));
      const coupling = assemble(bodies);
      // The reference's recoil permeability across is not the grade's.
      const solution = solveMagnets(
        coupling,
        materials.map((one) => (one.kind === 'magnet' ? { ...one, material: materialOf(grade) } : one)),
      );
      axis_z_mm.forEach((z, i) => {
        if (z < 1) return;
        const found = fluxDensity({ coupling, ...solution }, 0, 1e3 * placeOf(K), z)[2];
        expect(Math.abs(found - axis_Bz_T[i]!) / axis_Bz_T[1]!, `${z} mm`).toBeLessThan(0.01);
      });
    },
  );

  it('[exact] and the row without it add up to the row, where nothing answers the other', () => {
    const row = withPole(whole, ofGrade('own grade'));
    const all = solvePickup(builtOf(row));
    const alone = solvePickup(builtOf(withPole(row, (pole) => withOthers(pole, K, false))));
    const rest = solvePickup(builtOf(withPole(row, (pole) => withFitted(pole, K, false))));
    expect(rest.built.bodies).toHaveLength(5);
    for (const [x, y, z] of [
      [0, placeOf(K), 2e-3],
      [2e-3, placeOf(K - 1), 3e-3],
      [0, 0, 4e-3],
    ] as const) {
      const sum = upright(alone, x, y, z) + upright(rest, x, y, z);
      expect(Math.abs(sum / upright(all, x, y, z) - 1)).toBeLessThan(1e-3);
    }
  });

  it('[exact] is as strong under any string', () => {
    const found = [0, 3].map((k) =>
      upright(
        solvePickup(builtOf(withPole(bench, (pole) => withOthers(ofGrade('alnico 5')(pole), k, false)))),
        0,
        placeOf(k),
        3e-3,
      ),
    );
    expect(found[0]! / found[1]!).toBeCloseTo(1, 6);
  });

  it('is seen by its own string most, and the field is as wide as over a rod alone', () => {
    const alone = withPole(bench, (pole) => withOthers(ofGrade('alnico 5')(pole), K, false));
    const strings = predict(alone, fieldsOf(alone)).pickups[0]!.strings;
    const fields = strings.map(({ field }) => field!.fluxDensity);
    expect(fields.indexOf(Math.max(...fields))).toBe(K);
    expect(fields.every(Number.isFinite)).toBe(true);
    const pickup = solvePickup(builtOf(alone));
    // From every string's place the nearest pole is the one that stands.
    expect(tipWidths(pickup, placeOf(K), 0)).toEqual(tipWidths(pickup, placeOf(K + 2), 0));
  });
});

describe('what a pole that is left out leaves free', () => {
  it('a lone rod may be wider than the pitch, two with a place between them twice as wide', () => {
    const wide = (pole: Pole): Pole => ({ ...level(pole), diameter: 12e-3 });
    const faults = (change: (pole: Pole) => Pole) => checkBuild(builtOf(withPole(bench, change)));
    expect(faults(wide).map(({ path }) => path)).toContain('rows[0].pitch');
    expect(faults((pole) => withOthers(wide(pole), K, false))).toEqual([]);
    const every = (pole: Pole): Pole => [1, 3, 5].reduce((of, k) => withFitted(of, k, false), wide(pole));
    expect(faults(every)).toEqual([]);
  });

  it('single poles are measured to the next one that stands', () => {
    const row = changeSingle(bench.pickups[0]!.build!.rows[0]!, K, { diameter: 12e-3 });
    const wide = (pole: Pole): Pole => ({ ...level(pole), own: row.pole.own!, diameter: 10e-3 });
    const faults = (change: (pole: Pole) => Pole) =>
      checkBuild(builtOf(withPole(bench, change))).map(({ path }) => path);
    expect(faults(wide)).toContain(`rows[0].own[${K}].diameter`);
    expect(faults((pole) => withFitted(withFitted(wide(pole), 1, false), 3, false))).toEqual([]);
  });

  it('a string may lie lower where its pole is left out', () => {
    const high = (pole: Pole): Pole => ({
      ...pole,
      heights: pole.heights.map((_, k) => (k === K ? 4e-3 : 0)),
    });
    const faultsOf = (change: (pole: Pole) => Pole) => {
      const { build, strings: crossing } = fieldQuestion(withPole(bench, change), 0)!;
      const strings = crossing.map((string) => ({
        ...string,
        length: 1,
        tension: 1,
        frequency: 1,
        place: 0.5,
      }));
      return checkHeights(build, strings, stringHeights(build, strings)).map(({ path }) => path);
    };
    expect(faultsOf(high)).toEqual([`rows[0].heights[${K}]`]);
    expect(faultsOf((pole) => withFitted(high(pole), K, false))).toEqual([]);
  });

  it('heights cannot balance the strings of a row that lacks a pole', () => {
    const lacking = (pole: Pole): Pole => withFitted(pole, K, false);
    const wound = withPole(builtSheet('six rods'), lacking);
    const wish = balanceWish({ pickup: 0, by: 'poles', of: 'strum', slope: 0, cents: 4, than: -1 });
    expect(() => balance(wound, wish, new FieldSolver())).toThrow(/^A pole must stand under every string/);
  });
});
