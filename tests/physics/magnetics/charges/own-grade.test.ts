/** The maker's own grade by the figures of a data sheet, and grades at a temperature. */
import { describe, expect, it } from 'vitest';
import { fieldQuestion } from '../../../../src/physics/fieldQuestion.ts';
import type { RodPole } from '../../../../src/physics/magnetics/build/build.ts';
import {
  gradeAt,
  magnetOf,
  MAGNETS,
  ownMaterial,
} from '../../../../src/physics/magnetics/materials/materials.ts';
import { solvePickup } from '../../../../src/physics/magnetics/pickup/solvePickup.ts';
import { MU0 } from '../../../../src/physics/numerics/constants.ts';
import { MAGNET_GRADES } from '../../../../src/shape/materials.ts';
import { energyLimits, mostCoercivity } from '../../../../src/shape/ownGrade.ts';
import { swapGrade } from '../../../../src/sheet/mods.ts';
import { builtSheet } from '../../../fixtures/builtSheet.ts';
import { fluxDensityAt } from '../../../fixtures/fluxDensity.ts';
import { sixRods } from '../../../fixtures/pickups.ts';
import { cylinderFluxDensity } from '../cylinder.ts';

const B = { x: 0, y: 0, z: 0 };

describe('the law of a grade by Br, Hc and (BH)max', () => {
  it.each(MAGNET_GRADES)('%s: its figures are allowed, and lead to its law', (name) => {
    const { recoil, ...grade } = MAGNETS[name];
    const [low, high] = energyLimits(grade);
    expect(grade.coercivity).toBeLessThanOrEqual(mostCoercivity(grade.remanence));
    expect(grade.energyProduct).toBeGreaterThan(low);
    expect(grade.energyProduct).toBeLessThan(high);
    const own = ownMaterial({ ...grade, recoil: null });
    expect(own.law).toBe(grade.law);
    expect(Math.abs(own.recoil / recoil - 1)).toBeLessThan(grade.law === 'straight' ? 0.14 : 0.4);
    expect(ownMaterial({ ...grade, recoil })).toMatchObject({ recoil, law: grade.law });
  });

  // Of recoil permeability 1 a magnet is magnetised alike throughout, whatever stands beside it: closed forms add up.
  it('[exact] six rods of recoil permeability 1, one turned over, one shorter: cylinders in closed form, 0.5 % of the peak', () => {
    const remanence = 1.2;
    const hard = {
      remanence,
      coercivity: remanence / MU0,
      energyProduct: remanence ** 2 / (4 * MU0),
      recoil: 1,
    };
    const build = sixRods('neodymium');
    const [first] = build.rows;
    const pole: RodPole = { ...(first!.pole as RodPole), grade: ownMaterial(hard) };
    const own = [{ ...pole, length: 12e-3 }, null, { ...pole, facing: 'south' as const }, null, null, null];
    const pickup = solvePickup({ ...build, rows: [{ ...first!, pole, own }] });
    const out = { radial: 0, axial: 0 };
    for (const z of [1e-3, 2e-3, 4e-3]) {
      const peak = magnitude(remanence, pole, z);
      for (const y of [-26e-3, -5.2e-3, 0, 5.2e-3, 15.6e-3, 26e-3]) {
        let sum = 0;
        for (let k = 0; k < 6; k++) {
          const { length, facing, diameter } = own[k] ?? pole;
          const away = Math.abs(y - (2.5 - k) * first!.pitch);
          cylinderFluxDensity(remanence, 0.5 * diameter, length, away, z + 0.5 * length, out);
          sum += facing === 'north' ? out.axial : -out.axial;
        }
        fluxDensityAt(pickup, 0, y, z, B);
        expect(Math.abs(B.z - sum) / peak, `${y} ${z}`).toBeLessThan(0.005);
      }
    }
  });
});

function magnitude(remanence: number, { diameter, length }: RodPole, z: number): number {
  const out = { radial: 0, axial: 0 };
  cylinderFluxDensity(remanence, 0.5 * diameter, length, 0, z + 0.5 * length, out);
  return out.axial;
}

describe('grades at a temperature', () => {
  it.each([
    ['alnico 5', 0.992],
    ['samarium cobalt 1:5', 0.9828],
    ['samarium cobalt 2:17', 0.988],
    ['neodymium N52', 0.956],
    ['ceramic 8', 0.92],
  ] as const)(
    '%s at 60 °C has %d of its remanence [paper: MMPA0100; Caltech40m, from memory but for samarium cobalt]',
    (name, share) => {
      const warm = magnetOf(gradeAt(name, 60));
      expect(warm.remanence / MAGNETS[name].remanence).toBeCloseTo(share, 12);
      expect(warm).toMatchObject({ coercivity: MAGNETS[name].coercivity, recoil: MAGNETS[name].recoil });
    },
  );

  it('[exact] at 20 °C it is what it is without a temperature', () => {
    for (const name of MAGNET_GRADES) expect(gradeAt(name, 20)).toBe(name);
    const sheet = builtSheet('six rods');
    const { question } = { question: fieldQuestion(sheet, 0) };
    const told = { ...sheet, magnets: { temperature: 20, own: null } };
    expect(JSON.stringify(fieldQuestion(told, 0))).toBe(JSON.stringify(question));
  });

  it('the field over neodymium rods falls as their remanence', () => {
    const swapped = swapGrade(builtSheet('six rods'), 0, 'neodymium');
    if (!swapped.ok) throw new Error(swapped.message);
    const { sheet } = swapped;
    const at = (temperature: number): number => {
      const build = fieldQuestion({ ...sheet, magnets: { temperature, own: null } }, 0)!.build;
      const pickup = solvePickup(build);
      fluxDensityAt(pickup, 0, 5.2e-3, 2e-3, B);
      return B.z;
    };
    expect(at(60) / at(20)).toBeCloseTo(0.956, 4);
  });
});
