import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fieldQuestion } from '../../src/physics/fieldQuestion.ts';
import { placedPlates } from '../../src/physics/magnetics/build/coverShape.ts';
import { sheetPlace } from '../../src/sheet/coverPlace.ts';
import type { BasePlate, Cover } from '../../src/sheet/build.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';

const NAMES = ['six rods', 'slugs and screws beside an alnico bar', 'steel poles over a ceramic bar'];

describe('where a cover and a plate are drawn', () => {
  it('[exact] is where they are computed, to 1e-12 m', () => {
    const property = fc.property(
      fc.constantFrom(...NAMES),
      fc.boolean(),
      fc.double({ min: 0.0002, max: 0.001, noNaN: true }),
      fc.double({ min: 0.0003, max: 0.002, noNaN: true }),
      (name, covered, thickness, plateThickness) => {
        const cover: Cover = { metal: 'brass', thickness, clearance: 0.0004, holes: 'none' };
        const basePlate: BasePlate = { metal: 'brass', thickness: plateThickness };
        const sheet = builtSheet(name);
        const [first, ...others] = sheet.pickups;
        const build = { ...first!.build!, cover: covered ? cover : null, basePlate };
        const place = sheetPlace(
          build,
          first!.rows.map(({ offset }) => offset),
        );
        const question = fieldQuestion({ ...sheet, pickups: [{ ...first!, build }, ...others] }, 0)!;
        const sheets = placedPlates(question.build);
        const wall = covered ? thickness / 2 : 0;
        for (const { halfX, halfY } of sheets) {
          expect(place.halfX).toBeCloseTo(halfX + wall, 12);
          expect(place.halfY).toBeCloseTo(halfY + wall, 12);
        }
        const plate = sheets.at(-1)!;
        expect(place.plate - plateThickness / 2).toBeCloseTo(plate.top, 12);
        if (covered) {
          expect(place.rim).toBeCloseTo(sheets[0]!.bottom, 12);
          expect(cover.clearance + thickness / 2).toBeCloseTo(sheets[0]!.top, 12);
        }
      },
    );
    fc.assert(property, { seed: 41, numRuns: 40 });
  });
});
