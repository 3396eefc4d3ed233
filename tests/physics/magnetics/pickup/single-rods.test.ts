/**
 * Rows in which single rods are unlike the others: turned over, of another grade, charge, length or diameter. Against cells, a model that
 * is not boundary elements (tests/reference/single-rods), and identities of the field.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { assemble } from '../../../../src/physics/magnetics/charges/assemble.ts';
import { solveMagnets } from '../../../../src/physics/magnetics/charges/magnetSolve.ts';
import { sheetPath } from '../../../../src/physics/fieldFaults.ts';
import type { BuiltPickup, RodPole } from '../../../../src/physics/magnetics/build/build.ts';
import { checkBuild } from '../../../../src/physics/magnetics/build/checkBuild.ts';
import { fieldOnStrings } from '../../../../src/physics/magnetics/overPickup/pickupField.ts';
import { buildBodies } from '../../../../src/physics/magnetics/pickup/buildBodies.ts';
import { solvePickup } from '../../../../src/physics/magnetics/pickup/solvePickup.ts';
import { STARTING_BUILDS } from '../../../../src/sheet/builds.ts';
import { fluxDensity, materialOf } from '../reference.ts';
import { fluxDensityAt } from '../../../fixtures/fluxDensity.ts';
import { sixRods, stringSet } from '../../../fixtures/pickups.ts';

interface Rod {
  readonly grade: 'alnico 5' | 'alnico 2';
  readonly charge: number;
  readonly up: 1 | -1;
  readonly diameter: number;
  readonly length: number;
}

const { cases } = JSON.parse(
  readFileSync(new URL('../../../reference/single-rods/singles.json', import.meta.url), 'utf8'),
) as {
  cases: Record<
    string,
    {
      readonly rods: readonly Rod[];
      readonly axis_z_mm: readonly number[];
      readonly axis_Bz_T: readonly (readonly number[])[];
    }
  >;
};

/** Six rods of a grade, some with this of their own. */
function row(
  grade: Parameters<typeof sixRods>[0],
  own: readonly (Partial<RodPole> | null)[],
  pitch = 10.2e-3,
): BuiltPickup {
  const build = sixRods(grade);
  const [first] = build.rows;
  const pole = first!.pole as RodPole;
  return {
    ...build,
    rows: [{ ...first!, pitch, own: own.map((change) => change && { ...pole, ...change }) }],
  };
}

const turnedAt = (...poles: readonly number[]): readonly (Partial<RodPole> | null)[] =>
  Array.from({ length: 6 }, (_, k) => (poles.includes(k) ? { facing: 'south' } : null));

const B = { x: 0, y: 0, z: 0 };
/** Upright flux density, T, at a place in mm. */
function at(pickup: ReturnType<typeof solvePickup>, x: number, y: number, z: number): number {
  fluxDensityAt(pickup, 1e-3 * x, 1e-3 * y, 1e-3 * z, B);
  return B.z;
}

describe('rows with single rods, against cells [tool]', () => {
  it.each(Object.entries(cases))('%s: 1.5 % of the row’s peak at 1–4 mm over every rod', (_, found) => {
    const own = found.rods.map(({ grade, charge, up, diameter, length }) => ({
      grade,
      strength: charge,
      facing: up > 0 ? ('north' as const) : ('south' as const),
      diameter: 1e-3 * diameter,
      length: 1e-3 * length,
    }));
    const { bodies, materials } = buildBodies(row('alnico 5', own));
    const coupling = assemble(bodies);
    // The cells' recoil permeabilities are not the grades'.
    const solution = solveMagnets(
      coupling,
      materials.map((one, k) =>
        one.kind === 'magnet' ? { ...one, material: materialOf(found.rods[k]!.grade) } : one,
      ),
    );
    found.axis_z_mm.forEach((z, i) => {
      const peak = Math.max(...found.axis_Bz_T.map((values) => Math.abs(values[i]!)));
      found.axis_Bz_T.forEach((values, k) => {
        const field = fluxDensity({ coupling, ...solution }, 0, (2.5 - k) * 10.2, z)[2];
        const off = field - values[i]!;
        expect(Math.abs(off) / peak, `pole ${k + 1}, ${z} mm`).toBeLessThan(0.015);
      });
    });
  });
});

describe('identities [exact]', () => {
  const places = [
    [0, 25.5, 2],
    [0, 5.1, 1],
    [3, 12, 2.5],
    [-2, -20, 3],
  ] as const;

  it('linear rods add up: what six rows with one turned over each make together is four times the row', () => {
    const whole = solvePickup(row('neodymium', []));
    const each = [0, 1, 2, 3, 4, 5].map((k) => solvePickup(row('neodymium', turnedAt(k))));
    for (const [x, y, z] of places) {
      const sum = each.reduce((total, pickup) => total + at(pickup, x, y, z), 0);
      // To the solver's residual.
      expect(Math.abs(sum / (4 * at(whole, x, y, z)) - 1)).toBeLessThan(1e-5);
    }
  });

  it('the mirror image of a row has the mirror image of its field: alnico, one rod turned over and shorter', () => {
    const single: Partial<RodPole> = { facing: 'south', length: 14e-3 };
    const [left, right] = [1, 4].map((k) =>
      solvePickup(
        row(
          'alnico 5',
          Array.from({ length: 6 }, (_, i) => (i === k ? single : null)),
        ),
      ),
    );
    for (const [x, y, z] of places)
      expect(Math.abs(at(left!, x, y, z) - at(right!, x, -y, z))).toBeLessThan(1e-5);
  });

  it('a row all of whose rods are turned over one by one is the row turned over', () => {
    const turned = solvePickup(row('alnico 2', turnedAt(0, 1, 2, 3, 4, 5)));
    const whole = solvePickup(row('alnico 2', []));
    for (const [x, y, z] of places) expect(at(turned, x, y, z)).toBeCloseTo(-at(whole, x, y, z), 7);
  });

  it('a coil hears a string over the rod that is turned over in the other sense, the others as before', () => {
    const heard = (build: BuiltPickup): readonly number[] =>
      fieldOnStrings(solvePickup(build), stringSet()).strings.map(({ rows }) => rows[0]!.sensitivity);
    const before = heard(row('alnico 5', []));
    const after = heard(row('alnico 5', turnedAt(2)));
    after.forEach((value, i) => {
      const ratio = value / before[i]!;
      expect(Math.sign(ratio)).toBe(i === 2 ? -1 : 1);
      expect(Math.abs(ratio)).toBeGreaterThan(0.8);
      expect(Math.abs(ratio)).toBeLessThan(1.4);
    });
  });
});

describe('what single rods must leave each other is said at their own figures', () => {
  const { build } = STARTING_BUILDS[0]!;
  const wide = (k: number, diameter: number): BuiltPickup =>
    row(
      'alnico 5',
      Array.from({ length: 6 }, (_, i) => (i === k ? { diameter } : null)),
      9e-3,
    );

  it('one that runs through the bobbin', () => {
    const [fault, ...more] = checkBuild(wide(3, 7e-3));
    expect(more).toEqual([]);
    expect(fault).toEqual({
      path: 'rows[0].own[3].diameter',
      message:
        'A pole must stand within its coil; pole 4, 7 mm wide, runs through the bobbin, whose inner radius is 3.2 mm. Make it thinner, or the coil wider.',
    });
  });

  it('one that overlaps its neighbours, once a pair', () => {
    const found = checkBuild(wide(0, 13.5e-3)).filter(({ message }) => message.startsWith('Neighbouring'));
    expect(found).toEqual([
      {
        path: 'rows[0].own[0].diameter',
        message:
          'Neighbouring poles must leave each other room; poles 1 and 2 of row 1, 13.5 mm and 4.85 mm wide, overlap at a pitch of 9 mm. Make this one thinner.',
      },
    ]);
  });

  it('on the sheet at what the pole has of its own, else at the row', () => {
    const own = [null, null, null, { grade: null, charge: null, diameter: 0.007, length: null, up: null }];
    const single = {
      ...build,
      rows: build.rows.map((one) => ({ ...one, pole: { ...one.pole, own } })),
    };
    const root = ['pickups', 1, 'build', 'rows', 0, 'pole'];
    expect(sheetPath('rows[0].own[3].diameter', 1, single)).toEqual([...root, 'own', 3, 'diameter']);
    expect(sheetPath('rows[0].own[3].tip.width', 1, single)).toEqual([...root, 'own', 3, 'diameter']);
    expect(sheetPath('rows[0].own[3].length', 1, single)).toEqual([...root, 'own', 3, 'diameter']);
    expect(sheetPath('rows[0].own[3].strength', 1, single)).toEqual([...root, 'magnet', 'charge']);
  });
});
