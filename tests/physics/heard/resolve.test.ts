import { describe, expect, it } from 'vitest';
import { resolve } from '../../../src/physics/heard/resolve.ts';
import { builtSheet } from '../../fixtures/builtSheet.ts';
import { exampleSheet } from '../../fixtures/sheet.ts';

const NONE = [null, null, null];

describe('a sheet without fields', () => {
  it('[exact] goes through unchanged when all figures are given', () => {
    expect(resolve(exampleSheet(), NONE)).toStrictEqual(exampleSheet());
  });

  it('is named where a reach is left to a build that was not computed', () => {
    const sheet = builtSheet('slugs and screws beside an alnico bar');
    expect(() => resolve(sheet, NONE)).toThrow(
      'A reach left to the build must have its field computed; got none for pickup 1.',
    );
  });

  it('is named where coil figures are left open', () => {
    const sheet = builtSheet('slugs and screws beside an alnico bar');
    const pickups = sheet.pickups.map((pickup) => ({ ...pickup, reachBy: 'hand' as const }));
    expect(() => resolve({ ...sheet, pickups }, NONE)).toThrow(
      'Coil figures must be given, all of them; got none for resistance, inductance, capacitance of pickup 1, row 1.',
    );
  });
});
