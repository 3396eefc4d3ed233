import { describe, expect, it } from 'vitest';
import { givenSheet } from '../../src/physics/given.ts';
import { predict, render } from '../../src/physics/predict.ts';
import { builtSheet } from '../fixtures/builtSheet.ts';
import { exampleSheet } from '../fixtures/sheet.ts';

describe('coils whose figures are left to a build', () => {
  it('are named before anything is computed', () => {
    const sheet = builtSheet('slugs and screws beside an alnico bar');
    const message =
      'Coil figures must be given, all of them; got none for resistance, inductance, capacitance of pickup 1, row 1.';
    expect(() => predict(sheet)).toThrow(new RangeError(message));
    expect(() => render(sheet)).toThrow(new RangeError(message));
  });

  it('[exact] a sheet with all figures goes through unchanged', () => {
    expect(givenSheet(exampleSheet())).toStrictEqual(exampleSheet());
  });
});
