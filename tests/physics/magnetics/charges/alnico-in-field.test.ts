/**
 * An alnico rod on its curve in the field of something else, against finite elements:
 *
 *   one rod in a uniform field, or on a steel disc    1.5 % from 0.5 mm up (finite elements, tests/reference/alnico-in-field)
 *   on a square plate of the disc's area              2 % of the same
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { assemble } from '../../../../src/physics/magnetics/charges/assemble.ts';
import { solveMagnets } from '../../../../src/physics/magnetics/charges/magnetSolve.ts';
import { rodOnCurve } from '../../../../src/physics/magnetics/charges/rodZones.ts';
import { magnetZones } from '../../../../src/physics/magnetics/materials/zoneLaw.ts';
import { boxBodies } from '../../../../src/physics/magnetics/pickup/boxBodies.ts';
import { fluxDensity, materialOf, meshOf, pole, rod } from '../reference.ts';

interface InField {
  readonly grade: 'alnico 5' | 'alnico 2';
  readonly charge: number;
  readonly applied_A_per_m: number;
  readonly steel_disc: boolean;
  readonly mean_B_T: number;
  readonly axis_z_mm: readonly number[];
  readonly axis_Bz_T: readonly number[];
}

const { cases: inField } = JSON.parse(
  readFileSync(new URL('../../../reference/alnico-in-field/alnico-in-field.json', import.meta.url), 'utf8'),
) as { cases: Record<string, InField> };

describe('a rod in the field of something else, against finite elements [tool]', () => {
  it.each(Object.entries(inField).filter(([, { steel_disc }]) => !steel_disc))(
    '%s: 1.5 % from 0.5 mm up',
    (_, { grade, charge, applied_A_per_m, mean_B_T, axis_z_mm, axis_Bz_T }) => {
      const mesh = rod();
      const coupling = assemble([pole(mesh)]);
      const applied = mesh.normalZ.map((nz) => nz * applied_A_per_m);
      const { charges, meanB } = rodOnCurve(mesh, magnetZones(materialOf(grade), charge), applied);
      const density = new Float64Array(3 * mesh.n);
      density.set(charges);
      axis_z_mm.forEach((z, i) => {
        const [, , bz] = fluxDensity({ coupling, density }, 0, 0, z);
        expect(Math.abs(bz / axis_Bz_T[i]! - 1)).toBeLessThan(0.015);
      });
      expect(Math.abs(meanB / mean_B_T - 1)).toBeLessThan(0.015);
    },
  );

  it.each(Object.entries(inField).filter(([, { steel_disc }]) => steel_disc))(
    '%s: 1.5 % from 0.5 mm up',
    (_, { grade, charge, mean_B_T, axis_z_mm, axis_Bz_T }) => {
      // The rod's edge stands on the disc: its panels need a node there, as at any edge of charge.
      const disc = meshOf([
        [0, -20],
        [6, -20],
        [6, -17],
        [2.425, -17],
        [0, -17],
      ]);
      const coupling = assemble([pole(rod()), pole(disc)]);
      const { density, working } = solveMagnets(coupling, [
        { kind: 'magnet', material: materialOf(grade), strength: charge, axis: 'z', sign: 1 },
        { kind: 'linear', law: { mu: 200, remanence: 0 }, axis: 'z', sign: 1 },
      ]);
      axis_z_mm.forEach((z, i) => {
        const [, , bz] = fluxDensity({ coupling, density }, 0, 0, z);
        expect(Math.abs(bz / axis_Bz_T[i]! - 1)).toBeLessThan(0.015);
      });
      expect(Math.abs(working[0]!.B / mean_B_T - 1)).toBeLessThan(0.015);
    },
  );

  it.each(Object.entries(inField).filter(([, { steel_disc }]) => steel_disc))(
    '%s, a square plate of the same area and thickness in its place: 2 % from 0.5 mm up',
    (_, { grade, charge, axis_z_mm, axis_Bz_T }) => {
      const side = Math.sqrt(Math.PI) * 6e-3;
      const foot = { x: 0, y: 0, bottom: -0.017, top: 0, radius: 0.5 * 4.85e-3 };
      const plate = { size: { x: side, y: side, z: 3e-3 }, centre: { x: 0, y: 0, z: -18.5e-3 }, joins: true };
      const coupling = assemble([pole(rod()), ...boxBodies([plate], [foot])]);
      const { density } = solveMagnets(coupling, [
        { kind: 'magnet', material: materialOf(grade), strength: charge, axis: 'z', sign: 1 },
        { kind: 'linear', law: { mu: 200, remanence: 0 }, axis: 'z', sign: 1 },
      ]);
      axis_z_mm.forEach((z, i) => {
        const [, , bz] = fluxDensity({ coupling, density }, 0, 0, z);
        expect(Math.abs(bz / axis_Bz_T[i]! - 1)).toBeLessThan(0.02);
      });
    },
  );
});
